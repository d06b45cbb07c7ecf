using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>What would be paid for the same layouts if one supplier were left out and all of his lines were bought elsewhere in the same size.</summary>
/// <param name="Supplier">Who is left out.</param>
/// <param name="Missing">Lines that no other supplier lists in that size. If there are any, nothing can be said without a new plan.</param>
/// <param name="More">What all orders cost more, deliveries and smallest orders with it; below zero: less. Null where lines are missing.</param>
/// <param name="From">Who delivers instead.</param>
/// <remarks>Payments alone: the worth of kept offcuts follows the price of their stock, so the cost of the batch may change by another amount.
/// Nothing is planned anew; the sheet says so. Suppliers × lines × stocks.</remarks>
internal sealed record SupplierFewer(string Supplier, int Lines, int Missing, Money? More, ImmutableArray<string> From)
{
    /// <summary>For each supplier of a plan that has more than one.</summary>
    public static IEnumerable<SupplierFewer> Of(SheetContext context)
    {
        var orders = context.Plan.Orders;
        return orders.Length < 2 ? [] : orders.Select(order => Without(context, order));
    }

    private static SupplierFewer Without(SheetContext context, Core.Plans.Order order)
    {
        var job = context.Job;
        var counts = context.Plan.Orders.SelectMany(one => one.Lines).ToDictionary(line => line.StockId, line => line.Count, StringComparer.Ordinal);
        var instead = new List<Stock>();
        var missing = 0;
        foreach (var line in order.Lines)
        {
            counts.Remove(line.StockId);
            var stock = context.StockOf(line);
            var same = job.Stocks.Where(one => Same(stock, one) && (one.Supplier ?? "") != order.Supplier && MayBeUsed(context, stock, one) && (one.Available is not { } there || there >= line.Count + counts.GetValueOrDefault(one.Id)))
                .OrderBy(one => one.Terms.LineCost(one.PiecePrice, line.Count)).FirstOrDefault();
            if (same is null)
            {
                missing++;
                continue;
            }

            instead.Add(same);
            counts[same.Id] = counts.GetValueOrDefault(same.Id) + line.Count;
        }

        if (missing > 0)
        {
            return new(order.Supplier, order.Lines.Length, missing, null, []);
        }

        var now = context.Plan.Orders.Aggregate(Money.Zero, (sum, one) => sum + one.Total);
        var then = Purchasing.Orders(job, counts).Aggregate(Money.Zero, (sum, one) => sum + one.Total);
        return new(order.Supplier, order.Lines.Length, 0, then - now, [.. instead.Select(stock => stock.Supplier ?? "").Distinct(StringComparer.Ordinal)]);
    }

    // In time, and by the owner's rules.
    private static bool MayBeUsed(SheetContext context, Stock stock, Stock other)
    {
        var job = context.Job;
        return (job.WantedInDays is not { } wanted || (job.SupplierOf(other.Supplier ?? "")?.LeadDays ?? 0) <= wanted)
            && context.Plan.Layouts.Where(layout => layout.StockId == stock.Id).SelectMany(layout => layout.Pieces).Select(piece => piece.PartId).Distinct(StringComparer.Ordinal)
                .All(part => job.Allows(context.Part(part), other));
    }

    // What is cut from the one can be cut from the other by the same steps.
    private static bool Same(Stock stock, Stock other) =>
        !other.IsLeftover && other.CutFor == stock.CutFor && other.Form == stock.Form && string.Equals(other.MaterialId, stock.MaterialId, StringComparison.OrdinalIgnoreCase)
        && other.Length == stock.Length && other.Width == stock.Width && other.Thickness == stock.Thickness && other.CleanEdges == stock.CleanEdges
        && other.MinLength >= stock.MinLength && other.MinWidth >= stock.MinWidth && other.MinThickness >= stock.MinThickness && (other.GoodFaces || !stock.GoodFaces);
}
