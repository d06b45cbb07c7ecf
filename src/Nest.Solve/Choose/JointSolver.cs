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
/// Bound: the cheapest plan uses exactly some set of suppliers; for each set, Σ of the components' bounds at the lowest prices plus
/// the deliveries that nothing waives is below every plan that uses exactly this set; the least over all sets is valid. With more
/// than four suppliers: the set of all, without deliveries.
/// </remarks>
internal sealed class JointSolver(
    Job job, ImmutableArray<Blank> blanks, ImmutableArray<Component> components, SolveLimits limits, CancellationToken cancel)
{
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly ColumnPool[] _pools = [.. components.Select(_ => new ColumnPool())];
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
        foreach (var (component, c) in components.Select((component, c) => (component, c)))
        {
            AddAll(c, AllColumns.Of(component, limits, cancel));
        }

        var scenarios = Scenario.Of(job, components.SelectMany(component => component.Stocks).Select(frame => frame.Stock));
        Money? least = null;
        for (var n = 0; n < scenarios.Length; n++)
        {
            var left = limits.Seconds - _clock.Elapsed.TotalSeconds;
            var seconds = Math.Max(0.2, 0.75 * left / (scenarios.Length - n));
            var bound = Solve(scenarios[n], seconds);
            if (scenarios[n].Lowest && bound is { } valid)
            {
                var whole = valid + scenarios[n].LeastTerms(job);
                least = least is { } before ? Money.Min(before, whole) : whole;
            }

            Choose(1.0);
            progress?.Invoke(_bestCost ?? Money.Zero, least ?? Money.Zero);
        }

        Bound = least ?? Money.Zero;
        Choose(8.0);
    }

    /// <summary>Solves every component under the scenario; returns the sum of their bounds, or null when some part has no stock under
    /// it (then no plan uses exactly these suppliers).</summary>
    private Money? Solve(Scenario scenario, double seconds)
    {
        var plain = scenario.Apply(job);
        var own = Components.Of(plain, blanks);
        var bound = Money.Zero;
        var feasible = true;
        var weights = own.Sum(component => (double)component.Items);
        var chosen = new List<Chosen>();
        foreach (var (component, c) in own.Select((component, c) => (component, c)))
        {
            if (Enumerable.Range(0, component.Items).Any(i =>
                Enumerable.Range(0, component.Stocks.Length).All(s => component.Fits[s, i] is null || component.Stocks[s].Stock.Available == 0)))
            {
                feasible = false;
                continue;
            }

            var solver = new ComponentSolver(
                component, limits with { Seconds = seconds * component.Items / weights, Threads = 1 }, (_, _) => { }, cancel);
            solver.Run();
            AddAll(c, solver.Columns);
            bound += Money.FromUnits(solver.Bound);
            if (solver.Best is { } best)
            {
                chosen.Add(best);
                AddAll(c, best.Columns.Select(entry => entry.Column));
            }
        }

        if (feasible && chosen.Count == own.Length)
        {
            Offer([.. chosen.Select(plan => plan with { Columns = [.. plan.Columns.Select(entry => (Rebase(entry.Column), entry.Count))] })], []);
        }

        return feasible ? bound : null;
    }

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

    private void Choose(double deterministicTime)
    {
        var left = limits.Seconds - _clock.Elapsed.TotalSeconds;
        if (cancel.IsCancellationRequested)
        {
            return;
        }

        var model = new JointModel(job, components, [.. _pools.Select(pool => pool.Columns.ToImmutableArray())]);
        if (model.Solve(deterministicTime, Math.Max(0.5, left), limits.Seed, cancel) is not { } answer)
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
        var counts = new Dictionary<string, int>(StringComparer.Ordinal);
        var cost = Money.FromUnits(plan.Sum(chosen => chosen.Cost));
        foreach (var (column, count) in plan.SelectMany(chosen => chosen.Columns))
        {
            counts[column.Layout.StockId] = counts.GetValueOrDefault(column.Layout.StockId) + count;
        }

        foreach (var (frame, count) in extras)
        {
            counts[frame.Stock.Id] = counts.GetValueOrDefault(frame.Stock.Id) + count;
            cost += (frame.Stock.PiecePrice - JointModel.ExtraOf(job, frame).Value) * count;
        }

        return cost + Purchasing.Terms(Purchasing.Orders(job, counts));
    }
}
