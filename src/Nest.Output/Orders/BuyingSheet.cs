using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>What to order from whom, and why: for the one who buys. The sheets that are sent to the suppliers are
/// <see cref="OrderSheet"/>s.</summary>
internal static class BuyingSheet
{
    public static List<Scene> Pages(SheetContext context, Paper paper)
    {
        var texts = context.Texts;
        var pages = new SheetPages(context, paper);
        var y = pages.Start(SheetContext.Fill(texts.BuyingTitle, context.Job.Name)) + 1;
        y = pages.Scene.Paragraph(Layer.Page, Cash.PayText(context), pages.Body, y + 1, 4.6, Face.Bold) + 1;
        y = pages.Scene.Paragraph(Layer.Page, Cash.DifferenceText(context), pages.Body, y, 3.4) + 4;
        var width = pages.Body.Width;
        Column[] columns =
        [
            new(texts.Count, 13, Align.Right, Face.Bold), new(texts.Stock, 62), new(texts.Total, 24, Align.Right), new(texts.BuyWhy, width - 13 - 62 - 24),
        ];
        foreach (var order in context.Plan.Orders)
        {
            if (y + 30 > pages.Body.Bottom)
            {
                y = pages.Next();
            }

            y = pages.Scene.Paragraph(Layer.Page, OrderReasons.Title(context, order), pages.Body, y + 1, 4.2, Face.Bold) + 1;
            y = Table.Draw(pages, y, columns, [.. order.Lines.Select(line => Row(context, order, line))], 3) + 1.5;
            y = pages.Scene.Paragraph(Layer.Page, OrderReasons.Sums(context, order), pages.Body, y, 3.4, Face.Bold) + 5;
        }

        if (y + 10 > pages.Body.Bottom)
        {
            y = pages.Next();
        }

        pages.Scene.Paragraph(Layer.Page, PlanSummary.Standing(context), pages.Body, y, 3.4);
        return pages.Build();
    }

    private static string[] Row(SheetContext context, Core.Plans.Order order, OrderLine line)
    {
        var stock = context.StockOf(line);
        return
        [
            SheetContext.Fill(context.Texts.Times, line.Count), $"{context.FormOf(stock)} {stock.MaterialId} {context.SizeOf(stock)}\n{stock.Id}",
            context.Amount(line.Cost), string.Join("; ", OrderReasons.Of(context, order, line)),
        ];
    }
}
