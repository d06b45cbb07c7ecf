using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Exact;

namespace Nest.Solve.Choose;

/// <summary>Solves one component: which form each blank comes from, and the layouts, at the least cost found, with a bound.</summary>
/// <remarks>
/// (1) Start plans by rule (each blank on its cheapest group, all on one form, …), by the kernels, on a shortlist of stocks; plates of the best for a moment by what they truly cost. (2) On plates the exact method, to a share of the time.
/// Where its bound comes near the others: (3) column generation over all stocks: duals, new columns and the bound (<see cref="DualBound"/>), after which stocks that no
/// better plan can use are dropped; the choosing model over all columns; the kernel of the only group (exact on bars); plates by what they truly cost
/// (<see cref="PlateAnnealing"/>); the exact method again.
/// Where it does not, or the demand allows so many loads that it is not asked: (3) the kernels, then plates by what they truly cost, and beside it the bound over whole pieces of stock.
/// (4) Of several groups: large-neighbourhood search, in which pieces are split anew between them (<see cref="SplitSearch"/>).
/// There is always a plan in hand. Deterministic for the same effort when the clock does not cut it short. Guarantee: heuristic plan, valid bound.
/// </remarks>
internal sealed class ComponentSolver
{
    private const long StartWork = 400_000;

    // Where the exact method takes few steps a pricing it is what closes the gap: it has most of the time, in one piece, as a list that was broken off is made anew.
    private const double QuickShare = 0.85;
    private const double QuickKernel = 0.3;
    private const double QuickLast = 0.95;

    // Else it has to say soon that it is of use. Six made jobs of 8 and 12 kinds on large plates, 15 s: gaps of 1.8 to 14.3 % instead of 2.1 to 16.3.
    private const double FirstSearch = 0.05;
    private const double FirstProof = 0.45;
    private const double Annealing = 0.2;
    private const double StepsByPiece = 2000;

    /// <summary>Share of the highest bound that the exact method's own has to reach: 0.2 to 0.8 on those six jobs, soon 0.95 where it is of use.</summary>
    private const double Promising = 0.9;

    // Three made shop jobs of 25 kinds, 15 s: gaps of 1.6, 0.9 and 2.0 % (1.8, 2.2, 4.1 with column generation and neighbourhoods); with 0.2 to 0.6 of the time for the kernel the same.
    private const long ManyKindsStart = 50_000;
    private const double SearchKernel = 0.4;
    private const double SearchBesideCount = 0.8;
    private const double SearchSplits = 0.6;

    private readonly Component _component;
    private readonly SolveLimits _limits;
    private readonly CancellationToken _cancel;
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly Random _random;
    private readonly int[] _demand;
    private readonly int?[] _stockLimits;
    private readonly SplitSearch _splits;
    private readonly ExactChain _exact;
    private readonly ComponentFindings _found;

    /// <summary>Stocks that the searches leave out at first; they come back when pricing finds a column on them.</summary>
    private readonly bool[] _unlisted;

    /// <summary>Stocks proven to be in no plan cheaper than the best.</summary>
    private readonly bool[] _dropped;

    /// <summary>Highest bound of the exact method, in money units.</summary>
    private long _proven = long.MinValue;
    private long[]? _values;
    private IReadOnlyList<(long[] Values, long[] Best)> _cuts = [];

    /// <param name="improved">Called with each better plan and the bound so far.</param>
    public ComponentSolver(Component component, SolveLimits limits, Action<Chosen, Bound> improved, CancellationToken cancel)
    {
        (_component, _limits, _cancel, _random) = (component, limits, cancel, new(limits.Seed));
        (_demand, _stockLimits) = ([.. component.Demand], [.. component.Stocks.Select(frame => frame.Stock.Available)]);
        (_unlisted, _dropped) = ([.. Estimates.Shortlist(component, 4, 12).Select(listed => !listed)], new bool[component.Stocks.Length]);
        _exact = ExactChain.For(component);
        _found = new(component, _demand, improved);
        _found.Raise(SizeBound.Of(component, _demand));
        _splits = new(component, _found, limits, _random, () => Left, () => Done, cancel);
    }

    public Chosen? Best => _found.Best;

    public IReadOnlyList<Column> Columns => _found.Columns;

    /// <summary>Values of the blanks with the proven best worth of a layout on each stock, the last rounds of column generation.</summary>
    public IReadOnlyList<(long[] Values, long[] Best)> Cuts => [.. _cuts.TakeLast(6)];

    /// <summary>No plan for this component costs less.</summary>
    public Bound Bound => _found.Bound;

    private double Left => _limits.Seconds - _clock.Elapsed.TotalSeconds;

    /// <summary>With a limit in work the plan must not depend on how many there are.</summary>
    private int Threads => _limits.Work is null ? _limits.Threads : 1;

    private bool Done => _cancel.IsCancellationRequested || Left <= 0 || _found.IsProven;

    private bool IsOneGroup => _component.Groups.Length == 1;

    /// <summary>Begins from a known plan and known layouts of this component.</summary>
    public void Start(Chosen plan, IEnumerable<Column> columns)
    {
        _found.AddAll(columns);
        Take(plan.Columns);
    }

    public void Run()
    {
        var plates = _component.Groups.Any(group => !group.IsBar);
        if (_exact.HasManyLoads && plates)
        {
            _splits.Start(() => Open(_unlisted), ManyKindsStart);
            Search();
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

        _splits.Start(() => Open(_unlisted), StartWork);
        Anneal(FirstSearch * Left, StepsByPiece);
        if (!atOnce && _limits.Proves)
        {
            if (!quick && plates)
            {
                Kernel(FirstSearch * Left, Threads);
            }

            Prove((quick ? QuickShare : FirstProof) * Left);
            if (Done)
            {
                return;
            }

            if (!quick && plates && _found.Bound.Value is { } bound && _proven < Promising * bound.Units)
            {
                Search();
                return;
            }
        }

        GenerateAndChoose(2.0);
        if (IsOneGroup && !Done && Best is { MissingCount: 0 })
        {
            Kernel((!plates ? 1.0 : quick ? QuickKernel : 0.7) * Left, threads: 1);
            Choose(2.0);
            if (!plates)
            {
                return;
            }

            Anneal(Annealing * Left, StepsByPiece);
        }

        if (_limits.Proves && !Done)
        {
            // It goes on where it was, with the better plan that the other steps have found.
            Prove((quick ? QuickLast : 0.6) * Left);
        }

        Improve(0.1 * _limits.Seconds);
        Anneal(Left, StepsByPiece);
    }

    /// <summary>Plates where the exact method has nothing to say.</summary>
    private void Search()
    {
        _splits.Again(SearchKernel * Left, Open(_unlisted), Threads);
        var inLots = IsOneGroup && _demand.Sum(count => (long)count) > Lots.MostPieces;
        Kernel(inLots ? 0 : SearchKernel * Left, Threads);
        if (Best is not { MissingCount: 0 })
        {
            GenerateAndChoose(2.0);
        }

        if (_limits is { Proves: true, Work: not null } && !_exact.HasManyLoads)
        {
            // Where little work is allowed it may not have come so far yet, and what it takes is limited.
            Prove(Left);
        }

        Action<double, int> search = !IsOneGroup ? (seconds, _) => Improve(Left - seconds)
            : inLots ? (seconds, threads) => _splits.InLots(seconds, Open(_unlisted), threads)
            : (seconds, threads) => Anneal(seconds, double.PositiveInfinity, threads);
        BesideCount((IsOneGroup ? SearchBesideCount : SearchSplits) * Left, search);
        Anneal(Left, double.PositiveInfinity);
    }

    /// <summary>With a second thread the bound by whole pieces beside a search, else before it.</summary>
    private void BesideCount(double seconds, Action<double, int> search)
    {
        if (Done)
        {
            return;
        }

        if (Threads < 2)
        {
            CountStock(2.0);
            search(seconds, 1);
            return;
        }

        var count = Task.Run(() => CountedStock(double.MaxValue, seconds), CancellationToken.None);
        search(seconds, Threads - 1);
        _found.Raise(count.GetAwaiter().GetResult());
        _found.Tell();
    }

    private void Anneal(double seconds, double stepsByPiece, int? threads = null)
    {
        foreach (var group in _component.Groups.Where(group => !group.IsBar))
        {
            if (!Done && Best is { MissingCount: 0 } best)
            {
                var share = seconds / _component.Groups.Count(one => !one.IsBar);
                Take(PlateAnnealing.Run(_component, group, best, _stockLimits, _limits with { Seconds = share, Threads = threads ?? Threads, Seed = _random.Next(1, int.MaxValue) }, stepsByPiece, _cancel));
            }
        }
    }

    /// <summary>The kernel of the only group. What was dropped cannot be part of a cheaper plan: its bound holds for the whole component.</summary>
    private void Kernel(double seconds, int threads)
    {
        if (Done || Best is not { MissingCount: 0 } || !IsOneGroup || seconds <= 0)
        {
            return;
        }

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
            _proven = Math.Max(_proven, bound);
            _found.Raise(Bound.Of(Money.FromUnits(bound), Methods.LoadsWithinGap, BoundScope.Component));
            _found.Tell();
        }
    }

    /// <summary>How many of each stock may be used, without the ones marked.</summary>
    private int?[] Open(bool[] without) => [.. _stockLimits.Select((limit, s) => without[s] ? 0 : limit)];

    private void Improve(double reserve) => _splits.Improve(reserve, () => Open(_unlisted), _values, () => Choose(1.0));

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
            _found.Raise(CountedStock(deterministicTime * _limits.Effort, 0.25 * _limits.Seconds));
        }
    }

    private Bound CountedStock(double deterministicTime, double seconds) =>
        StockCountBound.Of(_component, _demand, Cuts, deterministicTime, Math.Min(Left, seconds), _cancel);

    private void Choose(double deterministicTime) =>
        _found.Choose(_stockLimits, _values, _limits.Seed, deterministicTime * _limits.Effort, Math.Max(0, Math.Min(Left, 0.3 * _limits.Seconds)), _cancel);

    /// <summary>The best plan, or one of the layouts found that costs less with its settings.</summary>
    public Chosen? WithFewSettings() => Best is { MissingCount: 0 } best
        ? FewSettings.Of(_component, best, Columns, _values, _demand, _stockLimits, _limits, _cancel)
        : Best;
}
