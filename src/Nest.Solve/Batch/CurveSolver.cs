using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Batch;

/// <summary>Plans all numbers of sets of a range together, each helping its neighbours.</summary>
/// <remarks>
/// The numbers have the same blanks and stocks; only the demand differs. So a layout of one is a layout of all, and values π of the
/// blanks with what a layout is worth at most (proven for a demand) hold for every smaller demand. Steps:
/// (1) anchors, each about twice the one before, are planned by <see cref="JointSolver"/>, giving layouts, values and bounds;
/// (2) every number between gets the plan of the next larger anchor with the surplus taken out, sums of smaller anchors' plans, bounds
/// from the values of the next larger anchor (<see cref="DualBound"/>, <see cref="JointBound"/>), and a choice among all layouts;
/// (3) plans go on from neighbour to neighbour (n + 1 less a set; a + b);
/// (4) the numbers with the largest gap are searched alone, from what is known, and (3) again, until the time is up.
/// Guarantee: plans heuristic, bounds valid. With a limit in work every step works on what was known before it began, so that which
/// thread is first does not matter.
/// </remarks>
internal sealed class CurveSolver
{
    // Shares of the time at which the steps end.
    private const double AnchorsEnd = 0.33;
    private const double FillEnd = 0.85;

    /// <summary>Deterministic seconds of the bound and of the choice of one number; the bound is mostly exact in less.</summary>
    private const double BoundTime = 0.25;
    private const double ChooseTime = 0.12;

    /// <summary>Layouts that a choice between anchors is made from, per component.</summary>
    private const int MostColumns = 500;

    /// <summary>With a limit in work: rounds of the last step, and numbers in each.</summary>
    private const int WorkRounds = 2;
    private const int WorkNumbers = 4;

    private readonly SolveLimits _limits;
    private readonly CancellationToken _cancel;
    private readonly Action<int>? _progress;
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly CurveNumber[] _numbers;
    private readonly int _from;
    private readonly ColumnPool[] _pools;
    private readonly CurveMoves _moves;

    /// <summary>Per number that was searched: what was proven of the layouts, by component; valid for all numbers up to it.</summary>
    private readonly SortedDictionary<int, ImmutableArray<IReadOnlyList<(long[] Values, long[] Best)>>> _cuts = [];
    private int _done;

    public CurveSolver(Job job, int from, int to, SolveLimits limits, Action<int>? progress, CancellationToken cancel)
    {
        (_limits, _progress, _cancel, _from) = (limits.OfJob(), progress, cancel, from);
        _numbers = [.. Enumerable.Range(from, to - from + 1).Select(sets => new CurveNumber(job, sets))];
        _pools = [.. _numbers[0].Components.Select(_ => new ColumnPool())];
        _moves = new(_numbers, _pools);
    }

    /// <summary>Whether a bound for exactly a number holds for that number or more.</summary>
    public bool SurplusIsFree => FreeSurplus.Holds(_numbers[0].Job, _numbers[0].Components);

    public IReadOnlyList<CurveNumber> Numbers => _numbers;

    private int Workers => Math.Max(1, _limits.Threads);

    private double Left => _limits.Seconds - _clock.Elapsed.TotalSeconds;

    public void Run()
    {
        var anchors = CurveAnchors.Of(_from, _from + _numbers.Length - 1);
        Search([.. anchors.Select(At)], AnchorsEnd);
        Report(anchors.Length);
        Fill(anchors);
        _moves.Spread(_cancel);
        Improve();
    }

    private CurveNumber At(int sets) => _numbers[sets - _from];

    private void Report(int more) => _progress?.Invoke(Interlocked.Add(ref _done, more));

    /// <summary>Plans these numbers by themselves, several at a time, from all that is known; then takes in what they found.</summary>
    private void Search(List<CurveNumber> numbers, double share)
    {
        var solved = new JointSolver?[numbers.Count];
        // Large numbers have more to choose from; the square root keeps enough for the small ones, which can be proven.
        ComponentQueue.Run(
            [.. numbers.Select(number => 1 + Math.Sqrt(number.Sets))], (share * _limits.Seconds) - _clock.Elapsed.TotalSeconds, Workers, (at, seconds) =>
            {
                var number = numbers[at];
                if (_cancel.IsCancellationRequested && number.Best.Cost is not null)
                {
                    return;
                }

                var effort = _limits with { Seconds = _limits.Work is null ? Math.Max(0.1, seconds) : _limits.Seconds, Threads = 1, Seed = _limits.Seed + number.Tries };
                var solver = new JointSolver(number.Job, number.Blanks, number.Components, effort, _cancel);
                solver.Start(_pools.Select(pool => pool.Columns), number.Best);
                solver.Run(null);
                solved[at] = solver;
            });

        for (var at = 0; at < numbers.Count; at++)
        {
            if (solved[at] is { } solver)
            {
                TakeIn(numbers[at], solver);
            }
        }
    }

    private void TakeIn(CurveNumber number, JointSolver solver)
    {
        number.Tries++;
        number.RaiseExact(solver.Bound);
        number.RaiseWithSettings(solver.WithSettings);
        if (solver.Best is { Cost: not null } best)
        {
            number.Offer([.. best.Parts.Select(part => part!)], best.Extras);
        }

        for (var c = 0; c < _pools.Length; c++)
        {
            foreach (var column in solver.ColumnsOf(c))
            {
                _pools[c].Add(column);
            }
        }

        if (solver.Cuts is { } cuts)
        {
            _cuts[number.Sets] = cuts;
        }
    }

    /// <summary>Bounds and plans of the numbers between the anchors, from what the anchors know.</summary>
    /// <remarks>A bound that is cut short is worth little, and a bound holds for every larger number too: so each number in turn gets all
    /// the effort it needs, those first that lie in the widest intervals, as long as there is time.</remarks>
    private void Fill(ImmutableArray<int> anchors)
    {
        // Linear bounds of all, and a plan for all, cost next to nothing.
        foreach (var number in _numbers)
        {
            number.RaiseCover(LinearBound(number));
        }

        // Anchors stay as they are while others are made of them.
        Parallel.ForEach(
            _numbers.Where(number => !anchors.Contains(number.Sets)), new ParallelOptions { MaxDegreeOfParallelism = Workers }, FromAnchors);
        _moves.Spread(_cancel);
        var order = anchors.Concat(CurveAnchors.Between(anchors)).Select(At).ToList();
        Parallel.ForEach(Partitioner.Create(order, EnumerablePartitionerOptions.NoBuffering), new() { MaxDegreeOfParallelism = Workers }, number =>
        {
            var left = (FillEnd * _limits.Seconds) - _clock.Elapsed.TotalSeconds;
            if (left > 0)
            {
                Effort(number, left);
            }

            Report(anchors.Contains(number.Sets) ? 0 : 1);
        });
    }

    /// <summary>The bound and the choice of a number, each with all it needs.</summary>
    private void Effort(CurveNumber number, double seconds)
    {
        if (number.Bounded || number.Proven)
        {
            return;
        }

        number.Bounded = true;
        // This bound holds for this number of sets only. It takes no more pieces of stock than this number has blanks; with more sets a price
        // break may be reached beyond that.
        RaiseExact(number, seconds);
        Choose(number, ChooseTime * _limits.Effort, Math.Min(seconds, 0.1 * _limits.Seconds));
    }

    /// <summary>What was proven of layouts for the next number from this one on.</summary>
    private ImmutableArray<IReadOnlyList<(long[] Values, long[] Best)>>? CutsFor(CurveNumber number) =>
        _cuts.Where(entry => entry.Key >= number.Sets).Select(entry => (ImmutableArray<IReadOnlyList<(long[] Values, long[] Best)>>?)entry.Value).FirstOrDefault();

    /// <summary>At the lowest prices, no deliveries: the best of all known values, component by component.</summary>
    private Bound LinearBound(CurveNumber number)
    {
        var sum = Money.Zero;
        for (var c = 0; c < number.Lowest.Length; c++)
        {
            var component = number.Lowest[c];
            if (!component.LowerCosts.Valid)
            {
                return Bound.None;
            }

            var own = _cuts.Where(entry => entry.Key >= number.Sets).SelectMany(entry => entry.Value[c])
                .Select(cut => DualBound.Of(component, cut.Values, component.Demand.AsSpan(), cut.Best).Bound).Aggregate(Bound.None, Bound.Higher);
            if (own.Value is not { } value)
            {
                return Bound.None;
            }

            sum += value;
        }

        return Bound.Of(sum, Methods.ColumnGeneration, BoundScope.JobOrMore);
    }

    /// <summary>By whole pieces of stock alone: with what is known of layouts the model is harder, and its bound in so little time mostly
    /// lower.</summary>
    private void RaiseExact(CurveNumber number, double seconds)
    {
        number.RaiseExact(JointBound.Of(
            number.Job, [.. number.Lowest.Select(component => new JointBound.Share(component, []))], BoundTime * _limits.Effort, seconds, _cancel));
    }

    /// <summary>The next larger anchor's plan less the surplus, and the sum of smaller anchors' plans.</summary>
    private void FromAnchors(CurveNumber number)
    {
        var known = _cuts.Keys.Select(At).Where(anchor => anchor.Complete).ToList();
        if (known.Find(anchor => anchor.Sets > number.Sets) is { } larger)
        {
            number.OfferMore([.. larger.Best.Parts.Select(part => part!.Columns)], larger.Best.Extras);
        }

        var parts = new List<CurveNumber>();
        var left = number.Sets;
        while (left > 0 && known.FindLast(anchor => anchor.Sets <= left) is { } next)
        {
            parts.Add(next);
            left -= next.Sets;
        }

        if (left == 0)
        {
            CurveMoves.Join(number, parts);
        }
    }

    /// <summary>Chooses among all layouts that are known.</summary>
    private void Choose(CurveNumber number, double deterministicTime, double seconds)
    {
        if (_cancel.IsCancellationRequested || (number.Best.Cost is not null && (number.Proven || seconds <= 0.02)))
        {
            return;
        }

        var cuts = CutsFor(number);
        var columns = number.Components.Select((component, c) => Candidates(number, c, cuts is { } some ? some[c] : [])).ToImmutableArray();
        var model = new JointModel(number.Job, number.Components, columns, [.. columns.Select(_ => false)]);
        if (model.Solve(deterministicTime, Math.Max(0.05, seconds), _limits.Seed, number.Best.Hint, _cancel) is { } answer)
        {
            number.OfferMore([.. answer.Chosen], answer.Extras);
        }
    }

    /// <summary>The layouts that cost least beyond the value of what they cut of this number's demand, and those of its plan.</summary>
    private ImmutableArray<Column> Candidates(CurveNumber number, int c, IReadOnlyList<(long[] Values, long[] Best)> cuts)
    {
        var columns = _pools[c].Columns;
        var own = number.Best.Parts[c]?.Columns.Select(entry => entry.Column) ?? [];
        var demand = number.Components[c].Demand;
        var values = cuts.Count > 0 ? cuts[^1].Values : null;
        var some = values is null || columns.Count <= MostColumns
            ? columns.AsEnumerable()
            : columns.OrderBy(column => column.Cost - (column.Counts.Select((count, i) => (double)Math.Min(count, demand[i]) * values[i]).Sum() / IStockPricer.Scale))
                .Take(MostColumns);
        return [.. some.Concat(own).DistinctBy(column => column.Key)];
    }

    /// <summary>Searches the numbers with the largest gap alone, as long as there is time.</summary>
    private void Improve()
    {
        var rounds = _limits.Work is null ? int.MaxValue : WorkRounds;
        for (var round = 0; round < rounds && !_cancel.IsCancellationRequested && Left > 0.3; round++)
        {
            var weak = _numbers.Where(number => !number.Proven)
                .OrderByDescending(number => number.Gap / (1 + number.Tries)).ThenBy(number => number.Sets)
                .Take(_limits.Work is null ? Workers : WorkNumbers).ToList();
            if (weak.Count == 0)
            {
                return;
            }

            if (weak.Any(number => !number.Bounded))
            {
                Parallel.ForEach(weak, new() { MaxDegreeOfParallelism = Workers }, number => Effort(number, Left));
                _moves.Spread(_cancel);
                continue;
            }

            var until = Math.Min(_limits.Seconds - 0.2, _clock.Elapsed.TotalSeconds + Math.Max(1.0, 0.05 * _limits.Seconds));
            Search(weak, until / _limits.Seconds);
            _moves.Spread(_cancel);
        }
    }
}
