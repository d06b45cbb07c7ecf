using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Batch;

/// <summary>What each size of a batch costs.</summary>
/// <remarks>
/// Problem: total cost as a function of the number of sets. Method: each number is planned by itself, several at a time; then, as who
/// has a plan for more sets has one for fewer (the surplus lies on the shelf), the cheapest plan of all numbers from n on counts for n,
/// so that the total cost never falls with n. The bound of n is the least of the bounds from n to the end of the range, and no lower
/// than that of a smaller number. Guarantee: each point a checked plan's cost and a bound within the range. O(points) plans.
/// </remarks>
public static class BatchCurve
{
    /// <param name="limits">Seconds: of the whole curve. Work: of each point.</param>
    /// <param name="progress">Called with the number of points that are planned, from several threads.</param>
    public static ImmutableArray<BatchPoint> Of(
        Job job, int from, int to, SolveLimits limits, Action<int>? progress = null, CancellationToken cancel = default)
    {
        var clock = Stopwatch.StartNew();
        var plans = new Plan[to - from + 1];
        var next = to + 1;
        var done = 0;
        var workers = Math.Clamp(limits.Threads, 1, plans.Length);
        Task.WaitAll(
            [.. Enumerable.Range(0, workers).Select(_ => Task.Factory.StartNew(
                Work, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default))],
            CancellationToken.None);
        return Points(plans, from);

        void Work()
        {
            // The largest first: its plan stands in for smaller ones that get too little time.
            while (Interlocked.Decrement(ref next) is var sets && sets >= from)
            {
                var left = Math.Max(0.1, limits.Seconds - clock.Elapsed.TotalSeconds);
                var seconds = Math.Max(0.1, left * workers / Math.Max(1, sets - from + workers));
                var sized = job.ForBatch(sets);
                var blanks = BlankSizer.Size(sized);
                var plan = JobSolver.Solve(sized, blanks, limits with { Seconds = seconds, Threads = 1 }, null, cancel);
                plans[sets - from] = plan with { PartCosts = CostSheet.PartCosts(sized, blanks, plan.Layouts) };
                progress?.Invoke(Interlocked.Increment(ref done));
            }
        }
    }

    /// <summary>The curve from plans of from, from + 1, … sets.</summary>
    internal static ImmutableArray<BatchPoint> Points(IReadOnlyList<Plan> plans, int from)
    {
        var count = plans.Count;
        var taken = new int[count];
        var bounds = new Money[count];
        for (var at = count - 1; at >= 0; at--)
        {
            taken[at] = at;
            bounds[at] = plans[at].LowerBound;
            if (at + 1 < count)
            {
                var later = plans[taken[at + 1]];
                if (later.Unplaced.IsEmpty && (!plans[at].Unplaced.IsEmpty || later.TotalCost < plans[at].TotalCost))
                {
                    taken[at] = taken[at + 1];
                }

                bounds[at] = Money.Min(bounds[at], bounds[at + 1]);
            }
        }

        var points = ImmutableArray.CreateBuilder<BatchPoint>(count);
        var least = decimal.MaxValue;
        for (var at = 0; at < count; at++)
        {
            bounds[at] = at == 0 || !plans[at].Unplaced.IsEmpty ? bounds[at] : Money.Max(bounds[at], bounds[at - 1]);
            var plan = plans[taken[at]];
            var perSet = plan.TotalCost.Amount / (from + at);
            var after = at + 1 < count ? plans[taken[at + 1]].TotalCost.Amount / (from + at + 1) : decimal.MaxValue;
            var step = at > 0 && BuysMore(plans[taken[at - 1]], plan);
            points.Add(new(
                from + at, from + taken[at], plan, Money.Min(bounds[at], plan.TotalCost), step,
                plan.Unplaced.IsEmpty && perSet < least && perSet < after));
            least = plan.Unplaced.IsEmpty ? Math.Min(least, perSet) : least;
        }

        return points.ToImmutable();
    }

    /// <summary>Whether the goods that are bought cost more.</summary>
    private static bool BuysMore(Plan fewer, Plan more) => Goods(more) > Goods(fewer);

    private static Money Goods(Plan plan) => plan.Orders.Aggregate(Money.Zero, (sum, order) => sum + order.Total);
}
