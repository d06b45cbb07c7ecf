using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Solve.Choose;
using Nest.Solve.Gangs;

namespace Nest.Solve.Batch;

/// <summary>Plans each number of sets of a job that leaves open how many parts come from one blank.</summary>
/// <remarks>
/// The blanks differ from number to number (what the whole ones leave gets a smaller one), so no layout of one number is one of another, and each is planned by <see cref="GangSolver"/>,
/// just as <c>nest plan</c> does. Order: both ends, and each about half of the one before, which get <see cref="AnchorWeight"/> times the time of the others; then the widest intervals; several
/// numbers side by side. With a limit in time each begins with the rows and columns of the nearest one that has a plan. With a limit in time the first pass has
/// <see cref="FirstEnd"/> of it, shared evenly; the rest goes to the numbers with the widest gap, the cheaper plan and the higher bound of two of the same stay. When the time is over each number that is
/// left gets one plan, under the bound of all choices. With a limit in work there is one pass, so a point is the plan of that number with that work. Cost: numbers × choices × the solver's.
/// </remarks>
internal sealed class GangCurve(Job job, int from, int to, SolveLimits limits, Action<int>? progress, CancellationToken cancel)
{
    private const double FirstEnd = 0.6;
    private const double AnchorWeight = 3;

    private readonly Plan?[] _plans = new Plan?[to - from + 1];
    private readonly int[] _tries = new int[to - from + 1];
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private int _done;

    private double Left => limits.Seconds - _clock.Elapsed.TotalSeconds;

    /// <summary>A plan for each number, the bound for exactly that number with it.</summary>
    public ImmutableArray<Plan> Run()
    {
        using var over = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        if (limits.Work is null)
        {
            over.CancelAfter(TimeSpan.FromSeconds(Math.Min(limits.Seconds, 86_400)));
        }

        var anchors = CurveAnchors.Of(from, to);
        Search([.. anchors, .. CurveAnchors.Between(anchors)], [.. anchors.Select(_ => AnchorWeight), .. Enumerable.Repeat(1.0, _plans.Length - anchors.Length)], limits.Work is null ? FirstEnd * limits.Seconds : limits.Seconds, over.Token);
        while (limits.Work is null && !over.IsCancellationRequested && Left > 0.3)
        {
            var weak = Enumerable.Range(from, _plans.Length).Where(sets => _plans[sets - from]!.Status != SolveStatus.Proven)
                .OrderByDescending(sets => Gap(_plans[sets - from]!) / (1 + _tries[sets - from])).ThenBy(sets => sets).Take(Math.Max(1, limits.Threads)).ToList();
            if (weak.Count == 0)
            {
                break;
            }

            Search(weak, [.. weak.Select(_ => 1.0)], Math.Min(Left, Math.Max(1.0, 0.1 * limits.Seconds)), over.Token);
        }

        return [.. _plans.Select(plan => plan! with { PartCosts = CostSheet.PartCosts(plan.Job, BlankSizer.Size(plan.Job), plan.Layouts) })];
    }

    private ImmutableArray<Part> Near(int sets) =>
        Enumerable.Range(0, _plans.Length).Where(place => _plans[place] is not null).OrderBy(place => Math.Abs(place + from - sets)).Select(place => _plans[place]!.Job.Parts).FirstOrDefault([]);

    private static decimal Gap(Plan plan) => plan.Unplaced.IsEmpty ? plan.Gap ?? 1m : 1m;

    private void Search(List<int> numbers, List<double> weights, double seconds, CancellationToken over) =>
        ComponentQueue.Run(weights, seconds, Math.Max(1, limits.Threads), (at, share) =>
        {
            var place = numbers[at] - from;
            var own = limits with { Seconds = limits.Work is null ? share : limits.Seconds, Threads = 1, Seed = limits.Seed + _tries[place] };
            var plan = GangSolver.Solve(job.ForBatch(numbers[at]), own, limits.Work is null ? Near(numbers[at]) : [], null, over);
            if (_plans[place] is { } before)
            {
                plan = GangSolver.Better(before, plan);
            }
            else
            {
                progress?.Invoke(Interlocked.Increment(ref _done));
            }

            _plans[place] = plan;
            _tries[place]++;
        });
}
