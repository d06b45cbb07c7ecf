using Nest.Core.Jobs;
using Nest.Core.Plans;
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
        var y = pages.Start(SheetContext.Fill(texts.OrderTitle, order.Supplier.Length == 0 ? texts.OrderNobody : order.Supplier)) + 1;
        y = pages.Scene.Paragraph(Layer.Page, texts.OrderBlank, pages.Body, y + 1, 3.4) + 3;
        if (context.Job.WantedInDays is { } days)
        {
            y = pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(texts.OrderWanted, days), pages.Body, y, 3.6, Face.Bold) + 2;
        }

        var width = pages.Body.Width;
        Column[] columns =
        [
            new("", 8, Align.Right), new(texts.Count, 13, Align.Right, Face.Bold), new(texts.Stock, 44), new(texts.Material, 30),
            new(texts.Size, width - 8 - 13 - 44 - 30 - 18 - 22 - 20, Align.Left, Face.Bold), new(texts.OrderMassEach, 18, Align.Right),
            new(texts.OrderEach, 22, Align.Right), new(texts.Total, 20, Align.Right),
        ];
        var mass = Mass.Zero;
        var own = new OwnAmounts(context, order);
        var rows = order.Lines.Select((line, at) =>
        {
            var stock = context.StockOf(line);
            var each = stock.PieceMass(context.Job.MaterialOf(stock.MaterialId));
            mass += each * line.Count;
            return new[]
            {
                SheetContext.Text(at + 1), SheetContext.Fill(texts.Times, line.Count), stock.Id, $"{context.FormOf(stock)} {stock.MaterialId}",
                context.SizeOf(stock) + (stock.CutFor is null ? "" : "\n" + CutText(context, order, stock)), context.MassOf(each),
                Each(context, own.Lines[at], line.Count), context.Options.Numbers.Number(own.Lines[at], 2),
            };
        }).ToArray();
        y = Table.Draw(pages, y + 2, columns, rows, 3) + 3;
        foreach (var (label, amount, face) in Sums(context, order, own))
        {
            if (y + 8 > pages.Body.Bottom)
            {
                y = pages.Next();
            }

            pages.Scene.Text(Layer.Page, label, pages.Body.Right - 34, y + 4, 3.4, pages.Body, face, Align.Right);
            pages.Scene.Text(Layer.Page, own.Text(amount), pages.Body.Right - 1, y + 4, 3.4, pages.Body, face, Align.Right);
            y += 5.5;
        }

        y = pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(texts.OrderMass, context.MassOf(mass)), pages.Body, y + 2, 3.2);
        if (own.Rate is not null)
        {
            pages.Scene.Paragraph(
                Layer.Page, SheetContext.Fill(texts.OrderRate, own.Currency, own.RateText, context.Amount(order.Total)), pages.Body, y + 1, 3.2);
        }

        return pages.Build();
    }

    /// <summary>Amounts in the supplier's currency, as on the sheet; with another than the job's its rate stands in each row.
    /// <c>price_each</c> is the mean of the line, with the break that it reaches.</summary>
    public static Sheet Csv(SheetContext context, Core.Plans.Order order)
    {
        var own = new OwnAmounts(context, order);
        var units = new TableUnits(context.Job.Unit);
        return new(
            "order",
            units.Heads("line", "supplier", "count", "stock", "form", "material", "length_{L}", "width_{L}", "thickness_{L}", "cut_to_size_for", "tolerance_minus_{L}", "tolerance_plus_{L}", "mass_each_{M}", "price_listed_each", "price_each", "line_total", "currency", "wanted_in_days", "rate"),
            [
                .. order.Lines.Select((line, at) =>
                {
                    var stock = context.StockOf(line);
                    return new object[]
                    {
                        at + 1, order.Supplier, line.Count, stock.Id, PlanTables.FormName(stock.Form), stock.MaterialId, units.Size(stock.Length), units.Size(stock.Width),
                        units.Size(stock.Thickness), stock.CutFor ?? "", stock.CutFor is null ? "" : 0, stock.CutFor is null ? "" : Plus(context, order) is { } plus ? units.Size(plus) : "",
                        units.Weight(stock.PieceMass(context.Job.MaterialOf(stock.MaterialId))), own.Price(stock.PiecePrice),
                        decimal.Round(own.Lines[at] / line.Count, 4), own.Lines[at], own.Currency, (object?)context.Job.WantedInDays ?? "", (object?)own.Rate ?? "",
                    };
                }),
                .. Sums(context, order, own).Select(sum => new object[] { "", order.Supplier, "", sum.Label, "", "", "", "", "", "", "", "", "", "", "", sum.Amount, own.Currency, "", (object?)own.Rate ?? "" }),
            ]);
    }

    private static Length? Plus(SheetContext context, Core.Plans.Order order) => context.Job.SupplierOf(order.Supplier)?.CutPlus;

    private static string CutText(SheetContext context, Core.Plans.Order order, Stock stock)
    {
        var texts = context.Texts;
        var tolerance = Plus(context, order) is { } plus ? SheetContext.Fill(texts.OrderTolerance, context.Length(plus)) : texts.OrderNeverSmaller;
        return SheetContext.Fill(texts.OrderCutFor, stock.CutFor!, tolerance);
    }

    /// <summary>With breaks the pieces of a line need not cost the same: then the mean is shown as such.</summary>
    private static string Each(SheetContext context, decimal cost, int count)
    {
        var each = cost / count;
        var decimals = each == decimal.Round(each, 2) ? 2 : 4;
        return (each == decimal.Round(each, decimals) ? "" : "≈ ") + context.Options.Numbers.Number(each, decimals);
    }

    private static IEnumerable<(string Label, decimal Amount, Face Face)> Sums(SheetContext context, Core.Plans.Order order, OwnAmounts own)
    {
        var texts = context.Texts;
        yield return (texts.OrderGoods, own.Goods, Face.Regular);
        if (order.TopUp > Money.Zero)
        {
            yield return (texts.OrderTopUp, own.TopUp, Face.Regular);
        }

        yield return (texts.OrderDelivery, own.Delivery, Face.Regular);
        yield return (texts.Total, own.Total, Face.Bold);
    }
}
