using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Batch;

/// <summary>What each size of a batch costs.</summary>
/// <remarks>
/// Problem: total cost as a function of the number of sets. Method: <see cref="CurveSolver"/>, where parts are milled several from one blank <see cref="GangCurve"/>; then, as who has a plan for more sets has
/// one for fewer (the surplus lies on the shelf), the cheapest plan of all numbers from n on counts for n, so that the total cost never
/// falls with n. That surplus is free is part of the curve's meaning: with all-units breaks, minimums or free delivery, n sets exactly
/// may cost more than n + 1. So, unless <see cref="FreeSurplus"/> holds, a bound for exactly n sets counts for n only as far as the bounds
/// for all larger numbers of the range are no lower; the linear one, in which the demand may be exceeded, counts as it is;
/// and each counts for every larger number. Guarantee: each point a checked plan's cost and a bound within the range.
/// </remarks>
public static class BatchCurve
{
    /// <param name="limits">Seconds: of the whole curve. Work: of each number that is searched by itself.</param>
    /// <param name="progress">Called with the number of points that are planned, from several threads.</param>
    public static ImmutableArray<BatchPoint> Of(
        Job job, int from, int to, SolveLimits limits, Action<int>? progress = null, CancellationToken cancel = default)
    {
        if (GangOptions.IsOpen(job))
        {
            // Only what holds for exactly a number is known of these.
            var own = new GangCurve(job, from, to, limits, progress, cancel).Run();
            return Points(own, [.. own.Select(plan => plan.Bound)], [.. own.Select(_ => Bound.None)], from);
        }

        var solver = new CurveSolver(job, from, to, limits, progress, cancel);
        solver.Run();
        return Points(
            [.. solver.Numbers.Select(number => number.ToPlan(limits))], [.. solver.Numbers.Select(number => number.Own(number.Bound))],
            [.. solver.Numbers.Select(number => number.Own(solver.SurplusIsFree ? number.Bound : number.Cover))], from);
    }

    /// <summary>The curve from plans of from, from + 1, … sets.</summary>
    /// <param name="exact">No plan for exactly so many sets costs less.</param>
    /// <param name="cover">No plan for so many sets or more costs less.</param>
    internal static ImmutableArray<BatchPoint> Points(
        IReadOnlyList<Plan> plans, IReadOnlyList<Bound> exact, IReadOnlyList<Bound> cover, int from)
    {
        var count = plans.Count;
        var taken = new int[count];
        var bounds = new Bound[count];
        for (var at = count - 1; at >= 0; at--)
        {
            taken[at] = at;
            bounds[at] = exact[at];
            if (at + 1 < count)
            {
                var later = plans[taken[at + 1]];
                if (later.Unplaced.IsEmpty && (!plans[at].Unplaced.IsEmpty || later.TotalCost < plans[at].TotalCost))
                {
                    taken[at] = taken[at + 1];
                }

                bounds[at] = Lower(bounds[at], bounds[at + 1]);
            }
        }

        var points = ImmutableArray.CreateBuilder<BatchPoint>(count);
        var least = decimal.MaxValue;
        for (var at = 0; at < count; at++)
        {
            bounds[at] = Bound.Higher(Bound.Higher(bounds[at], cover[at]), at == 0 ? Bound.None : bounds[at - 1]);
            var plan = plans[taken[at]];

            // With pieces left out the bound is for another problem: nothing is claimed.
            var bound = plan.Unplaced.IsEmpty ? bounds[at] : Bound.None;
            _ = Contradictions.Found(bound, plan.TotalCost);
            var perSet = plan.TotalCost.Amount / (from + at);
            var after = at + 1 < count && plans[taken[at + 1]] is { Unplaced.IsEmpty: true } next ? next.TotalCost.Amount / (from + at + 1) : decimal.MaxValue;
            var step = at > 0 && plan.Unplaced.IsEmpty && plans[taken[at - 1]].Unplaced.IsEmpty && BuysMore(plans[taken[at - 1]], plan);
            points.Add(new(
                from + at, from + taken[at], plan, bound, step,
                plan.Unplaced.IsEmpty && perSet < least && perSet < after));
            least = plan.Unplaced.IsEmpty ? Math.Min(least, perSet) : least;
        }

        return points.ToImmutable();
    }

    /// <summary>What holds for both numbers: the lower bound of the two, none where one is missing.</summary>
    private static Bound Lower(Bound a, Bound b) => a.IsKnown && b.IsKnown && a.Value > b.Value ? b : a.IsKnown && b.IsKnown ? a : Bound.None;

    /// <summary>Whether the goods that are bought cost more.</summary>
    private static bool BuysMore(Plan fewer, Plan more) => Goods(more) > Goods(fewer);

    private static Money Goods(Plan plan) => plan.Orders.Aggregate(Money.Zero, (sum, order) => sum + order.Total);
}
