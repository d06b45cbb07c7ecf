using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Rack.Pieces;

namespace Nest.Rack.Values;

/// <summary>A box that some part needs at least, whichever way it lies: sides from largest to smallest.</summary>
public readonly record struct NeededBox(string MaterialId, long Side1, long Side2, long Side3)
{
    internal bool IsCoveredBy(NeededBox other) => other.Side1 <= Side1 && other.Side2 <= Side2 && other.Side3 <= Side3;
}

/// <summary>Which pieces a plan may think of.</summary>
/// <remarks>
/// Early ruling out: a piece can only serve a part when the part's finished box fits the piece's nominal box with sides along sides,
/// that is when each of its three sides, sorted, is at least as large as the part's (also true of round bar and turned parts). Nominal
/// and not smallest, since surfaces that stay as the mill made them are accepted with the mill's tolerance. Of the boxes of one material only those matter that cover no other, since a piece that holds a larger box holds the smaller one too. Both are
/// necessary conditions: nothing that a plan could use is ruled out. The rack answers them from one index (state, material, smallest
/// side, middle side, largest side, all nominal). <see cref="MostPieces"/> is the only thing that may leave out a usable piece; it is reported.
/// </remarks>
public sealed record StockRequest
{
    public required ImmutableArray<NeededBox> Boxes { get; init; }

    /// <summary>Also the pieces that this plan has reserved: for planning its rest anew.</summary>
    public long? AlsoReservedFor { get; init; }

    /// <summary>The job that asks; null: none does, and nothing is planned as paid for.</summary>
    internal Job? Job { get; init; }

    /// <summary>Materials of parts that must not be turned: of these only pieces whose rolling direction is known.</summary>
    public ImmutableArray<string> KnownRolling { get; init; } = [];

    /// <summary>Place, or how it begins; null: everywhere.</summary>
    public string? Place { get; init; }

    /// <summary>Most pieces per material that are given to the solver: those of the least value that fit, oldest first at equal value;
    /// null: all. Every piece is a stock type of its own, and the solver's time grows with their number.</summary>
    public int? MostPieces { get; init; } = 400;

    /// <summary>What the parts of this job need.</summary>
    public static StockRequest For(Job job)
    {
        var boxes = job.Parts
            .Where(part => job.DemandOf(part) > 0)
            .Select(part =>
            {
                var (side1, side2, side3) = PieceRows.Sides(part.Length, part.Width, part.Thickness);
                return new NeededBox(part.MaterialId, side1, side2, side3);
            });
        return new()
        {
            Job = job,
            Boxes = Smallest(boxes),
            KnownRolling = [.. job.Parts.Where(part => !part.MayTurn).Select(part => part.MaterialId).Distinct(StringComparer.OrdinalIgnoreCase)],
        };
    }

    /// <summary>All pieces of these materials that hold a box of this size.</summary>
    public static StockRequest For(IEnumerable<string> materials, Length side1, Length side2, Length side3)
    {
        var (a, b, c) = PieceRows.Sides(side1, side2, side3);
        return new() { Boxes = [.. materials.Select(material => new NeededBox(material, a, b, c))] };
    }

    private static ImmutableArray<NeededBox> Smallest(IEnumerable<NeededBox> boxes)
    {
        var all = boxes.Select(box => box with { MaterialId = box.MaterialId.ToUpperInvariant() }).Distinct().ToList();
        return [.. all.Where(box => !all.Any(other => other != box && other.MaterialId == box.MaterialId && box.IsCoveredBy(other)))];
    }
}

/// <summary>The pieces that a plan may use, as stock of its job.</summary>
/// <param name="Fitting">Pieces that could serve; more than <see cref="Stocks"/> when the request limits their number.</param>
/// <param name="OnRack">Pieces on the rack altogether.</param>
public sealed record StockAnswer(ImmutableArray<Stock> Stocks, int Fitting, int OnRack);
