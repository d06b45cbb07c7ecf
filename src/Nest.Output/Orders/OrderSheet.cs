using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output.Files;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>What is sent to one supplier: the stock, the pieces cut to size with their tolerance, the prices and the date.</summary>
internal static class OrderSheet
{
    /// <summary>File names without ending, supplier by supplier, that tell who it is for.</summary>
    public static string NameOf(int number, Core.Plans.Order order)
    {
        var words = new string([.. order.Supplier.ToLowerInvariant().Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-')]);
        words = string.Join('-', words.Split('-', StringSplitOptions.RemoveEmptyEntries));
        return SheetContext.Fill("{0:00}-{1}", number, words.Length == 0 ? "stock" : words[..Math.Min(40, words.Length)].TrimEnd('-'));
    }

    public static List<Scene> Pages(SheetContext context, Core.Plans.Order order, Paper paper)
    {
        var texts = context.Texts;
        var pages = new SheetPages(context, paper);
        var own = new OwnAmounts(context, order);
        var items = OrderItem.Of(context, order, own);
        var y = pages.Start(SheetContext.Fill(texts.OrderTitle, Name(context, order))) + 1;
        y = Head(context, order, pages, y);
        foreach (var line in OrderWords.Wishes(context, order, items))
        {
            y = pages.Scene.Paragraph(Layer.Page, line, pages.Body, y, 3.6, Face.Bold) + 0.6;
        }

        // What comes cut to size has no code of its own: its words take that room.
        var width = pages.Body.Width;
        var code = items.Any(item => item.Stock.CutFor is null) ? 36 : 0;
        Column[] columns =
        [
            new("", 8, Align.Right), new(texts.Count, 14, Align.Right, Face.Bold), new(texts.Material, 36),
            new(texts.Size, width - 8 - 14 - 36 - code - 17 - 18 - 20, Align.Left, Face.Bold), new(texts.Stock, code), new(texts.OrderMassEach, 17, Align.Right),
            new(texts.OrderEach, 18, Align.Right), new(texts.Total, 20, Align.Right),
        ];
        var rows = items.Select((item, at) => new[]
        {
            SheetContext.Text(at + 1), SheetContext.Fill(texts.Times, item.Count), $"{context.FormOf(item.Stock)} {item.Stock.MaterialId}",
            string.Join('\n', OrderWords.Size(context, item)), item.Stock.CutFor is null ? item.Stock.Id : "", context.MassOf(Mass(context, item.Stock)),
            context.Options.Numbers.Number(item.Each, 2), context.Options.Numbers.Number(item.Amount, 2),
        }).ToArray();
        int[] shown = [.. Enumerable.Range(0, columns.Length).Where(at => columns[at].Width > 0)];
        y = Table.Draw(pages, y + 2, [.. shown.Select(at => columns[at])], [.. rows.Select(row => shown.Select(at => row[at]).ToArray())], 3.2) + 3;
        foreach (var (label, amount, face) in Sums(context, order, own))
        {
            if (y + 8 > pages.Body.Bottom)
            {
                y = pages.Next();
            }

            pages.Scene.Text(Layer.Page, label, pages.Body.Right - 34, y + 4, 3.6, pages.Body, face, Align.Right);
            pages.Scene.Text(Layer.Page, own.Text(amount), pages.Body.Right - 1, y + 4, 3.6, pages.Body, face, Align.Right);
            y += 5.5;
        }

        foreach (var line in OrderWords.Foot(context, order, items, own))
        {
            y = y + 10 > pages.Body.Bottom ? pages.Next() : y;
            y = pages.Scene.Paragraph(Layer.Page, line, pages.Body, y + 1, 3.2);
        }

        return pages.Build();
    }

    /// <summary>Amounts in the supplier's currency, as on the sheet; with another than the job's its rate stands in each row.
    /// <c>price_each</c> is the mean of the line, with the break that it reaches.</summary>
    public static Sheet Csv(SheetContext context, Core.Plans.Order order)
    {
        var own = new OwnAmounts(context, order);
        var units = new TableUnits(context.Job.Unit);
        var days = OrderWords.Days(context, order);
        var plus = context.Job.SupplierOf(order.Supplier)?.CutPlus;
        return new(
            "order",
            units.Heads(
                "line", "supplier", "count", "stock", "form", "material", "length_{L}", "width_{L}", "thickness_{L}", "cut_to_size_for", "tolerance_minus_{L}", "tolerance_plus_{L}",
                "mass_each_{M}", "price_listed_each", "price_each", "line_total", "currency", "wanted_in_days", "rate", "rolling_direction_along_{L}", "certificates"),
            [
                .. OrderItem.Of(context, order, own).Select((item, at) =>
                {
                    var stock = item.Stock;
                    return new object[]
                    {
                        at + 1, order.Supplier, item.Count, stock.Id, PlanTables.FormName(stock.Form), stock.MaterialId, units.Size(stock.Length), units.Size(stock.Width),
                        units.Size(stock.Thickness), item.Parts(context), stock.CutFor is null ? "" : 0, stock.CutFor is null || plus is not { } more ? "" : units.Size(more),
                        units.Weight(Mass(context, stock)), own.Price(stock.PiecePrice), decimal.Round(item.Amount / item.Count, 4), item.Amount, own.Currency,
                        (object?)days ?? "", (object?)own.Rate ?? "", item.Along is { } along ? units.Size(along) : "", context.Options.Correspondence.Of(order.Supplier).Certificates,
                    };
                }),
                .. Sums(context, order, own).Select(sum => new object[]
                {
                    "", order.Supplier, "", sum.Label, "", "", "", "", "", "", "", "", "", "", "", sum.Amount, own.Currency, "", (object?)own.Rate ?? "", "", "",
                }),
            ]);
    }

    public static string Name(SheetContext context, Core.Plans.Order order) => order.Supplier.Length == 0 ? context.Texts.OrderNobody : order.Supplier;

    /// <summary><c>VAT 19 %</c>.</summary>
    internal static string TaxLabel(SheetContext context) => SheetContext.Fill(
        context.Texts.TaxLine, context.Job.Tax!.Name, context.Options.Numbers.Localize(context.Job.Tax.Percent.ToString("0.####", System.Globalization.CultureInfo.InvariantCulture)));

    public static Mass Mass(SheetContext context, Stock stock) => stock.PieceMass(context.Job.MaterialOf(stock.MaterialId));

    public static IEnumerable<(string Label, decimal Amount, Face Face)> Sums(SheetContext context, Core.Plans.Order order, OwnAmounts own)
    {
        var texts = context.Texts;
        yield return (texts.OrderGoods, own.Goods, Face.Regular);
        if (order.TopUp > Money.Zero)
        {
            yield return (texts.OrderTopUp, own.TopUp, Face.Regular);
        }

        yield return (texts.OrderDelivery, own.Delivery, Face.Regular);
        yield return (texts.Total, own.Total, Face.Bold);
        if (own.Tax is { } tax)
        {
            yield return (TaxLabel(context), tax, Face.Regular);
            yield return (SheetContext.Fill(texts.TaxTotal, context.Job.Tax!.Name), own.Total + tax, Face.Bold);
        }
    }

    /// <summary>Who orders from whom: two columns; below them number and day.</summary>
    private static double Head(SheetContext context, Core.Plans.Order order, SheetPages pages, double top)
    {
        var half = (pages.Body.Width - 6) / 2;
        var below = top;
        foreach (var (lines, x) in new[] { (OrderWords.Sender(context), pages.Body.X), (OrderWords.Receiver(context, order), pages.Body.X + half + 6) })
        {
            var y = top + 1;
            foreach (var (line, at) in lines.Select((line, at) => (line, at)))
            {
                y = pages.Scene.Paragraph(Layer.Page, line, new(x, top, half, 60), y, 3.6, at == 0 ? Face.Bold : Face.Regular);
            }

            below = Math.Max(below, y);
        }

        below += 2;
        pages.Scene.Line(Layer.Page, pages.Body.X, below, pages.Body.Right, below, new Stroke(PartLook.Ink, 0.25));
        return pages.Scene.Paragraph(Layer.Page, OrderWords.Number(context, order), pages.Body, below + 1.5, 4.2, Face.Bold) + 1;
    }
}
