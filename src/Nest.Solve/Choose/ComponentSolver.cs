using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Exact;

namespace Nest.Solve.Choose;

/// <summary>Solves one component: which form each blank comes from, and the layouts, at the least cost found, with a bound.</summary>
/// <remarks>
/// (1) Start plans by rule (each blank on its cheapest group, all on one form, …): the kernels, on a shortlist of stocks.
/// (2) Column generation over all stocks: duals, new columns and the bound (<see cref="DualBound"/>). Then stocks that no better plan can use
/// are dropped.
/// (3) The choosing model over all columns.
/// (4) Where one group remains, its kernel with all the time there is (exact on bars). Else large-neighbourhood search: some layouts are emptied;
/// their pieces are split anew between the groups and solved again by the kernels.
/// Where there are many kinds the kernels come right after a short start, and the exact method not at all.
/// There is always a plan in hand. Deterministic for the same effort when the clock does not cut it short.
/// Guarantee: heuristic plan, valid bound.
/// </remarks>
internal sealed class ComponentSolver
{
    private const long StartWork = 400_000;
    private const long NeighbourhoodWork = 100_000;
    private const long PolishWork = 3_000_000;

    // Where the exact method takes few steps a pricing it is what closes the gap: it has most of the time, in one piece, as a list that was broken off is made anew.
    private const double QuickShare = 0.85;
    private const double QuickKernel = 0.3;
    private const double QuickLast = 0.95;

    // Many kinds on plates, 15 s: three made shop jobs 7 to 8 % cheaper than with the exact method before the kernel (gaps of 1.8, 2.1 and 4.1 % instead of 8.9, 10.0 and 12.6).
    private const long ManyKindsStart = 50_000;
    private const double ManyKindsKernel = 0.5;
    private const double ManyKindsChoice = 0.5;

    private readonly Component _component;
    private readonly SolveLimits _limits;
    private readonly CancellationToken _cancel;
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly Random _random;
    private readonly int[] _demand;
    private readonly int?[] _stockLimits;
    private readonly FormSplits _splits;
    private readonly Neighbourhoods _neighbourhoods;
    private readonly SplitSolver _groups;
    private readonly ExactChain _exact;
    private readonly ComponentFindings _found;

    /// <summary>Stocks that the searches leave out at first; they come back when pricing finds a column on them.</summary>
    private readonly bool[] _unlisted;

    /// <summary>Stocks proven to be in no plan cheaper than the best.</summary>
    private readonly bool[] _dropped;
    private long[]? _values;
    private IReadOnlyList<(long[] Values, long[] Best)> _cuts = [];

    /// <param name="improved">Called with each better plan and the bound so far.</param>
    public ComponentSolver(Component component, SolveLimits limits, Action<Chosen, Bound> improved, CancellationToken cancel)
    {
        (_component, _limits, _cancel, _random) = (component, limits, cancel, new(limits.Seed));
        (_demand, _stockLimits) = ([.. component.Demand], [.. component.Stocks.Select(frame => frame.Stock.Available)]);
        (_unlisted, _dropped) = ([.. Estimates.Shortlist(component, 4, 12).Select(listed => !listed)], new bool[component.Stocks.Length]);
        _splits = new(component);
        _neighbourhoods = new(component, _splits, _random);
        _groups = new(component, limits, _random, cancel);
        _exact = ExactChain.For(component);
        _found = new(component, _demand, improved);
        _found.Raise(SizeBound.Of(component, _demand));
    }

    public Chosen? Best => _found.Best;

    /// <summary>All layouts found.</summary>
    public IReadOnlyList<Column> Columns => _found.Columns;

    /// <summary>Values of the blanks with the proven best worth of a layout on each stock, the last rounds of column generation.</summary>
    public IReadOnlyList<(long[] Values, long[] Best)> Cuts => [.. _cuts.TakeLast(6)];

    /// <summary>No plan for this component costs less.</summary>
    public Bound Bound => _found.Bound;

    private double Left => _limits.Seconds - _clock.Elapsed.TotalSeconds;

    private bool Done => _cancel.IsCancellationRequested || Left <= 0 || _found.IsProven;

    /// <summary>Begins from a known plan and known layouts of this component.</summary>
    public void Start(Chosen plan, IEnumerable<Column> columns)
    {
        _found.AddAll(columns);
        Take(plan.Columns);
    }

    public void Run()
    {
        if (_exact.HasManyLoads && _component.Groups.Any(group => !group.IsBar))
        {
            RunWithManyKinds();
            return;
        }

        var quick = _limits.Proves && _exact.IsQuick;

        // Where all loads can be listed the exact method needs no plan to start from.
        var atOnce = quick && _exact.HasFewLoads;
        if (atOnce)
        {
            Prove(0.7 * Left);
            if (Done && Best is not null)
            {
                return;
            }
        }

        StartPlans();
        if (!atOnce && _limits.Proves)
        {
            Prove((quick ? QuickShare : 0.4) * Left);
            if (Done)
            {
                return;
            }
        }

        GenerateAndChoose(2.0);
        if (_component.Groups.Length == 1 && !Done && Best is { MissingCount: 0 })
        {
            var bars = _component.Groups[0].IsBar;
            Kernel((bars ? 1.0 : quick ? QuickKernel : 0.7) * Left, threads: 1);
            Choose(2.0);
            if (bars)
            {
                return;
            }
        }

        if (_limits.Proves && !Done)
        {
            // It goes on where it was, with the better plan that the other steps have found.
            Prove((quick ? QuickLast : 0.6) * Left);
        }

        Improve();
        Polish(Left, Open(_dropped));
    }

    /// <summary>Many kinds, on plates too: the kernels make the plans, and the exact method has nothing to say.</summary>
    private void RunWithManyKinds()
    {
        StartPlans(ManyKindsStart);
        Polish(ManyKindsKernel * Left, Open(_unlisted));
        if (_component.Groups.Length == 1 && !Done && Best is { MissingCount: 0 })
        {
            Kernel(ManyKindsKernel * Left, _limits.Threads);
        }

        if (Done && Best is not null)
        {
            return;
        }

        GenerateAndChoose(ManyKindsChoice);
        Improve();
        Polish(Left, Open(_dropped));
    }

    /// <summary>The kernel of the only group. What was dropped cannot be part of a cheaper plan: its bound holds for the whole component.</summary>
    private void Kernel(double seconds, int threads)
    {
        var answer = GroupSolver.Solve(
            _component, _component.Groups[0], _demand, Open(_dropped), _limits with { Seconds = Math.Max(0.1, seconds), Threads = threads }, Take, _cancel);
        _found.Raise(answer.Bound);
        Take(answer.Columns);
    }

    /// <summary>The exact method on plates: a bound, and often the best plan.</summary>
    private void Prove(double seconds)
    {
        _exact.Run(
            _limits, seconds, _component.Enough, () => Best is { MissingCount: 0 } best ? (best.Cost, [best]) : null, (plan, _) => Take(plan[0]), Told, _cancel);

        void Told(long bound)
        {
            _found.Raise(Bound.Of(Money.FromUnits(bound), Methods.LoadsWithinGap, BoundScope.Component));
            _found.Tell();
        }
    }

    /// <summary>Where there are several groups, solves each once more, for just what the best plan takes from it.</summary>
    private void Polish(double seconds, int?[] limits)
    {
        if (Done || Best is not { MissingCount: 0 } best || _component.Groups.Length == 1)
        {
            return;
        }

        SolveSplit(_splits.Of(best), limits, [], seconds, _limits.Work ?? PolishWork);
        Choose(2.0);
    }

    /// <summary>How many of each stock may be used, without the ones marked.</summary>
    private int?[] Open(bool[] without) => [.. _stockLimits.Select((limit, s) => without[s] ? 0 : limit)];

    private void StartPlans(long work = StartWork)
    {
        var tried = new HashSet<string>(StringComparer.Ordinal);
        foreach (var preferred in _splits.Preferences())
        {
            var split = _splits.By(_demand, preferred);
            // However short the time, one plan is made.
            var first = Best is not { MissingCount: 0 };
            if ((first ? _cancel.IsCancellationRequested : Done) || !tried.Add(string.Join(';', split.Select(row => string.Join(',', row)))))
            {
                continue;
            }

            SolveSplit(split, Open(_unlisted), [], Math.Max(0.2, 0.2 * _limits.Seconds / _component.Groups.Length), _limits.WorkOf(work));
        }
    }

    /// <summary>Solves each group for its share; with what is kept of a plan it becomes a whole plan.</summary>
    private bool SolveSplit(
        int[][] split, int?[] limits, IEnumerable<(Column, int)> kept, double seconds, long work)
    {
        var all = new List<(Column Column, int Count)>(kept);
        var complete = _groups.Solve(split, limits, all, seconds, work, Best is null, () => Left);
        if (complete)
        {
            return _found.Offer(all);
        }

        // Half a plan is none, but its layouts may serve another.
        _found.AddAll(all.Select(entry => entry.Column));
        return false;
    }

    private void Take(ImmutableArray<(Column Column, int Count)> columns) => _found.Offer(columns);

    /// <summary>Column generation over all stocks of the component, the choosing model, and the bound by whole pieces of stock.</summary>
    private void GenerateAndChoose(double deterministicTime)
    {
        var generation = new ColumnGeneration(_component, _demand, _found.Pool, _unlisted, _dropped);
        generation.Run(0.25 * Math.Max(0, Left), () => Best is { MissingCount: 0 } plan ? plan.Cost : null, _cancel);
        (_values, _cuts) = (generation.Values, generation.Cuts);
        _found.Raise(generation.Bound);
        _found.Tell();
        Choose(deterministicTime);
        CountStock(2.0);
        _found.Tell();
        if (Best is null)
        {
            // Limited stock: nothing at all may fit, and that is an answer too.
            Take([]);
        }
    }

    /// <summary>The bound that counts whole pieces of stock, with the last values of column generation.</summary>
    private void CountStock(double deterministicTime)
    {
        if (!Done)
        {
            _found.Raise(StockCountBound.Of(_component, _demand, Cuts, deterministicTime * _limits.Effort, Math.Min(Left, 0.25 * _limits.Seconds), _cancel));
        }
    }

    private void Choose(double deterministicTime) =>
        _found.Choose(_stockLimits, _values, _limits.Seed, deterministicTime * _limits.Effort, Math.Max(0, Math.Min(Left, 0.3 * _limits.Seconds)), _cancel);

    /// <summary>The best plan, or one of the layouts found that costs less with its settings.</summary>
    public Chosen? WithFewSettings() => Best is { MissingCount: 0 } best
        ? FewSettings.Of(_component, best, Columns, _values, _demand, _stockLimits, _limits, _cancel)
        : Best;

    /// <summary>Large-neighbourhood search until the limit, the proof, or a long time without a better plan.</summary>
    private void Improve()
    {
        var idle = 0;
        var reserve = _component.Groups.Length == 1 ? 0 : 0.1 * _limits.Seconds;
        var patience = 60 + (4 * _component.Items);
        // With a limit in work the number of rounds is part of it: the clock must not decide.
        var rounds = _limits.Work is { } work ? Math.Max(_limits.WorkOf(4), work / NeighbourhoodWork) : long.MaxValue;
        for (var round = 1; !Done && Left > reserve && idle < patience && round <= rounds; round++)
        {
            var before = Best!;
            if (_neighbourhoods.Of(before, Open(_unlisted), _values) is { } some)
            {
                SolveSplit(_splits.By(some.Freed, some.Preferred), some.Limits, some.Kept, Math.Min(0.5, 0.08 * _limits.Seconds), _limits.WorkOf(NeighbourhoodWork));
            }

            if (round % 40 == 0 && !Done)
            {
                Choose(1.0);
            }

            idle = ReferenceEquals(before, Best) ? idle + 1 : 0;
        }
    }
}
