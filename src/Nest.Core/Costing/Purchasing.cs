using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>What has to be bought for a set of layouts, and what it costs with the suppliers' terms.</summary>
/// <remarks>Line: price breaks, then the line minimum. Order: goods = Σ lines; a smaller order than the supplier's minimum pays up to
/// it; delivery is charged unless goods and top-up reach the free threshold. Exact. O(stocks).</remarks>
public static class Purchasing
{
    /// <summary>The orders for these layouts, suppliers in order of first use in the job's stock list.</summary>
    public static ImmutableArray<Order> Orders(Job job, IEnumerable<Layout> layouts)
    {
        var counts = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var layout in layouts)
        {
            counts[layout.StockId] = counts.GetValueOrDefault(layout.StockId) + layout.Count;
        }

        return Orders(job, counts);
    }

    /// <summary>The orders for so many pieces of each stock; leftovers on the rack are not bought.</summary>
    public static ImmutableArray<Order> Orders(Job job, IReadOnlyDictionary<string, int> counts) =>
        [.. job.Stocks
            .Where(stock => !stock.IsLeftover && counts.GetValueOrDefault(stock.Id) > 0)
            .GroupBy(stock => stock.Supplier ?? "", StringComparer.OrdinalIgnoreCase)
            .Select(group => OrderFrom(
                job.SupplierOf(group.Key) ?? new() { Name = group.Key },
                [.. group.Select(stock => Line(stock, counts[stock.Id]))]))];

    /// <summary>What all orders cost beyond the listed prices that the layouts carry as metal; below zero with price breaks.</summary>
    public static Money Terms(ImmutableArray<Order> orders) => orders.Aggregate(Money.Zero, (sum, order) => sum + order.Terms);

    private static OrderLine Line(Stock stock, int count) =>
        new(stock.Id, count, stock.PiecePrice * count, stock.Terms.LineCost(stock.PiecePrice, count));

    private static Order OrderFrom(Supplier supplier, ImmutableArray<OrderLine> lines)
    {
        var goods = lines.Aggregate(Money.Zero, (sum, line) => sum + line.Cost);
        var topUp = goods < supplier.MinimumOrder ? supplier.MinimumOrder - goods : Money.Zero;
        var free = supplier.FreeDeliveryFrom is { } threshold && goods + topUp >= threshold;
        return new(supplier.Name, lines, goods, topUp, free ? Money.Zero : supplier.Delivery);
    }
}
