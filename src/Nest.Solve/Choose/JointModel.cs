using System.Collections.Immutable;
using System.Globalization;
using Google.OrTools.Sat;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>The choosing model with the suppliers' terms: it ties all components together.</summary>
/// <remarks>
/// minimise Σ_p (cost_p − metal_p) x_p − Σ_s keep_s e_s + Σ_k (O_k + D_k) + Σ_{rack s} price_s y_s + M Σ u
/// with y_s = Σ_{p on s} x_p + e_s pieces bought of stock s (e_s: bought beyond need to reach a break or a minimum, back to the rack
/// whole), line cost L_s(y_s) by price breaks (one tier chosen, cost linear within it) and line minimum, G_k = Σ L_s,
/// O_k = max(G_k, minimum order), D_k = delivery unless G_k reaches the free threshold, at most the allowed number of suppliers.
/// CP-SAT, one worker, fixed seed, deterministic limit. Optimal over the given columns only.
/// </remarks>
internal sealed class JointModel
{
    private readonly Job _job;
    private readonly ImmutableArray<Component> _components;
    private readonly ImmutableArray<ImmutableArray<Column>> _columns;
    private readonly CpModel _model = new();
    private readonly LinearExprBuilder _objective = LinearExpr.NewBuilder();
    private readonly List<IntVar[]> _use = [];
    private readonly Dictionary<string, (IntVar Extra, StockFrame Frame)> _extras = new(StringComparer.Ordinal);

    /// <param name="columns">Per component, costed with the listed price of one piece as metal.</param>
    public JointModel(Job job, ImmutableArray<Component> components, ImmutableArray<ImmutableArray<Column>> columns)
    {
        _job = job;
        _components = components;
        _columns = columns;
        Build();
    }

    /// <summary>Columns with counts per component, and whole pieces bought for the rack; null when nothing was found in time.</summary>
    public (ImmutableArray<ImmutableArray<(Column Column, int Count)>> Chosen, ImmutableArray<(StockFrame Frame, int Count)> Extras)? Solve(
        double deterministicTime, double seconds, int seed, CancellationToken cancel)
    {
        using var solver = new CpSolver();
        solver.StringParameters = string.Create(
            CultureInfo.InvariantCulture,
            $"num_workers:1 random_seed:{seed} max_deterministic_time:{deterministicTime} max_time_in_seconds:{seconds} linearization_level:2");
        using var registration = cancel.Register(solver.StopSearch);
        var status = solver.Solve(_model);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            return null;
        }

        var chosen = _use.Select((use, c) => use
            .Select((variable, p) => (Column: _columns[c][p], Count: (int)solver.Value(variable)))
            .Where(entry => entry.Count > 0).ToImmutableArray()).ToImmutableArray();
        var extras = _extras.Values.Select(entry => (entry.Frame, Count: (int)solver.Value(entry.Extra)))
            .Where(entry => entry.Count > 0).ToImmutableArray();
        return (chosen, extras);
    }

    private void Build()
    {
        var used = new Dictionary<string, LinearExprBuilder>(StringComparer.Ordinal);
        var frames = new Dictionary<string, (StockFrame Frame, int Most)>(StringComparer.Ordinal);
        for (var c = 0; c < _components.Length; c++)
        {
            Cover(c, used, frames);
        }

        var suppliers = new List<BoolVar>();
        var bySupplier = _job.Stocks.Where(stock => frames.ContainsKey(stock.Id))
            .GroupBy(stock => stock.IsLeftover ? null : stock.Supplier ?? "", StringComparer.OrdinalIgnoreCase);
        foreach (var group in bySupplier)
        {
            if (group.Key is null)
            {
                Rack(group, used, frames);
            }
            else
            {
                suppliers.Add(OrderFrom(_job.SupplierOf(group.Key) ?? new() { Name = group.Key }, [.. group], used, frames));
            }
        }

        // No more suppliers than the shop wants to order from.
        if (_job.MostSuppliers is { } most)
        {
            _model.Add(LinearExpr.Sum(suppliers) <= most);
        }

        _model.Minimize(_objective);
    }

    private void Cover(int c, Dictionary<string, LinearExprBuilder> used, Dictionary<string, (StockFrame, int)> frames)
    {
        var component = _components[c];
        var columns = _columns[c];
        var use = new IntVar[columns.Length];
        var demand = component.Blanks.Select(blank => blank.Demand).ToArray();
        for (var p = 0; p < columns.Length; p++)
        {
            var column = columns[p];
            var most = 0;
            for (var i = 0; i < demand.Length; i++)
            {
                var per = column.Counts[i];
                most = per == 0 ? most : Math.Max(most, (demand[i] + per - 1) / per);
            }

            use[p] = _model.NewIntVar(0, most, "");
            var frame = component.Stocks[column.Stock];
            _objective.AddTerm(use[p], column.Cost - column.Layout.Cost.Metal.Units);
            var id = frame.Stock.Id;
            used.TryAdd(id, LinearExpr.NewBuilder());
            used[id].Add(use[p]);
            var before = frames.TryGetValue(id, out var seen) ? seen.Item2 : 0;
            frames[id] = (frame, Math.Max(before, demand.Sum()));
        }

        var dearest = columns.Length == 0 ? 1 : columns.Max(column => Math.Max(1, column.Cost));
        for (var i = 0; i < demand.Length; i++)
        {
            var missing = _model.NewIntVar(0, demand[i], "");
            var sum = LinearExpr.NewBuilder().Add(missing);
            for (var p = 0; p < columns.Length; p++)
            {
                sum.AddTerm(use[p], columns[p].Counts[i]);
            }

            _model.Add(sum >= demand[i]);
            _objective.AddTerm(missing, checked((dearest * 4) + (10_000 * Money.UnitsPerCurrency)));
        }

        _use.Add(use);
    }

    /// <summary>Leftovers: no terms, limited count.</summary>
    private void Rack(
        IEnumerable<Stock> stocks, Dictionary<string, LinearExprBuilder> used, Dictionary<string, (StockFrame Frame, int Most)> frames)
    {
        foreach (var stock in stocks)
        {
            var pieces = _model.NewIntVar(0, stock.Available ?? frames[stock.Id].Most, "");
            _model.Add(used[stock.Id] == pieces);
            _objective.AddTerm(pieces, stock.PiecePrice.Units);
        }
    }

    private BoolVar OrderFrom(
        Supplier supplier, ImmutableArray<Stock> stocks, Dictionary<string, LinearExprBuilder> used,
        Dictionary<string, (StockFrame Frame, int Most)> frames)
    {
        var orders = _model.NewBoolVar("");
        var goods = LinearExpr.NewBuilder();
        long mostGoods = 0;
        foreach (var stock in stocks)
        {
            var most = Math.Max(frames[stock.Id].Most, stock.Terms.Breaks.Select(step => step.From).DefaultIfEmpty(0).Max());
            most = Math.Min(most, stock.Available ?? int.MaxValue);
            var (line, mostLine) = Line(stock, frames[stock.Id].Frame, most, used[stock.Id], orders);
            goods.Add(line);
            mostGoods += mostLine;
        }

        // Goods are charged at least up to the smallest order.
        var charged = _model.NewIntVar(0, Math.Max(mostGoods, supplier.MinimumOrder.Units), "");
        _model.Add(charged >= goods);
        _model.Add(charged >= LinearExpr.Term(orders, supplier.MinimumOrder.Units));
        _objective.Add(charged);

        // Delivery, unless the goods reach the free threshold.
        if (supplier.Delivery > Money.Zero && supplier.FreeDeliveryFrom is null)
        {
            _objective.AddTerm(orders, supplier.Delivery.Units);
        }
        else if (supplier.Delivery > Money.Zero && supplier.FreeDeliveryFrom is { } threshold && threshold > supplier.MinimumOrder)
        {
            var pays = _model.NewBoolVar("");
            var free = _model.NewBoolVar("");
            _model.Add(LinearExpr.Sum([pays, free]) >= orders);
            _model.Add(goods >= threshold.Units).OnlyEnforceIf(free);
            _objective.AddTerm(pays, supplier.Delivery.Units);
        }

        return orders;
    }

    private (IntVar Line, long Most) Line(Stock stock, StockFrame frame, int most, LinearExprBuilder used, BoolVar orders)
    {
        var whole = ExtraOf(_job, frame);
        var extra = _model.NewIntVar(0, stock.CutFor is null && whole.Keep ? most : 0, "");
        _extras[stock.Id] = (extra, frame);
        _objective.AddTerm(extra, -whole.Value.Units);

        // One tier is chosen when anything is bought; within it the cost is constant + price × pieces.
        var bounds = stock.Terms.Breaks.Select(step => step.From).Prepend(1).ToArray();
        var pieces = LinearExpr.NewBuilder();
        var cost = LinearExpr.NewBuilder();
        var tiers = LinearExpr.NewBuilder();
        for (var t = 0; t < bounds.Length; t++)
        {
            var last = Math.Min(most, t + 1 < bounds.Length ? bounds[t + 1] - 1 : most);
            if (bounds[t] > last)
            {
                continue;
            }

            var tier = _model.NewBoolVar("");
            var count = _model.NewIntVar(0, last, "");
            _model.Add(count >= LinearExpr.Term(tier, bounds[t]));
            _model.Add(count <= LinearExpr.Term(tier, last));
            var bare = stock.Terms with { LineMinimum = Money.Zero };
            var price = t == 0 ? stock.PiecePrice : stock.Terms.Breaks[t - 1].PiecePrice;
            var constant = bare.LineCost(stock.PiecePrice, bounds[t]) - (price * bounds[t]);
            pieces.Add(count);
            cost.AddTerm(count, price.Units);
            cost.AddTerm(tier, constant.Units);
            tiers.Add(tier);
            _model.AddImplication(tier, orders);
        }

        _model.Add(tiers <= 1);
        used.Add(extra);
        _model.Add(used == pieces);
        var mostLine = Math.Max(stock.Terms.LineMinimum.Units, stock.PiecePrice.Units * most);
        var line = _model.NewIntVar(0, mostLine, "");
        _model.Add(line >= cost);
        if (stock.Terms.LineMinimum > Money.Zero)
        {
            _model.Add(line >= tiers * stock.Terms.LineMinimum.Units);
        }

        return (line, mostLine);
    }

    /// <summary>A whole piece that is bought only to go to the rack.</summary>
    internal static Offcut ExtraOf(Job job, StockFrame frame) => CostModel.Judge(job, frame.Stock, frame.Sheet, frame.Sheet);
}
