using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Planning.Design;

/// <summary>A change to a part, or to how its blank is made, that reaches a threshold of the stock.</summary>
/// <param name="PartId">The part.</param>
/// <param name="What">In words: <c>length 152 → 150.4 (1.6 less)</c>, <c>sides stay</c>.</param>
/// <param name="Changed">The part with the change.</param>
/// <param name="Reasons">What it reaches: which stock would serve, where one more piece fits.</param>
/// <param name="Promise">Estimate of what it saves for the batch; only the order of trying depends on it.</param>
public sealed record DesignChange(string PartId, string What, Part Changed, ImmutableArray<string> Reasons, decimal Promise);

/// <summary>A change that was planned.</summary>
/// <param name="Change">The change.</param>
/// <param name="Plan">The job planned with it.</param>
/// <param name="Saves">Cost of the job as it is less cost with the change; above zero.</param>
/// <param name="Sure">What of it remains however well the job as it is were planned: its bound less the cost with the change; null: nothing is proven.</param>
public sealed record DesignHint(DesignChange Change, Plan Plan, decimal Saves, decimal? Sure);

/// <summary>A dimension that may grow while every layout of the plan stays as it is.</summary>
/// <param name="PartId">The part.</param>
/// <param name="What">In words: <c>thickness 9 → 9.5 (0.5 more)</c>.</param>
/// <param name="Costs">Scrap that is not sold then, for the batch; zero: nothing.</param>
public sealed record DesignRoom(string PartId, string What, decimal Costs);
