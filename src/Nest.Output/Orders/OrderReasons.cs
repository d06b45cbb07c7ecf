using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>Why a plan buys what it buys where it does, in words. All is read from the plan and its price lists; nothing is planned again.</summary>
internal static class OrderReasons
{
    /// <summary>What there is to say about a line: what it is for, the price break that it reaches, line minimum, what others ask for the same, for the rack.
    /// What is so on every line (no break reached, nobody else sells it) is not said.</summary>
    public static IReadOnlyList<string> Of(SheetContext context, Core.Plans.Order order, OrderLine line)
    {
        var texts = context.Texts;
        var stock = context.StockOf(line);
        var reasons = new List<string>();
        For(context, stock, reasons);
        Break(context, stock, line, reasons);
        if (Whole(context, line) > 0)
        {
            reasons.Add(WholeText(context, order, line));
        }

        if (stock.Terms.LineMinimum > Money.Zero && line.Cost == stock.Terms.LineMinimum)
        {
            reasons.Add(SheetContext.Fill(texts.ReasonLineMinimum, context.Amount(stock.Terms.LineMinimum)));
        }

        Others(context, order, stock, line, reasons);
        return reasons;
    }

    /// <summary>The order's sums in short: goods, what the smallest order adds, delivery and what would make it free, total.</summary>
    public static string Sums(SheetContext context, Core.Plans.Order order)
    {
        var texts = context.Texts;
        var supplier = context.Job.SupplierOf(order.Supplier) ?? new() { Name = order.Supplier };
        var home = new OwnAmounts(context, order, home: true);
        var words = new List<string> { SheetContext.Fill(texts.ReasonSum, home.Text(home.Goods)) };
        if (order.TopUp > Money.Zero)
        {
            words.Add(SheetContext.Fill(texts.ReasonTopUp, context.Amount(order.TopUp), context.Amount(supplier.MinimumOrder)));
        }

        if (order.Delivery > Money.Zero)
        {
            words.Add(supplier.FreeDeliveryFrom is { } free
                ? SheetContext.Fill(texts.ReasonNotFree, context.Amount(order.Delivery), context.Amount(free), context.Amount(free - order.Goods - order.TopUp))
                : SheetContext.Fill(texts.ReasonDelivery, context.Amount(order.Delivery)));
        }
        else if (supplier.Delivery > Money.Zero)
        {
            words.Add(SheetContext.Fill(texts.ReasonFree, context.Amount(supplier.FreeDeliveryFrom ?? Money.Zero)));
        }

        words.Add(SheetContext.Fill(texts.ReasonTotal, home.Text(home.Total)));
        if (new OwnAmounts(context, order) is { Rate: not null } own)
        {
            words.Add(SheetContext.Fill(texts.ReasonRate, own.Text(own.Total), own.RateText));
        }

        return string.Join("; ", words);
    }

    /// <summary>Pieces of a line that nobody cuts: they go to the rack as they come.</summary>
    public static int Whole(SheetContext context, OrderLine line) =>
        context.Plan.Layouts.Where(layout => layout.StockId == line.StockId && layout.Pieces.IsEmpty).Sum(layout => layout.Count);

    /// <summary>Why pieces are bought whole for the rack: the smallest order, price, free delivery or smallest line that would be missed
    /// without those of this line; of none of them, their worth there pays for them.</summary>
    /// <param name="pattern">Text with count, stock and goals; null: the one for a line of an order.</param>
    public static string WholeText(SheetContext context, Core.Plans.Order order, OrderLine line, string? pattern = null)
    {
        var texts = context.Texts;
        var stock = context.StockOf(line);
        var whole = Whole(context, line);
        var needed = line.Count - whole;
        var lineWithout = needed == 0 ? Money.Zero : stock.Terms.LineCost(stock.PiecePrice, needed);
        var supplier = context.Job.SupplierOf(order.Supplier) ?? new() { Name = order.Supplier };
        var without = order.Goods - line.Cost + lineWithout;
        var goals = new List<string>();
        if (without < supplier.MinimumOrder)
        {
            goals.Add(SheetContext.Fill(texts.WholeMinimum, context.Amount(supplier.MinimumOrder), supplier.Name.Length == 0 ? texts.OrderNobody : supplier.Name));
        }

        if (supplier.Delivery > Money.Zero && order.Delivery == Money.Zero && supplier.FreeDeliveryFrom is { } free
            && Money.Max(without, supplier.MinimumOrder) < free)
        {
            goals.Add(SheetContext.Fill(texts.WholeFree, context.Amount(free), supplier.Name.Length == 0 ? texts.OrderNobody : supplier.Name));
        }

        if (stock.Terms.Breaks.LastOrDefault(step => step.From <= line.Count) is { From: > 0 } reached && reached.From > needed)
        {
            goals.Add(SheetContext.Fill(texts.WholeBreak, reached.From));
        }

        if (stock.Terms.LineMinimum > Money.Zero && lineWithout <= stock.Terms.LineMinimum && needed > 0)
        {
            goals.Add(SheetContext.Fill(texts.WholeLine, context.Amount(stock.Terms.LineMinimum)));
        }

        return SheetContext.Fill(pattern ?? texts.ReasonExtra, whole, stock.Id, goals.Count == 0 ? texts.WholeWorth : string.Join("; ", goals));
    }

    /// <summary>What a stock is cut into, as words; empty where nothing is.</summary>
    public static IReadOnlyList<string> ForParts(SheetContext context, Stock stock)
    {
        var reasons = new List<string>();
        For(context, stock, reasons);
        return reasons;
    }

    public static string Title(SheetContext context, Core.Plans.Order order)
    {
        var texts = context.Texts;
        var name = order.Supplier.Length == 0 ? texts.OrderNobody : order.Supplier;
        return context.Job.SupplierOf(order.Supplier) is { LeadDays: > 0 } supplier
            ? SheetContext.Fill(supplier.LeadDays == 1 ? texts.BuyOneDay : texts.BuyDays, SheetContext.Fill(texts.BuyFrom, name), supplier.LeadDays)
            : SheetContext.Fill(texts.BuyFrom, name);
    }

    /// <summary>The parts that are cut from it, the most numerous first.</summary>
    private static void For(SheetContext context, Stock stock, List<string> reasons)
    {
        const int Most = 4;
        var texts = context.Texts;
        var parts = context.Plan.Layouts.Where(layout => layout.StockId == stock.Id)
            .SelectMany(layout => layout.Pieces.Where(piece => !piece.Spare).Select(piece => (piece.PartId, layout.Count)))
            .GroupBy(entry => entry.PartId, StringComparer.Ordinal)
            .Select(group => (Part: group.Key, Count: group.Sum(entry => entry.Count)))
            .OrderByDescending(entry => entry.Count).ThenBy(entry => entry.Part, StringComparer.Ordinal).ToList();
        if (parts.Count > 0)
        {
            var names = parts.Take(Most).Select(entry => $"{SheetContext.Fill(texts.Times, entry.Count)} {entry.Part}");
            reasons.Add(SheetContext.Fill(texts.ReasonFor, string.Join(", ", names) + (parts.Count > Most ? SheetContext.Fill(texts.ReasonMore, parts.Count - Most) : "")));
        }
    }

    private static void Break(SheetContext context, Stock stock, OrderLine line, List<string> reasons)
    {
        var texts = context.Texts;
        var reached = stock.Terms.Breaks.Where(step => step.From <= line.Count).ToList();
        if (reached.Count == 0)
        {
            return;
        }

        var step = reached[^1];
        reasons.Add(stock.Terms.Rule == BreakRule.AllUnits
            ? SheetContext.Fill(texts.ReasonBreak, step.From, context.Amount(step.PiecePrice), context.Amount(stock.PiecePrice))
            : SheetContext.Fill(
                texts.ReasonBreakLater, SheetContext.Text(step.From) + ".", context.Amount(step.PiecePrice), context.Amount(stock.PiecePrice)));
    }

    /// <summary>The same form, material and size elsewhere, at the same count; the cheapest of them.</summary>
    private static void Others(SheetContext context, Core.Plans.Order order, Stock stock, OrderLine line, List<string> reasons)
    {
        if (stock.CutFor is not null || context.Job.Suppliers.Length < 2)
        {
            return;
        }

        var others = context.Job.Stocks.Where(one => !one.IsLeftover && one.CutFor is null
                && !string.Equals(one.Supplier ?? "", order.Supplier, StringComparison.OrdinalIgnoreCase)
                && one.Form == stock.Form && string.Equals(one.MaterialId, stock.MaterialId, StringComparison.OrdinalIgnoreCase)
                && one.Thickness == stock.Thickness && one.Width == stock.Width && one.Length == stock.Length)
            .Select(one => (Stock: one, Cost: one.Terms.LineCost(one.PiecePrice, line.Count)))
            .OrderBy(one => one.Cost).ToList();
        if (others.Count > 0)
        {
            reasons.Add(SheetContext.Fill(
                others[0].Cost < line.Cost ? context.Texts.ReasonDearer : context.Texts.ReasonCheaper, others[0].Stock.Supplier ?? "",
                context.Amount(others[0].Cost)));
        }
    }
}
