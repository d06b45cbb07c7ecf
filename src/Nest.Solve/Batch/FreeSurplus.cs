using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Batch;

/// <summary>Whether the cheapest plan for exactly n sets is never dearer than the cheapest one for more.</summary>
/// <remarks>
/// Take a plan for more and take pieces out: a layout that still cuts something costs no more (its metal joins an offcut). A piece of
/// stock from which nothing is cut any more is not needed, but without it a price break, a smallest order or free delivery may be
/// missed. No dearer plan comes of it when (a) it may stay as a whole piece for the rack, which is credited at least what its offcuts
/// were; or (b) the order is no dearer with a piece less: its line costs no less with more pieces, and no delivery becomes free. A piece
/// that the supplier cuts to size has no (a). Sufficient, not necessary. O(stocks · breaks).
/// </remarks>
internal static class FreeSurplus
{
    public static bool Holds(Job job, ImmutableArray<Component> components) => components
        .SelectMany(component => component.Stocks)
        .Where(frame => !frame.Stock.IsLeftover)
        .All(frame => (frame.Stock.CutFor is null && OrderTerms.Whole(job, frame).Keep) || NeverDearerWithLess(job, frame.Stock));

    private static bool NeverDearerWithLess(Job job, Stock stock)
    {
        var supplier = job.SupplierOf(stock.Supplier ?? "");
        if (supplier is { FreeDeliveryFrom: not null } && supplier.Delivery > Money.Zero)
        {
            return false;
        }

        // Within a tier each piece adds its price; only at a break can the line fall.
        return stock.Terms.Breaks.All(step =>
            stock.Terms.LineCost(stock.PiecePrice, step.From - 1) <= stock.Terms.LineCost(stock.PiecePrice, step.From));
    }
}
