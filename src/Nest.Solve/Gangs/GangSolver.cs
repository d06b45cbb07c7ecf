using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Gangs;

/// <summary>Plans a job that leaves to the planner how many parts come from one blank.</summary>
/// <remarks>
/// Problem: each part with an open number gets one option of <see cref="GangOptions"/>; the cheapest plan over all choices is wanted, with a bound for all of them. Method: every choice is an
/// ordinary job. All are planned with half of the limit, shared evenly, those of the lowest <see cref="GangBound"/> first; what is left goes to those whose bound is still below the best cost, the
/// lowest bounds and the best plan first. The bound is the least of the choices' bounds, each of them the highest that was found: a plan of the whole job is a plan of one choice, so none costs
/// less. A choice that was not planned has that of <see cref="GangBound"/>; one whose bound is not below the best cost need not be planned, and when the time is over no more are begun. Above
/// <see cref="MostChoices"/> choices parts are decided one after the other, the others staying as they are, and the bound is the one of all choices. Cost: choices × the solver's. With a limit of
/// work it is repeatable.
/// </remarks>
public static class GangSolver
{
    /// <summary>Choices that are all planned.</summary>
    public const int MostChoices = 48;

    private const int Deepened = 3;

    /// <summary>The plan; its job has the blanks in place of the parts that are milled from them.</summary>
    /// <param name="job">Checked; of layouts that stay the blanks are in it (<see cref="Nest.Core.Inputs.KeptGangs"/>).</param>
    public static Plan Solve(Job job, SolveLimits limits, Action<SolveProgress>? progress = null, CancellationToken cancel = default) => Solve(job, limits, [], progress, cancel);

    /// <param name="like">Blanks of a plan for another number of sets: choices with rows and columns as there come first, so that they are planned however short the time.</param>
    internal static Plan Solve(Job job, SolveLimits limits, ImmutableArray<Part> like, Action<SolveProgress>? progress, CancellationToken cancel)
    {
        var groups = GangOptions.Groups(job).Select(group => (group.Part, group.Mate, Options: Alike(Serving(job, group.Part, group.Mate), like))).ToList();
        var choices = groups.Aggregate(1L, (all, group) => Math.Min(long.MaxValue / 64, all * group.Options.Length));
        var search = new Search(job, groups, limits, likeFirst: !like.IsEmpty, progress, cancel);
        return choices <= MostChoices ? search.All() : search.OneAfterTheOther();
    }

    /// <summary>Of two plans of the same problem the cheaper, with the higher of their bounds.</summary>
    internal static Plan Better(Plan before, Plan plan)
    {
        var bound = Bound.Higher(before.Bound, plan.Bound);
        var less = IsBetter(plan, before) ? plan : before;
        return less with { Bound = bound, Status = Standing(less, bound) };
    }

    // What one choice cannot cut another may: nothing is proven of parts that are left out.
    private static SolveStatus Standing(Plan plan, Bound bound) =>
        plan.Layouts.IsEmpty && !plan.Unplaced.IsEmpty ? SolveStatus.NotFound
        : plan.Unplaced.IsEmpty && !Contradictions.Found(bound, plan.TotalCost) && bound.Proves(plan.TotalCost) ? SolveStatus.Proven : SolveStatus.BestFound;

    private static bool IsBetter(Plan plan, Plan than) => (Missing(plan), plan.TotalCost.Units).CompareTo((Missing(than), than.TotalCost.Units)) < 0;

    // Parts, not blanks: two options have different numbers of blanks.
    private static int Missing(Plan plan) => plan.Unplaced.Sum(left => left.Count * (plan.Job.Parts.First(part => part.Id == left.PartId).Gang?.Parts ?? 1));

    /// <summary>Options all of whose blanks come from some stock; where there is none, the first.</summary>
    private static ImmutableArray<ImmutableArray<Part>> Serving(Job job, Part part, Part? mate)
    {
        var all = GangOptions.Of(job, part, mate);
        var serving = all.Where(blanks =>
        {
            var one = GangOptions.With(job, [(part, mate, blanks)]);
            return blanks.All(blank => !BlankSizer.Size(one, blank).Fits.IsEmpty);
        }).ToImmutableArray();
        return serving.IsEmpty ? [all[0]] : serving;
    }

    private static ImmutableArray<ImmutableArray<Part>> Alike(ImmutableArray<ImmutableArray<Part>> options, ImmutableArray<Part> like)
    {
        var known = like.Select(Grid).ToHashSet();
        return [.. options.OrderByDescending(blanks => blanks.Length > 0 && known.Contains(Grid(blanks[0])))];

        static (string, int, int) Grid(Part blank) => (GangOptions.MembersOf(blank).First(), blank.Gang?.Rows ?? 1, blank.Gang?.Columns ?? 1);
    }

    private sealed class Search(
        Job job, List<(Part Part, Part? Mate, ImmutableArray<ImmutableArray<Part>> Options)> groups, SolveLimits limits, bool likeFirst, Action<SolveProgress>? progress, CancellationToken cancel)
    {
        private readonly Stopwatch _clock = Stopwatch.StartNew();
        private readonly Dictionary<string, Plan> _plans = new(StringComparer.Ordinal);
        private readonly GangBound _bound = new(job, groups);
        private Plan? _best;

        /// <summary>Share of the time that is left; with a limit of work nothing is said of time.</summary>
        private double Left => limits.Work is null ? Math.Max(0, 1 - (_clock.Elapsed.TotalSeconds / limits.Seconds)) : 1;

        public Plan All()
        {
            var choices = Choices();
            foreach (var choice in choices)
            {
                Try(choice, 0.5 / choices.Count);
            }

            var open = choices.Where(choice => _plans.TryGetValue(Key(choice), out var plan) && plan.Status != SolveStatus.Proven
                    && (!plan.Bound.IsKnown || plan.Bound.Value < _best!.TotalCost || plan == _best))
                .OrderByDescending(choice => _plans[Key(choice)] == _best).ThenBy(choice => _plans[Key(choice)].Bound.Value ?? Money.Zero).Take(Deepened).ToList();
            var each = (limits.Work is null ? Left : 0.5) / Math.Max(1, open.Count);
            foreach (var choice in open)
            {
                Try(choice, each);
            }

            var bounds = choices.ConvertAll(choice => Bound.Higher(_bound.Of(choice), _plans.TryGetValue(Key(choice), out var plan) ? plan.Bound : Bound.None));
            return Under(bounds.TrueForAll(bound => bound.IsKnown) ? bounds.MinBy(bound => bound.Value) : Bound.None);
        }

        public Plan OneAfterTheOther()
        {
            var now = groups.Select((_, at) => likeFirst ? 0 : _bound.ByWorth(at)[0]).ToArray();
            var tries = groups.Sum(group => group.Options.Length);
            for (var at = 0; at < groups.Count; at++)
            {
                var keep = now;
                foreach (var option in _bound.ByWorth(at))
                {
                    int[] choice = [.. now];
                    choice[at] = option;
                    if (!_plans.ContainsKey(Key(choice)) && (_best is null || Left > 1 - ((at + 1.0) / groups.Count)))
                    {
                        Try(choice, 1.0 / tries);
                    }

                    keep = _plans.TryGetValue(Key(choice), out var plan) && plan == _best ? choice : keep;
                }

                now = keep;
            }

            return Under(_bound.Least);
        }

        /// <summary>The most promising first; before them what a neighbour's plan has.</summary>
        private List<int[]> Choices()
        {
            List<int[]> all = [new int[groups.Count]];
            for (var at = 0; at < groups.Count; at++)
            {
                var place = at;
                all = [.. all.SelectMany(choice => Enumerable.Range(0, groups[place].Options.Length).Select(option => choice.Select((one, k) => k == place ? option : one).ToArray()))];
            }

            var first = likeFirst ? 1 : 0;
            return [.. all.Take(first), .. all.Skip(first).OrderBy(choice => _bound.Of(choice).Value ?? Money.Zero)];
        }

        private static string Key(int[] choice) => string.Join(',', choice);

        /// <summary>Plans a choice; the cheaper plan and the higher bound of two of the same stay.</summary>
        private void Try(int[] choice, double share)
        {
            if (_best is not null && (cancel.IsCancellationRequested || Left == 0 || (_best.Unplaced.IsEmpty && _bound.Of(choice).Value >= _best.TotalCost)))
            {
                return;
            }

            var one = GangOptions.With(job, [.. groups.Select((group, at) => (group.Part, group.Mate, group.Options[choice[at]]))]);
            var own = limits with { Seconds = limits.Seconds * share, Work = limits.Work is { } work ? Math.Max(1, (long)(work * share)) : null };
            var plan = JobSolver.Solve(one, BlankSizer.Size(one), own, Better, cancel);
            var key = Key(choice);
            if (_plans.TryGetValue(key, out var before))
            {
                var same = _best == before && !IsBetter(plan, before);
                plan = GangSolver.Better(before, plan);
                _best = same ? plan : _best;
            }

            _plans[key] = plan;
            _best = _best is null || IsBetter(plan, _best) ? plan : _best;
        }

        /// <summary>What a choice finds is told where it is better than all before; its bound is no bound for the others.</summary>
        private void Better(SolveProgress point)
        {
            if (_best is null || (point.Missing, point.Cost.Units).CompareTo((Missing(_best), _best.TotalCost.Units)) < 0)
            {
                progress?.Invoke(point with { Bound = Bound.None });
            }
        }

        private Plan Under(Bound bound)
        {
            var best = _best!;
            var known = best.Unplaced.IsEmpty ? bound : Bound.None;
            return best with { Bound = known, Status = Standing(best, known), Seconds = limits.Seconds, Seed = limits.Seed };
        }
    }
}
