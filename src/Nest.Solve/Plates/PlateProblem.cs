using System.Collections.Immutable;

namespace Nest.Solve.Plates;

/// <summary>A pure two-dimensional cutting problem in whole units of length and cost.</summary>
/// <remarks>
/// Origin at the plate's lower left corner, X along the plate's length (rolling direction), Y across.
/// minimise Σ_p cost(p)·x_p over layouts p, subject to Σ a_ip x_p ≥ d_i, Σ_{p on s} x_p ≤ limit_s, x whole and ≥ 0,
/// cost(p) = Cost_s + Σ a_i·PieceCost[s,i] (all else that a job's cost has is folded into these two by the caller).
/// Through-cuts: the plate is divided recursively by cuts from edge to edge, each as wide as the kerf. Between two neighbours lies
/// exactly one kerf; a rest behind the last cut that is narrower than a kerf is dust (adding one kerf to every blank and to the
/// plate is exact). Free: any two pieces are at least a kerf (here: the gap) apart in X or in Y.
/// </remarks>
public sealed record PlateProblem
{
    /// <summary>Kinds of plate; at least one.</summary>
    public required ImmutableArray<PlateStock> Stocks { get; init; }

    /// <summary>Kinds of piece, demand at least 1 each.</summary>
    public required ImmutableArray<PlateItem> Items { get; init; }

    /// <summary>How the plate is divided.</summary>
    public required PlateCutting Cutting { get; init; }

    /// <summary>Width of one cut, or the gap of a free layout.</summary>
    public long Kerf { get; init; }

    /// <summary>Extra cost of one piece i when it comes from stock s ([s, i]); <see cref="Forbidden"/> where it must not;
    /// null: zero everywhere. Never negative.</summary>
    public long[,]? PieceCost { get; init; }

    /// <summary>Marks a pair of stock and item that must not meet.</summary>
    public const long Forbidden = long.MaxValue;
}

/// <summary>One kind of plate.</summary>
/// <param name="SizeX">Usable length after trims or border.</param>
/// <param name="SizeY">Usable width after trims or border.</param>
/// <param name="Cost">Cost of one plate, at least 0.</param>
/// <param name="Limit">How many there are; null: as many as wanted.</param>
public sealed record PlateStock(long SizeX, long SizeY, long Cost, int? Limit = null)
{
    /// <summary>Damaged areas that no piece may touch. In a free layout the kerf is kept to them as well; under through-cuts a
    /// cut may run through them, they may only end up in offcuts and scrap.</summary>
    public ImmutableArray<PlateRect> KeepOuts { get; init; } = [];

    /// <summary>Smallest rectangle worth keeping (either way round): longer and shorter side; 0, 0: leftovers don't matter.</summary>
    public long KeepLong { get; init; }

    /// <inheritdoc cref="KeepLong"/>
    public long KeepShort { get; init; }
}

/// <summary>One kind of piece.</summary>
/// <param name="SizeX">Size along the plate's length.</param>
/// <param name="SizeY">Size across.</param>
/// <param name="Demand">How many are wanted.</param>
/// <param name="MayTurn">Whether it may lie turned by a quarter.</param>
public sealed record PlateItem(long SizeX, long SizeY, int Demand, bool MayTurn);

/// <summary>An axis-parallel rectangle in a plate's own coordinates.</summary>
public readonly record struct PlateRect(long X, long Y, long SizeX, long SizeY);
