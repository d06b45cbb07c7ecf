using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>What is bought, and on what terms.</summary>
internal static class RulesOrders
{
    /// <summary>The plan's orders are those of its layouts: counts, price breaks, line minimum, top-up and delivery.</summary>
    /// <returns>What the right orders cost beyond listed prices, and the fuss with their lines and suppliers, in units of money.</returns>
    public static Int128 Lines(PlanFacts facts)
    {
        var used = new Dictionary<string, long>(StringComparer.Ordinal);
        foreach (var layout in facts.Plan.Layouts)
        {
            used[layout.StockId] = used.GetValueOrDefault(layout.StockId) + layout.Count;
        }

        var right = new Dictionary<string, List<(string Stock, long Count, Int128 Listed, Int128 Cost)>>(StringComparer.OrdinalIgnoreCase);
        foreach (var stock in facts.Stocks.Values)
        {
            if (stock.RackMark is null && used.GetValueOrDefault(stock.Id) is > 0 and var count)
            {
                var supplier = stock.Supplier ?? "";
                if (!right.TryGetValue(supplier, out var lines))
                {
                    right.Add(supplier, lines = []);
                }

                lines.Add((stock.Id, count, (Int128)stock.PiecePrice.Units * count, LineCost(stock, count)));
            }
        }

        var given = new Dictionary<string, Order>(StringComparer.OrdinalIgnoreCase);
        foreach (var order in facts.Plan.Orders)
        {
            if (!given.TryAdd(order.Supplier, order) || !right.ContainsKey(order.Supplier))
            {
                facts.Add("orders", $"order from {order.Supplier}", "the order is there twice, or nothing is bought from this supplier");
            }
        }

        Int128 terms = 0;
        var fuss = facts.Job.Fuss;
        var ofSupplier = Amounts.Nearest(fuss.SupplierMinutes * fuss.HourlyRate / 60m).Units;
        var ofLine = Amounts.Nearest(fuss.OrderLineMinutes * fuss.HourlyRate / 60m).Units;
        foreach (var (supplier, lines) in right)
        {
            terms += ofSupplier + ((Int128)ofLine * lines.Count);
            var goods = lines.Aggregate((Int128)0, (sum, line) => sum + line.Cost);
            var rules = facts.Job.Suppliers.FirstOrDefault(one => one.Name.Equals(supplier, StringComparison.OrdinalIgnoreCase));
            var topUp = rules is not null && goods < rules.MinimumOrder.Units ? rules.MinimumOrder.Units - goods : 0;
            var free = rules?.FreeDeliveryFrom is { } from && goods + topUp >= from.Units;
            var delivery = rules is null || free ? 0 : rules.Delivery.Units;
            terms += goods + topUp + delivery - lines.Aggregate((Int128)0, (sum, line) => sum + line.Listed);
            Compare(facts, supplier, given.GetValueOrDefault(supplier), lines, goods, topUp, delivery);
        }

        return terms;
    }

    /// <summary>From no more suppliers than the job allows.</summary>
    public static void Suppliers(PlanFacts facts)
    {
        if (facts.Job.MostSuppliers is { } most && facts.Plan.Orders.Length > most)
        {
            facts.Add("too-many-suppliers", "plan", $"{facts.Plan.Orders.Length} suppliers, the job allows {most}");
        }
    }

    private static void Compare(
        PlanFacts facts, string supplier, Order? order, List<(string Stock, long Count, Int128 Listed, Int128 Cost)> lines,
        Int128 goods, Int128 topUp, Int128 delivery)
    {
        var where = supplier.Length == 0 ? "order without a supplier" : $"order from {supplier}";
        if (order is null)
        {
            facts.Add("orders", where, "the order is missing");
            return;
        }

        var same = order.Lines.Length == lines.Count;
        foreach (var line in order.Lines)
        {
            same &= lines.Contains((line.StockId, line.Count, line.Listed.Units, line.Cost.Units));
        }

        if (!same || order.Lines.DistinctBy(line => line.StockId).Count() != lines.Count)
        {
            facts.Add("orders", where, "the lines are not those of the layouts: stock, count, listed price or cost differ");
        }

        if (order.Goods.Units != goods || order.TopUp.Units != topUp || order.Delivery.Units != delivery)
        {
            facts.Add("orders", where,
                $"goods {order.Goods.Amount}, top-up {order.TopUp.Amount}, delivery {order.Delivery.Amount}; right are "
                + $"{Amount(goods)}, {Amount(topUp)}, {Amount(delivery)}");
        }
    }

    // Break by break: how many pieces pay which price.
    private static Int128 LineCost(Stock stock, long count)
    {
        var terms = stock.Terms;
        Int128 cost = 0;
        if (terms.Rule == BreakRule.AllUnits)
        {
            var price = terms.Breaks.LastOrDefault(step => step.From <= count, new(1, stock.PiecePrice)).PiecePrice;
            cost = (Int128)price.Units * count;
        }
        else
        {
            // From the dearest quantity down: pieces from a break on pay its price, those below pay the one before.
            var left = count;
            foreach (var step in terms.Breaks.Reverse())
            {
                if (left >= step.From)
                {
                    cost += (Int128)step.PiecePrice.Units * (left - step.From + 1);
                    left = step.From - 1;
                }
            }

            cost += (Int128)stock.PiecePrice.Units * left;
        }

        return cost > terms.LineMinimum.Units ? cost : terms.LineMinimum.Units;
    }

    private static decimal Amount(Int128 units) => (decimal)units / Money.UnitsPerCurrency;
}
