using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Solves a job whose components are tied together by purchase terms (price breaks, minimums, delivery, number of
/// suppliers).</summary>
/// <remarks>
/// The components are solved apart under each <see cref="Scenario"/>; all their layouts, costed at listed prices, go into one
/// <see cref="JointModel"/>; the best of its plan and of the scenarios' own plans counts. Small components get every layout there is
/// (<see cref="AllColumns"/>), so that the model is exact on them.
/// Bound, the best of three: the cheapest plan uses exactly some set of suppliers, and for each set Σ of the components' bounds at the
/// lowest prices plus the deliveries that nothing waives is below every plan that uses exactly this set, so the least over all sets is
/// valid (with more than four suppliers only the set of all is solved, and no delivery is counted); <see cref="JointBound"/>; and
/// where every layout is known, the choosing model's own bound over their lower costs.
/// </remarks>
internal sealed class JointSolver(
    Job job, ImmutableArray<Blank> blanks, ImmutableArray<Component> components, SolveLimits limits, CancellationToken cancel)
{
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly ColumnPool[] _pools = [.. components.Select(_ => new ColumnPool())];
    private readonly ImmutableArray<Column>[] _all = new ImmutableArray<Column>[components.Length];
    private readonly bool[] _exact = new bool[components.Length];
    private readonly ImmutableArray<Component> _lowest = Components.Of(Scenario.AllAtLowest(job), blanks);
    private readonly JointBound.Share?[] _shares = new JointBound.Share?[components.Length];
    private readonly Dictionary<string, Solved> _solved = new(StringComparer.Ordinal);
    private int _chosenFrom = -1;
    private Money? _bestCost;

    /// <summary>Best plan of each component with its bound's share (the bound is for the whole: it stands with the first).</summary>
    public (Chosen? Best, long Bound)[] Answers { get; } = new (Chosen?, long)[components.Length];

    public ImmutableArray<(StockFrame Frame, int Count)> Extras { get; private set; } = [];

    /// <summary>Whether purchase terms matter for this job at all.</summary>
    public static bool IsTied(Job job, ImmutableArray<Component> components)
    {
        var bought = components.SelectMany(component => component.Stocks).Select(frame => frame.Stock).Where(stock => !stock.IsLeftover).ToList();
        var suppliers = bought.Select(Scenario.Key).Distinct(StringComparer.Ordinal).Count();
        return bought.Any(stock => !stock.Terms.IsPlain || (job.SupplierOf(stock.Supplier ?? "") is { IsPlain: false }))
            || (job.MostSuppliers is { } most && most < suppliers);
    }

    public Money Bound { get; private set; }

    public void Run(Action<Money, Money>? progress)
    {
        for (var c = 0; c < components.Length; c++)
        {
            (_all[c], _exact[c]) = AllColumns.Of(components[c], cancel);
            AddAll(c, _all[c]);
        }

        // With every layout known, the choosing model alone finds the best plan and proves it.
        Money? least = null;
        if (_exact.All(exact => exact))
        {
            Choose(4.0);
            Raise(AllColumnsBound(4.0));
            progress?.Invoke(_bestCost ?? Money.Zero, Bound);
        }

        var scenarios = Scenario.Of(job, components.SelectMany(component => component.Stocks).Select(frame => frame.Stock));
        var suppliers = scenarios.SelectMany(scenario => scenario.Suppliers).Distinct(StringComparer.Ordinal).Count();
        var sets = suppliers <= Scenario.MostForSets;
        var until = 0.7 * limits.Seconds;
        var looked = 0;
        for (; looked < scenarios.Length && !Done && (looked <= 1 || _clock.Elapsed.TotalSeconds < until); looked++)
        {
            var scenario = scenarios[looked];
            var left = until - _clock.Elapsed.TotalSeconds;

            // The first two (all suppliers, at listed and at lowest prices) do most: the others differ from them in few components.
            var bound = Solve(scenario, Math.Max(0.1, left / (looked <= 1 ? 3 : scenarios.Length - looked)));
            if (scenario.Lowest && bound is { } valid && (sets || scenario.Suppliers.Count == scenarios[0].Suppliers.Count))
            {
                var whole = sets ? valid + scenario.LeastTerms(job) : valid;
                least = least is { } before ? Money.Min(before, whole) : whole;
            }

            if (scenario.Lowest && bound is { } open && scenario.Suppliers.Count == suppliers)
            {
                // With every supplier open and no terms at all nothing can cost more than it does with them.
                Raise(open);
            }

            // The set of all suppliers comes first: from then on all that the joint bound needs is known.
            if (scenario.Lowest && looked <= 1 && _shares.All(share => share is not null))
            {
                Raise(JointBound.Of(job, [.. _shares.OfType<JointBound.Share>()], 4.0, Math.Max(0.5, 0.2 * limits.Seconds), cancel));
            }

            Choose(1.0, onlyNew: true);
            progress?.Invoke(_bestCost ?? Money.Zero, Bound);
        }

        if (!Done)
        {
            // Only when every set has been looked at is the least of them a bound.
            Raise(looked == scenarios.Length ? least ?? Money.Zero : Money.Zero);
            Choose(8.0);
        }
    }

    /// <summary>Proven, to less than a cent.</summary>
    private bool Done => _bestCost is { } cost && (cost - Bound).Units < Money.UnitsPerCurrency / 100 && Answers.All(answer => answer.Best is { MissingCount: 0 });

    private void Raise(Money bound) => Bound = Money.Max(Bound, bound);

    private Money AllColumnsBound(double deterministicTime) => components.All(component => component.LowerCosts.Valid)
        ? new JointModel(job, components, [.. _all], [.. _exact], lower: true)
            .Solve(deterministicTime, Math.Max(0.5, 0.3 * limits.Seconds), limits.Seed, null, cancel)?.Bound ?? Money.Zero
        : Money.Zero;

    /// <summary>Solves every component under the scenario; returns the sum of their bounds, or null when some part has no stock under
    /// it (then no plan uses exactly these suppliers).</summary>
    private Money? Solve(Scenario scenario, double seconds)
    {
        var own = Components.Of(scenario.Apply(job), blanks);
        var keys = own.Select((component, c) => KeyOf(component, c, scenario)).ToArray();
        var open = Enumerable.Range(0, own.Length).Where(c => !_solved.ContainsKey(keys[c])).ToArray();
        var weights = Math.Max(1, open.Sum(c => own[c].Items));
        var threads = Math.Clamp(limits.Threads, 1, Math.Max(1, open.Length));
        var solved = new Solved[open.Length];
        Parallel.For(0, open.Length, new() { MaxDegreeOfParallelism = threads }, at =>
        {
            var component = own[open[at]];
            if (Enumerable.Range(0, component.Items).Any(i =>
                Enumerable.Range(0, component.Stocks.Length).All(s => component.Fits[s, i] is null || component.Stocks[s].Stock.Available == 0)))
            {
                solved[at] = new(null, Money.Zero, [], [], Feasible: false);
                return;
            }

            var solver = new ComponentSolver(
                component, limits with { Seconds = seconds * threads * component.Items / weights, Threads = 1 }, (_, _) => { }, cancel);
            solver.Run();
            solved[at] = new(solver.Best, Money.FromUnits(solver.Bound), [.. solver.Columns], solver.Cuts, Feasible: true);
        });

        // Taken in by order, not by who was ready first.
        for (var at = 0; at < open.Length; at++)
        {
            var (c, answer) = (open[at], solved[at]);
            _solved[keys[c]] = answer;
            AddAll(c, answer.Columns);
            AddAll(c, answer.Best?.Columns.Select(entry => entry.Column) ?? []);
        }

        for (var c = 0; scenario.Lowest && c < keys.Length; c++)
        {
            // The same component with every supplier open: what was proven of the layouts holds whoever may sell them.
            _shares[c] ??= _solved[keys[c]] is { Feasible: true } answer ? new(_lowest[c], answer.Cuts) : null;
        }

        var answers = keys.Select(key => _solved[key]).ToList();
        if (answers.Any(answer => !answer.Feasible))
        {
            return null;
        }

        if (answers.All(answer => answer.Best is not null))
        {
            // A new plan, not a copy: its cost is that of the columns at listed prices.
            Offer([.. answers.Select(answer => new Chosen([.. answer.Best!.Columns.Select(entry => (Rebase(entry.Column), entry.Count))], answer.Best.Missing))], []);
        }

        return answers.Aggregate(Money.Zero, (sum, answer) => sum + answer.Bound);
    }

    /// <summary>What of the scenario matters to a component: which of its suppliers are open and, where it has breaks, the prices.</summary>
    private static string KeyOf(Component component, int c, Scenario scenario)
    {
        var bought = component.Stocks.Select(frame => frame.Stock).Where(stock => !stock.IsLeftover).ToList();
        var names = bought.Select(Scenario.Key).Where(scenario.Suppliers.Contains).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);
        var lowest = scenario.Lowest && bought.Any(stock => !stock.Terms.Breaks.IsEmpty);
        return $"{c}|{lowest}|{string.Join('|', names)}";
    }

    /// <summary>A component's answer under a scenario.</summary>
    private sealed record Solved(
        Chosen? Best, Money Bound, ImmutableArray<Column> Columns, IReadOnlyList<(long[] Values, long[] Best)> Cuts, bool Feasible);

    private void AddAll(int c, IEnumerable<Column> columns)
    {
        foreach (var column in columns)
        {
            _pools[c].Add(Rebase(column));
        }
    }

    /// <summary>The column at the listed price of one piece.</summary>
    private Column Rebase(Column column)
    {
        var price = job.Stocks.First(stock => stock.Id == column.Layout.StockId).PiecePrice;
        var cost = column.Layout.Cost with { Metal = price };
        return column with { Cost = cost.Total.Units, Layout = column.Layout with { Cost = cost } };
    }

    private void Choose(double deterministicTime, bool onlyNew = false)
    {
        var left = limits.Seconds - _clock.Elapsed.TotalSeconds;
        var known = _pools.Sum(pool => pool.Columns.Count);
        if (cancel.IsCancellationRequested || (onlyNew && known == _chosenFrom))
        {
            return;
        }

        _chosenFrom = known;

        var columns = _pools.Select((pool, c) => _exact[c] ? _all[c] : [.. pool.Columns]).ToImmutableArray();
        var model = new JointModel(job, components, columns, [.. _exact]);
        ImmutableArray<Dictionary<string, int>>? hint = Answers.All(answer => answer.Best is not null)
            ? [.. Answers.Select(answer => answer.Best!.Columns.GroupBy(entry => entry.Column.Key)
                .ToDictionary(group => group.Key, group => group.Sum(entry => entry.Count), StringComparer.Ordinal))]
            : null;
        if (model.Solve(deterministicTime, Math.Max(0.5, left), limits.Seed, hint, cancel) is not { } answer)
        {
            return;
        }

        Offer(
            [.. answer.Chosen.Select((columns, c) => Surplus.TakeOut(
                components[c], columns, components[c].Blanks.Select(blank => blank.Demand).ToArray()))],
            answer.Extras);
    }

    /// <summary>Keeps the plan when it leaves no more pieces out and is cheaper with all terms.</summary>
    private void Offer(ImmutableArray<Chosen> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        var missing = plan.Sum(chosen => chosen.MissingCount);
        if (Orders(plan, extras).Length > job.MostSuppliers)
        {
            return;
        }

        var cost = CostOf(plan, extras);
        var before = Answers.Sum(answer => answer.Best?.MissingCount ?? 0);
        if (_bestCost is { } best && (missing > before || (missing == before && cost >= best)))
        {
            return;
        }

        _bestCost = cost;
        Extras = extras;
        for (var c = 0; c < plan.Length; c++)
        {
            Answers[c] = (plan[c], 0);
        }
    }

    private Money CostOf(ImmutableArray<Chosen> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        var cost = Money.FromUnits(plan.Sum(chosen => chosen.Cost));
        foreach (var (frame, count) in extras)
        {
            cost += (frame.Stock.PiecePrice - OrderTerms.Whole(job, frame).Value) * count;
        }

        return cost + Purchasing.Terms(Orders(plan, extras));
    }

    private ImmutableArray<Order> Orders(ImmutableArray<Chosen> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        var counts = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var (column, count) in plan.SelectMany(chosen => chosen.Columns))
        {
            counts[column.Layout.StockId] = counts.GetValueOrDefault(column.Layout.StockId) + count;
        }

        foreach (var (frame, count) in extras)
        {
            counts[frame.Stock.Id] = counts.GetValueOrDefault(frame.Stock.Id) + count;
        }

        return Purchasing.Orders(job, counts);
    }
}
