using System.Collections.Immutable;
using Google.OrTools.Sat;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>What the pieces of stock that a model uses cost with the suppliers' terms, as part of that model.</summary>
/// <remarks>
/// Variables: y_s pieces used of stock s; e_s pieces of it bought beyond need, to reach a break or a minimum. These go to the rack whole, and are
/// allowed only where the rule for offcuts would keep them.
/// Line: L_s(y_s + e_s) by price breaks (one tier is chosen, the cost is linear within it), at least the line minimum.
/// Order of supplier k: goods G_k = Σ L_s; O_k = max(G_k, minimum order); D_k = delivery, or 0 where O_k reaches the free threshold. At most the
/// allowed number of suppliers.
/// Objective: adds Σ_k (O_k + D_k) − Σ_s keep_s e_s + Σ_{rack s} price_s y_s, and the fuss with each line and each supplier.
/// Exact: the model's cost is that of <see cref="Purchasing"/>.
/// </remarks>
internal sealed class OrderTerms(Job job, CpModel model, LinearExprBuilder objective)
{
    /// <summary>As many pieces as a plan may have of one layout.</summary>
    private const int MostPieces = 1_000_000;

    private readonly Dictionary<string, (LinearExprBuilder Used, StockFrame Frame, int Most)> _stocks = new(StringComparer.Ordinal);
    private readonly List<(IntVar Extra, StockFrame Frame)> _extras = [];

    /// <summary>Pieces that layouts which stay take: they are on the order whatever is planned.</summary>
    private readonly Dictionary<string, int> _taken = KeptLayouts.Stocks(job.Kept);

    /// <summary>Says that up to <paramref name="most"/> more pieces of a stock may be used.</summary>
    public LinearExprBuilder Used(StockFrame frame, int most)
    {
        var known = _stocks.GetValueOrDefault(frame.Stock.Id, (LinearExpr.NewBuilder(), frame, 0));
        _stocks[frame.Stock.Id] = (known.Item1, frame, Math.Max(known.Item3, most));
        return known.Item1;
    }

    /// <summary>Adds the terms of all stock that was named.</summary>
    public void Build()
    {
        foreach (var stock in job.Stocks.Where(stock => !stock.IsLeftover && _taken.ContainsKey(stock.Id)))
        {
            // Their listed price is in the cost of those layouts.
            objective.Add(-(stock.PiecePrice * _taken[stock.Id]).Units);
            Used(_stocks.TryGetValue(stock.Id, out var known) ? known.Frame : new(job, stock, job.SawFor(stock)!), 0);
        }

        var suppliers = new List<BoolVar>();
        var groups = job.Stocks.Where(stock => _stocks.ContainsKey(stock.Id))
            .GroupBy(stock => stock.IsLeftover ? null : stock.Supplier ?? "", StringComparer.OrdinalIgnoreCase);
        foreach (var group in groups)
        {
            if (group.Key is null)
            {
                Rack(group);
            }
            else
            {
                suppliers.Add(OrderFrom(job.SupplierOf(group.Key) ?? new() { Name = group.Key }, [.. group]));
            }
        }

        // No more suppliers than the shop wants to order from.
        if (job.MostSuppliers is { } most)
        {
            model.Add(LinearExpr.Sum(suppliers) <= most);
        }
    }

    /// <summary>Whole pieces bought for the rack in a solution.</summary>
    public ImmutableArray<(StockFrame Frame, int Count)> Extras(CpSolver solver) =>
        [.. _extras.Select(entry => (entry.Frame, Count: (int)solver.Value(entry.Extra))).Where(entry => entry.Count > 0)];

    /// <summary>A whole piece that is bought only to go to the rack.</summary>
    public static Offcut Whole(Job job, StockFrame frame) => CostModel.Judge(job, frame.Stock, frame.Sheet, frame.Sheet);

    /// <summary>Leftovers: no terms, limited count.</summary>
    private void Rack(IEnumerable<Stock> stocks)
    {
        foreach (var stock in stocks)
        {
            var (used, _, most) = _stocks[stock.Id];
            var pieces = model.NewIntVar(0, Math.Min(most, stock.Available ?? int.MaxValue), "");
            model.Add(used == pieces);
            objective.AddTerm(pieces, stock.PiecePrice.Units);
        }
    }

    private BoolVar OrderFrom(Supplier supplier, ImmutableArray<Stock> stocks)
    {
        var orders = model.NewBoolVar("");
        var goods = LinearExpr.NewBuilder();
        long mostGoods = 0;
        foreach (var stock in stocks)
        {
            var (line, mostLine) = Line(stock, supplier, orders);
            goods.Add(line);
            mostGoods += mostLine;
        }

        // Goods are charged at least up to the smallest order.
        var charged = model.NewIntVar(0, Math.Max(mostGoods, supplier.MinimumOrder.Units), "");
        model.Add(charged >= goods);
        model.Add(charged >= LinearExpr.Term(orders, supplier.MinimumOrder.Units));
        objective.Add(charged);
        objective.AddTerm(orders, FussCosts.OfSupplier(job).Units);
        if (supplier.Delivery == Money.Zero || supplier.FreeDeliveryFrom <= supplier.MinimumOrder)
        {
            // Nothing to pay, or every order reaches the threshold.
            return orders;
        }

        if (supplier.FreeDeliveryFrom is not { } threshold)
        {
            objective.AddTerm(orders, supplier.Delivery.Units);
            return orders;
        }

        // Delivery, unless the goods reach the free threshold.
        var pays = model.NewBoolVar("");
        var free = model.NewBoolVar("");
        model.Add(LinearExpr.Sum([pays, free]) >= orders);
        model.Add(goods >= threshold.Units).OnlyEnforceIf(free);
        objective.AddTerm(pays, supplier.Delivery.Units);
        return orders;
    }

    private (IntVar Line, long Most) Line(Stock stock, Supplier supplier, BoolVar orders)
    {
        var (used, frame, most) = _stocks[stock.Id];
        var whole = Whole(job, frame);
        var mayKeep = stock.CutFor is null && whole.Keep;
        if (mayKeep)
        {
            most += MoreThanNeeded(stock, supplier);
        }

        var taken = _taken.GetValueOrDefault(stock.Id);
        most = Math.Min(most, stock.Available ?? int.MaxValue) + taken;
        var extra = model.NewIntVar(0, mayKeep ? most : 0, "");
        _extras.Add((extra, frame));
        objective.AddTerm(extra, -whole.Value.Units);

        // One tier is chosen when anything is bought; within it the cost is constant + price × pieces.
        var bounds = stock.Terms.Breaks.Select(step => step.From).Prepend(1).ToArray();
        var bare = stock.Terms with { LineMinimum = Money.Zero };
        var pieces = LinearExpr.NewBuilder();
        var cost = LinearExpr.NewBuilder();
        var tiers = new List<BoolVar>();
        long mostLine = stock.Terms.LineMinimum.Units;
        for (var t = 0; t < bounds.Length; t++)
        {
            var last = Math.Min(most, t + 1 < bounds.Length ? bounds[t + 1] - 1 : most);
            if (bounds[t] > last)
            {
                continue;
            }

            var tier = model.NewBoolVar("");
            var count = model.NewIntVar(0, last, "");
            model.Add(count >= LinearExpr.Term(tier, bounds[t]));
            model.Add(count <= LinearExpr.Term(tier, last));
            var price = t == 0 ? stock.PiecePrice : stock.Terms.Breaks[t - 1].PiecePrice;
            var constant = bare.LineCost(stock.PiecePrice, bounds[t]) - (price * bounds[t]);
            pieces.Add(count);
            cost.AddTerm(count, price.Units);
            cost.AddTerm(tier, constant.Units);
            tiers.Add(tier);
            model.AddImplication(tier, orders);
            mostLine = Math.Max(mostLine, bare.LineCost(stock.PiecePrice, last).Units);
        }

        foreach (var tier in tiers)
        {
            objective.AddTerm(tier, FussCosts.OfLine(job).Units);
        }

        model.Add(LinearExpr.Sum(tiers) <= 1);
        model.Add(LinearExpr.NewBuilder().Add(used).Add(extra).Add(taken) == pieces);
        var line = model.NewIntVar(0, mostLine, "");
        if (stock.Terms.LineMinimum == Money.Zero)
        {
            model.Add(line == cost);
        }
        else
        {
            // The exact cost: a line that could be dearer than it is would reach the free delivery that it doesn't.
            var minimum = LinearExpr.NewBuilder();
            foreach (var tier in tiers)
            {
                minimum.AddTerm(tier, stock.Terms.LineMinimum.Units);
            }

            model.AddMaxEquality(line, [cost, minimum]);
        }

        return (line, mostLine);
    }

    /// <summary>How many pieces more than needed it may pay to buy: as many as the last break, the smallest line, the smallest order
    /// or free delivery ask for; beyond that each piece only costs.</summary>
    internal static int MoreThanNeeded(Stock stock, Supplier supplier)
    {
        var last = stock.Terms.Breaks.IsEmpty ? 0 : stock.Terms.Breaks[^1].From;
        var goods = Money.Max(Money.Max(supplier.MinimumOrder, supplier.FreeDeliveryFrom ?? Money.Zero), stock.Terms.LineMinimum);
        var lowest = Math.Max(1, stock.Terms.LowestPrice(stock.PiecePrice).Units);
        return (int)Math.Min(MostPieces, Math.Max(last, (goods.Units + lowest - 1) / lowest));
    }
}
