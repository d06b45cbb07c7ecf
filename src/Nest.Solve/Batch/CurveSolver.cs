using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Batch;

/// <summary>Plans all numbers of sets of a range together, each helping its neighbours.</summary>
/// <remarks>
/// The numbers have the same blanks and stocks; only the demand differs. So a layout of one is a layout of all, and values π of the
/// blanks with what a layout is worth at most (proven for a demand) hold for every smaller demand. Steps:
/// (1) anchors, each about 1.6 times the one before, are planned by <see cref="JointSolver"/>, giving layouts, values and bounds;
/// (2) every number between gets bounds from the values of the next larger anchor (<see cref="DualBound"/>, <see cref="JointBound"/>),
/// the plan of a larger number with the surplus taken out, sums of smaller numbers' plans, and a choice among all layouts;
/// (3) plans go on from neighbour to neighbour (n + 1 less a set; a + b);
/// (4) the numbers with the largest gap are searched alone, from what is known, and (3) again, until the time is up.
/// Guarantee: plans heuristic, bounds valid. With a limit in work every step works on what was known before it began, so that which
/// thread is first does not matter.
/// </remarks>
internal sealed class CurveSolver
{
    // Shares of the time at which the steps end.
    private const double AnchorsEnd = 0.45;
    private const double FillEnd = 0.78;

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

    /// <summary>Per number that was searched: what was proven of the layouts, by component; valid for all numbers up to it.</summary>
    private readonly SortedDictionary<int, ImmutableArray<IReadOnlyList<(long[] Values, long[] Best)>>> _cuts = [];
    private int _done;

    public CurveSolver(Job job, int from, int to, SolveLimits limits, Action<int>? progress, CancellationToken cancel)
    {
        (_limits, _progress, _cancel, _from) = (limits, progress, cancel, from);
        _numbers = [.. Enumerable.Range(from, to - from + 1).Select(sets => new CurveNumber(job, sets))];
        _pools = [.. _numbers[0].Components.Select(_ => new ColumnPool())];
    }

    /// <summary>Whether a bound for exactly a number holds for that number or more.</summary>
    public bool SurplusIsFree => FreeSurplus.Holds(_numbers[0].Job, _numbers[0].Components);

    public IReadOnlyList<CurveNumber> Numbers => _numbers;

    private int Workers => Math.Max(1, _limits.Threads);

    private double Left => _limits.Seconds - _clock.Elapsed.TotalSeconds;

    public void Run()
    {
        var anchors = Anchors(_from, _from + _numbers.Length - 1);
        if (Environment.GetEnvironmentVariable("NEST_EXP") is { } exp)
        {
            // cuts only
            var last = At(_from + _numbers.Length - 1);
            _cuts[last.Sets] = [.. last.Lowest.Select(c => { var cs = new ComponentSolver(c, _limits with { Seconds = 8, Threads = 1 }, (_, _) => { }, _cancel); cs.Run(); return cs.Cuts; })];
            Console.Error.WriteLine($"cuts at {_clock.Elapsed.TotalSeconds} stocks {string.Join(",", last.Lowest.Select(c => c.Stocks.Length))}");
            foreach (var par in exp.Split('|'))
            {
                foreach (var at in new[] { 1, 6, 20, 60 })
                {
                    foreach (var dt in new[] { 0.1, 0.5, 2.0 })
                    {
                        var n = At(at);
                        var t0 = Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds;
                        var b = JointBound.Of(n.Job, [.. n.Lowest.Select((component, c) => new JointBound.Share(component, _cuts[last.Sets][c]))], dt, 60, _cancel, par);
                        Console.Error.WriteLine($"{par} n={at} dt={dt} cpu={Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds - t0:0.00} bound={b} linear={LinearBound(n)}");
                    }
                }
            }
            return;
        }

        Search([.. anchors.Select(At)], AnchorsEnd);
        Trace("anchors");
        Report(anchors.Length);
        Fill(_numbers);
        Trace("fill");
        Spread();
        Trace("spread");
        Improve();
        Trace("improve");
    }

    private void Trace(string what) => Console.Error.WriteLine($"TRACE {what} {_clock.Elapsed.TotalSeconds:0.0}s cpu {Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds:0.0} cols {string.Join(",", _pools.Select(p => p.Columns.Count))} cuts {string.Join(",", _cuts.Keys)} gaps {string.Join(" ", _numbers.Select(n => $"{n.Sets}:{n.Best.Cost}/{n.Exact}/{n.Cover}"))}");

    /// <summary>Numbers that are planned by themselves: both ends, and each about 1.6 times the one before.</summary>
    internal static ImmutableArray<int> Anchors(int from, int to)
    {
        var anchors = new SortedSet<int> { from, to };
        for (var at = (double)to; at > from; at = Math.Min(at - 1, at / 1.6))
        {
            anchors.Add(Math.Max(from, (int)Math.Round(at)));
        }

        return [.. anchors];
    }

    private CurveNumber At(int sets) => _numbers[sets - _from];

    private void Report(int more) => _progress?.Invoke(Interlocked.Add(ref _done, more));

    /// <summary>Plans these numbers by themselves, several at a time, from all that is known; then takes in what they found.</summary>
    private void Search(IReadOnlyList<CurveNumber> numbers, double share)
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

                var effort = _limits with
                {
                    Seconds = _limits.Work is null ? Math.Max(0.1, seconds) : _limits.Seconds, Threads = 1, Seed = _limits.Seed + number.Tries,
                };
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
    private void Fill(IReadOnlyList<CurveNumber> numbers)
    {
        // Linear bounds of all, the anchors too, cost nothing.
        foreach (var number in _numbers)
        {
            number.RaiseCover(LinearBound(number));
        }

        var started = 0;
        Parallel.ForEach(numbers, new() { MaxDegreeOfParallelism = Workers }, number =>
        {
            var open = Math.Max(1, numbers.Count - Interlocked.Increment(ref started) + 1);
            var seconds = _limits.Work is null
                ? Math.Max(0.05, ((FillEnd * _limits.Seconds) - _clock.Elapsed.TotalSeconds) * Workers / Math.Max(open, Workers))
                : _limits.Seconds;
            var t0 = _clock.Elapsed.TotalSeconds;
            FromAnchors(number);
            var t1 = _clock.Elapsed.TotalSeconds; var c0 = number.Best.Cost;
            number.RaiseCover(Bound(number, 1.0, 0.5 * seconds));
            var t2 = _clock.Elapsed.TotalSeconds;
            Choose(number, 1.0, 0.5 * seconds);
            Console.Error.WriteLine($"TRACE {number.Sets} limit {seconds:0.00} from {t1 - t0:0.00} bound {t2 - t1:0.00} choose {_clock.Elapsed.TotalSeconds - t2:0.00}: {c0} -> {number.Best.Cost} bound {number.Cover}");
            Report(1);
        });
    }

    /// <summary>What was proven of layouts for the next number from this one on.</summary>
    private ImmutableArray<IReadOnlyList<(long[] Values, long[] Best)>>? CutsFor(CurveNumber number) =>
        _cuts.Where(entry => entry.Key >= number.Sets).Select(entry => (ImmutableArray<IReadOnlyList<(long[] Values, long[] Best)>>?)entry.Value).FirstOrDefault();

    /// <summary>At the lowest prices, no deliveries: the best of all known values, component by component.</summary>
    private Money LinearBound(CurveNumber number)
    {
        long sum = 0;
        for (var c = 0; c < number.Lowest.Length; c++)
        {
            var component = number.Lowest[c];
            if (!component.LowerCosts.Valid)
            {
                continue;
            }

            sum += _cuts.Where(entry => entry.Key >= number.Sets).SelectMany(entry => entry.Value[c])
                .Select(cut => DualBound.Of(component, cut.Values, component.Demand.AsSpan(), cut.Best).Bound).DefaultIfEmpty(0).Max();
        }

        return Money.FromUnits(sum);
    }

    private Money Bound(CurveNumber number, double deterministicTime, double seconds) => CutsFor(number) is { } cuts
        ? JointBound.Of(
            number.Job, [.. number.Lowest.Select((component, c) => new JointBound.Share(component, cuts[c]))], deterministicTime, seconds, _cancel, Environment.GetEnvironmentVariable("NEST_CP") ?? "")
        : Money.Zero;

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
            Join(number, parts);
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

    /// <summary>Plans go on to their neighbours until none becomes better.</summary>
    private void Spread()
    {
        for (var round = 0; round < 4 && !_cancel.IsCancellationRequested; round++)
        {
            var better = false;
            for (var at = _numbers.Length - 2; at >= 0; at--)
            {
                better |= FromNext(_numbers[at], _numbers[at + 1]);
            }

            foreach (var number in _numbers)
            {
                better |= FromSums(number);
            }

            if (!better)
            {
                return;
            }
        }
    }

    private static bool FromNext(CurveNumber number, CurveNumber next) =>
        next.Complete && !number.Proven && number.OfferMore([.. next.Best.Parts.Select(part => part!.Columns)], next.Best.Extras);

    /// <summary>The sums that look cheapest; one delivery less, or a break reached, may make them cheaper than the sum of the costs.</summary>
    private bool FromSums(CurveNumber number)
    {
        if (number.Proven)
        {
            return false;
        }

        var better = false;
        var pairs = Enumerable.Range(_from, Math.Max(0, (number.Sets / 2) - _from + 1))
            .Where(a => number.Sets - a >= _from)
            .Select(a => (A: At(a), B: At(number.Sets - a)))
            .Where(pair => pair.A.Complete && pair.B.Complete)
            .OrderBy(pair => (pair.A.Best.Cost!.Value + pair.B.Best.Cost!.Value).Units)
            .Take(3);
        foreach (var (a, b) in pairs)
        {
            better |= Join(number, [a, b]);
        }

        return better;
    }

    /// <summary>Offers the plans of several numbers together, where the limited stock is enough.</summary>
    private static bool Join(CurveNumber number, IReadOnlyList<CurveNumber> parts)
    {
        var columns = Enumerable.Range(0, number.Components.Length)
            .Select(c => parts.SelectMany(part => part.Best.Parts[c]!.Columns).ToList()).ToList();
        var used = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var (column, count) in columns.SelectMany(some => some))
        {
            used[column.Layout.StockId] = used.GetValueOrDefault(column.Layout.StockId) + count;
        }

        // Pieces that were bought whole to reach a break or a minimum are left out: together it may be reached without them.
        return number.Components.SelectMany(component => component.Stocks)
                .All(frame => frame.Stock.Available is not { } most || used.GetValueOrDefault(frame.Stock.Id) <= most)
            && number.OfferMore([.. columns], []);
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

            var until = Math.Min(_limits.Seconds - 0.2, _clock.Elapsed.TotalSeconds + Math.Max(1.0, 0.05 * _limits.Seconds));
            Search(weak, until / _limits.Seconds);
            Spread();
        }
    }
}
