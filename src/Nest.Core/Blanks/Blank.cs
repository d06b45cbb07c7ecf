using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>How the blank of a part comes out of one stock.</summary>
/// <param name="StockId">The stock.</param>
/// <param name="SizeX">Along the stock's length: on plate the blank's length (not turned), on bars the length to saw.</param>
/// <param name="SizeY">On plate the blank's width; on bars the section's smallest width.</param>
/// <param name="MayTurn">Whether it may also lie turned by a quarter (plates only).</param>
/// <param name="Turned">On bars: the part's width lies along the bar. On plates always false.</param>
/// <param name="FacedAway">Thickness of the stock (nominal) above what the blank needs: faced away.</param>
/// <param name="ExtraCost">Cost of milling away, per piece, all that the stock is thicker or wider than the blank needs.</param>
public sealed record BlankFit(
    string StockId, Length SizeX, Length SizeY, bool MayTurn, bool Turned, Length FacedAway, Money ExtraCost)
{
    /// <summary>Angled cuts that the saw makes at the blank's ends, within <see cref="SizeX"/>; null: none.</summary>
    public EndAngles? Ends { get; init; }

    /// <summary>Cost of those cuts, per piece.</summary>
    public Money AngledCuts { get; init; }
}

/// <summary>What the saw delivers for one part: the part plus its allowances, and every stock that can serve it.</summary>
public sealed record Blank
{
    public required Part Part { get; init; }

    public required Allowances Allowances { get; init; }

    /// <summary>Sawn from plate: length, width and the thickness the plate must have at least.</summary>
    public required Length Length { get; init; }

    public required Length Width { get; init; }

    public required Length Thickness { get; init; }

    /// <summary>Pieces to cut, spares included.</summary>
    public required int Demand { get; init; }

    /// <summary>Every stock that can serve, in the job's order.</summary>
    public required ImmutableArray<BlankFit> Fits { get; init; }

    /// <summary>When nothing fits: why, per form that was tried.</summary>
    public string Reason { get; init; } = "";
}
