using System.Collections.Immutable;

namespace Nest.Solve.Bars;

/// <summary>A pure one-dimensional cutting problem in whole units of length and cost (the job's lengths divided by their
/// common divisor; no tolerances).</summary>
/// <remarks>
/// minimise Σ_p cost(p)·x_p over layouts p, subject to Σ a_ip x_p ≥ d_i, Σ_{p on s} x_p ≤ limit_s, x whole and ≥ 0.
/// A layout on stock s: pieces a_i with Σ a_i·length_i + kerf·(n−1) ≤ Length_s, n ≤ MostPieces_s, and the holding rule below;
/// leftover = Length_s − Σ a_i·length_i − n·kerf, taken as 0 when negative;
/// cost(p) = Cost_s + Σ a_i·PieceCost[s,i] − Leftover_s.Of(leftover).
/// Holding rule (only where ShortestHeld_s > 0): the last cut needs something in the clamp, so either a piece of the layout or the
/// leftover is at least ShortestHeld_s long. An empty layout is not a layout.
/// </remarks>
public sealed record BarProblem
{
    /// <summary>Kinds of bar; at least one.</summary>
    public required ImmutableArray<BarStock> Stocks { get; init; }

    /// <summary>Kinds of piece, demand at least 1 each. Two kinds may have the same length.</summary>
    public required ImmutableArray<BarItem> Items { get; init; }

    /// <summary>Width of one cut.</summary>
    public long Kerf { get; init; }

    /// <summary>Extra cost of one piece i when it comes from stock s ([s, i]); <see cref="Forbidden"/> where it must not;
    /// null: zero everywhere. Never negative.</summary>
    public long[,]? PieceCost { get; init; }

    /// <summary>A plan counts as proven when no other is cheaper by this much: 1 is exact; where a cost unit is less than anybody pays,
    /// a larger number saves the search for plans that nobody would tell apart. The bound itself stays true.</summary>
    public long Enough { get; init; } = 1;

    /// <summary>Marks a pair of stock and item that must not meet.</summary>
    public const long Forbidden = long.MaxValue;
}

/// <summary>One kind of bar.</summary>
/// <param name="Length">Usable length between the end trims.</param>
/// <param name="Cost">Cost of one bar, at least 0 (a leftover may cost nothing).</param>
/// <param name="Limit">How many there are; null: as many as wanted.</param>
public sealed record BarStock(long Length, long Cost, int? Limit = null)
{
    /// <summary>Shortest length the saw can hold (the clamp's dead end); 0: no such rule.</summary>
    public long ShortestHeld { get; init; }

    /// <summary>Most pieces per bar; null: no limit.</summary>
    public int? MostPieces { get; init; }

    /// <summary>What the unused end is worth.</summary>
    public LeftoverValue Leftover { get; init; } = LeftoverValue.None;
}

/// <summary>One kind of piece: its length and how many are wanted.</summary>
public sealed record BarItem(long Length, int Demand);
