using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Texts;

namespace Nest.Output.Sheets;

/// <summary>What to fetch, what to be careful with, and the layouts in the order of work.</summary>
internal static class FrontPage
{
    /// <param name="scale">Of the type of the tables: 1, or a little less to save a page.</param>
    public static void Draw(SheetPages pages, SheetContext context, WorkOrder work, double scale)
    {
        var texts = context.Texts;
        var y = pages.Start(SheetContext.Fill("{0}: {1}", texts.SawPlan, context.Job.Name)) + 1;
        var (rack, delivery) = Cautions.Lines(context.Plan);
        y = Stock(pages, context, texts.Fetch, rack, y, scale);
        y = Stock(pages, context, texts.Delivery, delivery, y + 4, scale);
        y = Totals(pages, context, work, y + 3, scale);
        y = Box(pages, context, y + 2, scale);
        y = NotCut(pages, context, y + 4);
        Order(pages, context, work, y + 4, scale);
    }

    private static double Stock(SheetPages pages, SheetContext context, string title, List<BuyLine> lines, double top, double scale)
    {
        var texts = context.Texts;
        var y = Title(pages, title, top);
        if (lines.Count == 0)
        {
            return pages.Scene.Paragraph(Layer.Page, texts.Nothing, pages.Body, y, 3.2);
        }

        var rows = lines.Select(line =>
        {
            var stock = line.Stock;
            var marks = new List<string>();
            if (line.Mass > context.Job.LiftLimit)
            {
                marks.Add("▲ " + texts.LiftShort);
            }

            if (Cautions.IsLong(context.Job, stock))
            {
                marks.Add(texts.LongBar);
            }

            // Nobody saws it: no layout of the sheet is its.
            var whole = context.Plan.Layouts.Where(layout => layout.StockId == stock.Id && layout.Pieces.IsEmpty).Sum(layout => layout.Count);
            if (whole > 0)
            {
                marks.Add(SheetContext.Fill(texts.WholeToRack, whole));
            }

            var name = stock.IsLeftover ? stock.RackMark + (stock.Place is null ? "" : $" ({stock.Place})") : stock.Id;
            var used = context.Plan.Layouts.Where(layout => layout.StockId == stock.Id && !layout.Pieces.IsEmpty).Select(layout => SheetContext.Text(layout.Number));
            return new[]
            {
                "□", SheetContext.Fill(texts.Times, line.Count), name, $"{context.FormOf(stock)} {stock.MaterialId}", context.SizeOf(stock),
                string.Join(", ", used), context.MassOf(line.Mass), string.Join("; ", marks),
            };
        }).ToArray();

        // Material and size are kept on one line where there is room; the name of a stock, which people look for on a label, has the rest.
        var width = pages.Body.Width;
        var marked = rows.Any(row => row[^1].Length > 0) ? 23 : 0;
        var rest = width - 10 - 13 - 14 - 19 - marked;
        var material = Math.Min(rest * 0.32, Longest(3, Face.Regular));
        var size = Math.Min(rest * 0.42, Longest(4, Face.Bold));
        Column[] columns =
        [
            new(texts.HeadDone, 10), new(texts.Count, 13, Align.Right, Face.Bold), new(texts.Stock, rest - material - size, Align.Left, Face.Bold),
            new(texts.Material, material), new(texts.Size, size, Align.Left, Face.Bold), new(texts.Layouts, 14), new(texts.MassEach, 19, Align.Right), new("", marked, Align.Left, Face.Bold),
        ];
        if (marked == 0)
        {
            columns = columns[..^1];
            rows = [.. rows.Select(row => row[..^1])];
        }

        y = Table.Draw(pages, y, columns, rows, 3 * scale, title: SheetContext.Fill(texts.Continued, title));
        var mass = lines.Aggregate(default(Core.Quantities.Mass), (sum, line) => sum + line.TotalMass);
        pages.Scene.Text(Layer.Page, $"{texts.Total}: {SheetContext.Fill(texts.Times, lines.Sum(line => line.Count))}, {context.MassOf(mass)}",
            pages.Body.X + 10, y + 4, 3, pages.Body with { Width = pages.Body.Width }, Face.Bold);
        return y + 5;

        double Longest(int column, Face face) => 2.2 + rows.Max(row => FontBook.Width(row[column], face, 3 * scale));
    }

    private static double Totals(SheetPages pages, SheetContext context, WorkOrder work, double top, double scale)
    {
        var plan = context.Plan;
        var text = SheetContext.Fill(
            context.Texts.TotalsLine,
            plan.Layouts.Sum(layout => layout.Count), plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length), work.Cuts, work.Settings)
            + ". " + SheetContext.Fill(context.Texts.TimeLine, Duration(context.Texts, work.Minutes));
        return pages.Scene.Paragraph(Layer.Page, text, pages.Body, top, 3.2 * Math.Max(1, scale));
    }

    public static string Duration(SheetTexts texts, decimal minutes)
    {
        var whole = (int)decimal.Ceiling(minutes);
        return whole < 60 ? SheetContext.Fill(texts.DurationMinutes, whole) : SheetContext.Fill(texts.DurationHours, whole / 60, whole % 60);
    }

    private static double Box(SheetPages pages, SheetContext context, double top, double scale)
    {
        var size = 3 * Math.Max(1, scale);
        var lines = Cautions.Of(context);
        var inner = pages.Body.Width - 14;
        var height = 8 + lines.Sum(line => SceneBuilder.ParagraphHeight(line, inner, size) + 0.8);
        if (top + height > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        var scene = pages.Scene;
        var box = new Box(pages.Body.X, top, pages.Body.Width, height);
        scene.Box(Layer.Page, box, null, new Stroke(PartLook.Ink, 0.8));
        scene.Text(Layer.Page, context.Texts.Cautions, box.X + 3, top + 5, 3.8, box, Face.Bold);
        var y = top + 7;
        foreach (var line in lines)
        {
            scene.Text(Layer.Page, "!", box.X + 4.4, y + (FontBook.CapHeight * size), 3.2, box, Face.Bold);
            y = scene.Paragraph(Layer.Page, line, new Box(box.X + 9, y, inner, height), y, size) + 0.8;
        }

        return box.Bottom;
    }

    private static double NotCut(SheetPages pages, SheetContext context, double top)
    {
        if (context.Plan.Unplaced.Length == 0)
        {
            return top - 4;
        }

        var y = Title(pages, context.Texts.NotCut, top);
        Column[] columns = [new(context.Texts.Count, 16, Align.Right, Face.Bold), new(context.Texts.Part, 50, Align.Left, Face.Bold), new("", pages.Body.Width - 66)];
        return Table.Draw(pages, y, columns, [.. context.Plan.Unplaced.Select(line =>
            new[] { SheetContext.Fill(context.Texts.Times, line.Count), line.PartId, line.Reason })]);
    }

    private static void Order(SheetPages pages, SheetContext context, WorkOrder work, double top, double scale)
    {
        var texts = context.Texts;
        var y = Title(pages, texts.LayoutsTitle, top);
        var plan = context.Plan;
        Column[] columns =
        [
            new(texts.HeadDone, 10), new(texts.Layouts, 15, Align.Right, Face.Bold), new(texts.Count, 14, Align.Right, Face.Bold), new(texts.Stock, pages.Body.Width - 10 - 15 - 14 - 36 - 26 - 20),
            new(texts.Saw, 36), new("", 26, Align.Right), new(texts.Minutes, 20, Align.Right),
        ];
        var rows = work.Items.SelectMany(item =>
        {
            var layout = plan.Layouts.First(one => one.Number == item.Layout);
            var stock = plan.StockOf(layout);
            string[] change = ["□", "", "", SheetContext.Fill(texts.ChangeMaterial, stock.MaterialId), "", "", ""];
            string[] row =
            [
                "□", SheetContext.Text(layout.Number), SheetContext.Fill(texts.Times, layout.Count),
                $"{context.FormOf(stock)} {stock.MaterialId}, {context.SizeOf(stock)}", layout.SawId,
                SheetContext.Fill(texts.Pieces, layout.Pieces.Length), context.Options.Numbers.Number(item.Minutes, 1),
            ];
            return item.ChangesMaterial ? new[] { change, row } : [row];
        }).Append(["", "", "", texts.Total, "", "", context.Options.Numbers.Number(work.Minutes, 1)]).ToArray();
        Table.Draw(pages, y, columns, rows, 2.8 * scale, title: SheetContext.Fill(texts.Continued, texts.LayoutsTitle));
    }

    private static double Title(SheetPages pages, string title, double top)
    {
        if (top + 24 > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        pages.Scene.Text(Layer.Page, title, pages.Body.X, top + 4, 4.2, pages.Body, Face.Bold);
        return top + 5.6;
    }
}
