using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Orders;
using Nest.Output.Sheets;

namespace Nest.Output;

/// <summary>What somebody wants to know right after planning: at most 100 columns, about 25 lines whatever the plan's size.</summary>
/// <remarks>Cost and how good it is, what to pay and when all is there, the time at the saw, the orders a line each, what is left over, what cannot
/// be cut, and which files to print and to send. All else is in <see cref="PlanSummary"/> and in the folder.</remarks>
public static class PlanScreen
{
    /// <summary>Columns.</summary>
    private const int Width = 100;

    /// <summary>Suppliers, unplaced parts, marks: of more than these only the number is told.</summary>
    private const int Most = 8;

    /// <param name="folder">As the user named it: what to print is told with it.</param>
    public static void Write(Plan plan, TextWriter writer, OutputOptions options, string folder)
    {
        foreach (var line in Lines(new(plan, options), folder))
        {
            writer.WriteLine(line);
        }
    }

    private static IEnumerable<string> Lines(SheetContext context, string folder)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        return
        [
            .. Head(context),
            .. Saw(context),
            "",
            .. Orders(context),
            .. Rack(context),
            .. Rules(context),
            .. SparesText.Of(context) is { } spares ? SummaryLines.Wrapped(spares, Width) : [],
            .. NotCut(context),
            "",
            .. plan.Layouts.IsEmpty ? [] : Files(context, folder),
            SummaryLines.Cut(SheetContext.Fill(texts.ScreenDetails, Path.Combine(folder, "data")), Width),
        ];
    }

    private static IEnumerable<string> Head(SheetContext context)
    {
        var texts = context.Texts;
        var plan = context.Plan;

        // Of a blank for several parts the parts count.
        var parts = plan.Job.Parts.ToDictionary(part => part.Id, part => part.Gang?.Parts ?? 1, StringComparer.Ordinal);
        var placed = plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Where(piece => !piece.Spare).Sum(piece => parts[piece.PartId]));
        var missing = plan.Unplaced.Sum(line => line.Count * parts[line.PartId]);
        var all = missing == 0 ? SheetContext.Fill(texts.ScreenAll, placed) : SheetContext.Fill(texts.ScreenSome, placed, placed + missing, missing);
        yield return SummaryLines.Cut($"{SummaryLines.Pad(context.Job.Name, Math.Min(context.Job.Name.Length, 50))}   {SheetContext.Fill(texts.Plan, context.Print)}   {all}", Width);
        if (placed > 0)
        {
            var more = plan.Status == SolveStatus.BestFound ? " " + texts.ScreenMore : "";
            var each = Money.FromAmount(decimal.Round(plan.TotalCost.Amount / placed, 2, MidpointRounding.AwayFromZero));
            foreach (var line in SummaryLines.Wrapped(SheetContext.Fill(texts.ScreenCost, context.Amount(plan.TotalCost), context.Amount(each), PlanSummary.Standing(context) + more), Width))
            {
                yield return line;
            }
        }
        else
        {
            yield return PlanSummary.Standing(context);
        }
    }

    private static IEnumerable<string> Saw(SheetContext context)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        if (plan.Layouts.IsEmpty)
        {
            yield break;
        }

        var days = plan.Orders.Select(order => context.Job.SupplierOf(order.Supplier)?.LeadDays ?? 0).DefaultIfEmpty(0).Max();
        var pay = SheetContext.Fill(texts.ScreenPay, $"{context.Job.Currency} {context.Options.Numbers.Number(Cash.Of(context).Total, 2)}");
        if (days > 0)
        {
            pay += $"; {SheetContext.Fill(texts.ScreenLast, days)}"
                + (context.Job.WantedInDays is { } wanted ? $" ({SheetContext.Fill(texts.ScreenWanted, wanted)})" : "");
        }

        yield return SummaryLines.Cut(pay, Width);
        var work = context.Options.Work ?? CutSequencer.Order(plan);
        var pieces = plan.Layouts.Where(layout => !layout.Pieces.IsEmpty && plan.StockOf(layout).CutFor is null).Sum(layout => layout.Count);
        if (pieces > 0)
        {
            yield return SummaryLines.Cut(SheetContext.Fill(texts.ScreenSaw, FrontPage.Duration(texts, work.Minutes), work.Cuts, work.Settings, pieces), Width);
        }
    }

    private static IEnumerable<string> Orders(SheetContext context)
    {
        var texts = context.Texts;
        var orders = Cash.Of(context).Orders;
        if (orders.IsEmpty)
        {
            yield return texts.ScreenNoOrders;
            yield break;
        }

        yield return Row(texts.ScreenOrders, texts.Lines, texts.OrderGoods, texts.OrderDelivery, texts.Total, texts.Arrives);
        foreach (var (order, amounts) in orders.Take(Most))
        {
            yield return "  " + Row(
                order.Supplier.Length == 0 ? texts.OrderNobody : order.Supplier, SheetContext.Text(order.Lines.Length), Number(amounts.Goods + amounts.TopUp),
                Number(amounts.Delivery), Number(amounts.Total), Arrival(context, order))[..].TrimEnd();
        }

        if (orders.Length > Most)
        {
            yield return "  " + SheetContext.Fill(texts.AndMore, orders.Length - Most);
        }

        string Number(decimal amount) => context.Options.Numbers.Number(amount, 2);
    }

    internal static string Arrival(SheetContext context, Core.Plans.Order order) => context.Job.SupplierOf(order.Supplier)?.LeadDays switch
    {
        null or 0 => "",
        1 => context.Texts.InOneDay,
        { } days => SheetContext.Fill(context.Texts.InDays, days),
    };

    private static IEnumerable<string> Rack(SheetContext context)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        var taken = Cautions.Lines(plan).Rack;
        if (taken.Count > 0)
        {
            var names = taken.Take(Most).Select(line => line.Stock.RackMark + (line.Stock.Place is { Length: > 0 } place ? $" ({place})" : ""));
            var more = taken.Count > Most ? " " + SheetContext.Fill(texts.AndMore, taken.Count - Most) : "";
            foreach (var line in SummaryLines.Wrapped(SheetContext.Fill(texts.ScreenFromRack, string.Join(", ", names) + more), Width))
            {
                yield return line;
            }
        }

        var kept = plan.Layouts.SelectMany(layout => SheetContext.Kept(layout).Select(one => (layout.Count, one.Offcut.Value))).ToList();
        if (kept.Count > 0)
        {
            var value = kept.Aggregate(Money.Zero, (sum, one) => sum + (one.Value * one.Count));
            yield return SheetContext.Fill(texts.ScreenToRack, kept.Sum(one => one.Count), context.Amount(value));
        }

        var whole = plan.Orders.SelectMany(order => order.Lines).Sum(line => OrderReasons.Whole(context, line));
        if (whole > 0)
        {
            yield return SheetContext.Fill(texts.ScreenWhole, whole);
        }
    }

    private static IEnumerable<string> Rules(SheetContext context) => OwnersRules.Of(context).ToArray() is { Length: > 0 } rules
        ? SummaryLines.Wrapped($"{context.Texts.RulesTitle}: {string.Join("; ", rules.Take(Most))}{(rules.Length > Most ? "; " + SheetContext.Fill(context.Texts.AndMore, rules.Length - Most) : "")}.", Width) : [];

    private static IEnumerable<string> NotCut(SheetContext context)
    {
        var texts = context.Texts;
        var unplaced = context.Plan.Unplaced;
        if (unplaced.IsEmpty)
        {
            yield break;
        }

        yield return "";
        yield return texts.NotCut;
        foreach (var line in unplaced.Take(Most).SelectMany(line => SummaryLines.Wrapped(SummaryLines.Cut($"{line.Count} × {SummaryLines.Cut(line.PartId, 40)}: {line.Reason}", 3 * (Width - 4)), Width - 4)
            .Select((text, at) => (at == 0 ? "  " : "    ") + text)))
        {
            yield return line;
        }

        if (unplaced.Length > Most)
        {
            yield return "  " + SheetContext.Fill(texts.AndMore, unplaced.Length - Most);
        }
    }

    private static IEnumerable<string> Files(SheetContext context, string folder)
    {
        var texts = context.Texts;
        yield return Line(texts.ScreenPrint, context.Options.Papers.Count > 1 ? "cut-sheet-a4.pdf" : "cut-sheet.pdf");
        if (!context.Plan.Orders.IsEmpty)
        {
            yield return Line(texts.ScreenSend, "buy.pdf") + ", " + Path.Combine(folder, "orders");
        }

        yield return Line(texts.ScreenTablet, "tablet.html");
        if (context.Options.WithoutPicture(context.Plan) is > 0 and var without)
        {
            yield return SheetContext.Fill(texts.ScreenNoPictures, without);
        }

        string Line(string what, string file) => $"{SummaryLines.Pad(what, 8)}{Path.Combine(folder, file)}";
    }

    private static string Row(string name, string lines, string goods, string delivery, string total, string arrives) =>
        $"{SummaryLines.Pad(name, 36)} {SummaryLines.Right(lines, 6)} {SummaryLines.Right(goods, 11)} {SummaryLines.Right(delivery, 10)} {SummaryLines.Right(total, 12)}   {arrives}";
}
