using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Batch;

/// <summary>What a batch of so many sets costs.</summary>
/// <param name="Sets">Sets asked for.</param>
/// <param name="PlannedFor">Sets that the plan cuts: more than asked where a larger batch costs no more in total.</param>
/// <param name="Plan">Of <paramref name="PlannedFor"/> sets.</param>
/// <param name="LowerBound">No way to have this many sets, or more up to the end of the range, costs less.</param>
/// <param name="Step">Something more is bought than for one set less.</param>
/// <param name="Best">No smaller batch of the range is cheaper per set, and the next one is dearer per set.</param>
public sealed record BatchPoint(int Sets, int PlannedFor, Plan Plan, Money LowerBound, bool Step, bool Best)
{
    public Money Cost => Plan.TotalCost;

    /// <summary>Cost for each set asked for.</summary>
    public decimal CostPerSet => Cost.Amount / Sets;

    public bool Complete => Plan.Unplaced.IsEmpty;

    public decimal Gap => Plan.GapOf(Cost, LowerBound);
}
