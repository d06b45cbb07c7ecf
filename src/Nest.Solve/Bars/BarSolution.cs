using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Bars;

/// <summary>How one bar is divided, and how many bars are divided so.</summary>
/// <param name="Stock">Index of the bar in the problem.</param>
/// <param name="Counts">Pieces of each kind (length: number of items).</param>
/// <param name="Count">How many bars are cut alike.</param>
public sealed record BarLayout(int Stock, ImmutableArray<int> Counts, int Count);

/// <summary>An answer: layouts, their exact cost, and a lower bound valid for the whole problem.</summary>
public sealed record BarSolution
{
    public required SolveStatus Status { get; init; }

    /// <summary>Layouts in a fixed order; may cover more than the demand (the caller takes the surplus out).</summary>
    public required ImmutableArray<BarLayout> Layouts { get; init; }

    /// <summary>Exact cost of the layouts; 0 when there are none.</summary>
    public required long Cost { get; init; }

    /// <summary>No plan costs less (exact or rounded the safe way); Proven: within <see cref="BarProblem.Enough"/> of the cost. As found:
    /// above the cost it is wrong.</summary>
    public required long Bound { get; init; }

    /// <summary>Name of the method that found the bound.</summary>
    public string BoundSource { get; init; } = Methods.BarSize;

    /// <summary>Seconds until this plan was found, and until the bound met it (NaN: it did not).</summary>
    public double SecondsToBest { get; init; } = double.NaN;

    /// <inheritdoc cref="SecondsToBest"/>
    public double SecondsToProof { get; init; } = double.NaN;
}
