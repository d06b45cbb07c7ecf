using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Plans;

/// <summary>One placed blank.</summary>
/// <param name="PartId">The part it is for.</param>
/// <param name="Area">Where it lies; on a bar SizeY is the section's width.</param>
/// <param name="Turned">Whether the part's length lies across the stock's length.</param>
public readonly record struct PlacedPiece(string PartId, Rect Area, bool Turned)
{
    /// <summary>Angled cuts that the saw makes at its ends, within <see cref="Area"/>: the part lies behind the kerf of the cut at its
    /// start; null: none.</summary>
    public EndAngles? Ends { get; init; }

    /// <summary>A free spare (<see cref="Part.FreeSpares"/>), cut from what would be scrap; nothing depends on it.</summary>
    public bool Spare { get; init; }
}

/// <summary>A rectangle (or bar length) left after cutting.</summary>
/// <param name="Keep">Worth keeping: becomes a remnant on the rack; else scrap.</param>
/// <param name="Value">Credit for keeping it; zero for scrap (scrap is credited by mass for the whole layout).</param>
public readonly record struct Offcut(Rect Area, bool Keep, Money Value);

/// <summary>What one stock piece cut by this layout costs, line by line.</summary>
/// <param name="Metal">Price of the stock piece.</param>
/// <param name="Saw">Time at the saw and charges per cut.</param>
/// <param name="Facing">Milling away what the stock is thicker or wider than its blanks need.</param>
/// <param name="OffcutCredit">Value of the kept offcuts, positive.</param>
/// <param name="ScrapCredit">Scrap value of the solid rest, positive.</param>
public readonly record struct LayoutCost(Money Metal, Money Saw, Money Facing, Money OffcutCredit, Money ScrapCredit)
{
    public Money Total => Metal + Saw + Facing - OffcutCredit - ScrapCredit;
}

/// <summary>How one stock piece is divided, and how many pieces are cut alike.</summary>
/// <remarks>All coordinates are those of the stock piece at its smallest usable size, trims included: a left trim of 10 mm puts the
/// first blank at X = 10 mm.</remarks>
public sealed record Layout
{
    /// <summary>Number of the layout in the plan, from 1; printed on pictures and sheets.</summary>
    public required int Number { get; init; }

    public required string StockId { get; init; }

    /// <summary>The saw or cutter that divides it.</summary>
    public required string SawId { get; init; }

    /// <summary>Stock pieces cut alike.</summary>
    public required int Count { get; init; }

    /// <summary>Smallest usable size of the stock piece: X, Y = 0; SizeX its length, SizeY its width (bar: section width).</summary>
    public required Rect Sheet { get; init; }

    /// <summary>Cut away (or kept free, on a cutter) at the edges.</summary>
    public required EdgeTrims Trims { get; init; }

    public required ImmutableArray<PlacedPiece> Pieces { get; init; }

    /// <summary>The through-cuts inside the trims; null on a cutter.</summary>
    public CutNode? Tree { get; init; }

    public required ImmutableArray<Offcut> Offcuts { get; init; }

    /// <summary>Cost of one stock piece cut so.</summary>
    public required LayoutCost Cost { get; init; }

    /// <summary>It stays as an earlier plan has it: cost and bound of the plan hold for plans with just this layout.</summary>
    public bool Kept { get; init; }

    /// <summary>What remains inside the trims.</summary>
    public Rect Usable => new(
        Trims.Left, Trims.Bottom, Sheet.SizeX - Trims.Left - Trims.Right, Sheet.SizeY - Trims.Bottom - Trims.Top);

    /// <summary>Corner that the person at the machine measures from: the corner of the trimmed stock on a saw; on a cutter, which cuts
    /// no trim, the stock's own corner.</summary>
    public (Length X, Length Y) MeasuredFrom => Tree is null ? (Length.Zero, Length.Zero) : (Trims.Left, Trims.Bottom);
}
