using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Batch;

/// <summary>What a batch of so many sets costs.</summary>
/// <param name="Sets">Sets asked for.</param>
/// <param name="PlannedFor">Sets that the plan cuts: more than asked where a larger batch costs no more in total.</param>
/// <param name="Plan">Of <paramref name="PlannedFor"/> sets.</param>
/// <param name="Bound">No way to have this many sets, or more up to the end of the range, costs less.</param>
/// <param name="Step">Something more is bought than for one set less.</param>
/// <param name="Best">Everything is cut, every smaller number of the range that is cut entirely is dearer per set, and the next one is too
/// (or is none that can be cut entirely).</param>
public sealed record BatchPoint(int Sets, int PlannedFor, Plan Plan, Bound Bound, bool Step, bool Best)
{
    public Money Cost => Plan.TotalCost;

    /// <summary>Cost for each set asked for; null where pieces are left out: what they would cost is not in it.</summary>
    public decimal? CostPerSet => Complete ? Cost.Amount / Sets : null;

    public bool Complete => Plan.Unplaced.IsEmpty;

    public decimal? Gap => Plan.GapOf(Cost, Bound);
}
