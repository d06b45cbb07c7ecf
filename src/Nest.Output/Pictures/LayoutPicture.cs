using Nest.Core.Plans;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The picture of one layout on a page of its own that prints on A4 and on Letter; further pages where small pieces or a
/// long key need them.</summary>
internal static class LayoutPicture
{
    // Fits both papers, lying, with a margin of 7 mm and more.
    private const double Width = 264;
    private const double Height = 192;
    private const double Margin = 3;
    private const double Head = 17;
    private static readonly double[] BarHeights = [2.4, 2, 1.6, 1.3, 1];

    public static List<Scene> Pages(SheetContext context, Layout layout, CutSequence? sequence)
    {
        var stock = context.Plan.StockOf(layout);
        var entries = KeyList.Entries(context, layout);
        var main = new SceneBuilder(PageName(layout, 0), Width, Height);
        var body = Body(main);
        TitleBlock(main, context, layout, null);
        var unlabelled = new List<int>();
        var keyHeight = Math.Min(KeyList.HeightFor(context, entries, body.Width), 50) + 6;
        double below;
        if (stock.Form.IsBar())
        {
            // As tall as the page allows: a bar of many rows is as tall as it must be.
            var room = body.Height - keyHeight;
            var (picture, height, rows) = BarHeights.Select(tall => new BarPicture(context, main, layout, sequence, tall))
                .Select(bar => (bar, bar.Measure(body.Width, room).Height, bar.Measure(body.Width, room).Rows))
                .First(choice => choice.Height + 3 <= room || choice.bar.IsLeast);
            picture.Draw(body with { Y = body.Y + 3 }, rows);
            below = body.Y + height + 3;
        }
        else
        {
            var area = body with { Height = body.Height - keyHeight };
            var result = new PlatePicture(context, main, layout, sequence).Draw(area);
            unlabelled.AddRange(result.Unlabelled);
            Details.Frames(main, context, result.View, Details.Windows(context, layout, unlabelled, body));
            below = result.View.Box.Bottom + Ruler.Band + RollingArrow.Band + 4;
            main.Text(Layer.Page, context.RulerNote(layout), body.X, below + 2, 2.4, body);
            below += 3.4;
        }

        var keyArea = Box.FromEdges(body.X, below + 1, body.Right, body.Bottom);
        var drawn = KeyList.Draw(main, context, entries, keyArea);
        var scenes = new List<SceneBuilder> { main };
        while (drawn < entries.Count)
        {
            var more = new SceneBuilder(PageName(layout, scenes.Count), Width, Height);
            TitleBlock(more, context, layout, context.Texts.KeyTitle);
            drawn += KeyList.Draw(more, context, entries[drawn..], Body(more));
            scenes.Add(more);
        }

        var windows = Details.Windows(context, layout, unlabelled, body);
        for (var index = 0; index < windows.Count; index++)
        {
            var detail = new SceneBuilder(PageName(layout, scenes.Count), Width, Height);
            TitleBlock(detail, context, layout, SheetContext.Fill(context.Texts.DetailTitle, index + 1));
            new PlatePicture(context, detail, layout, sequence).Draw(Body(detail), windows[index]);
            scenes.Add(detail);
        }

        // The picture of a bar ends below its key: two thirds of a page would be blank.
        var built = scenes.Select(scene => scene.Build()).ToArray();
        if (stock.Form.IsBar() && built.Length == 1)
        {
            built[0] = built[0] with { Height = Math.Min(Height, below + 1 + KeyList.HeightFor(context, entries, body.Width) + Margin) };
        }

        return [.. built];
    }

    private static Box Body(SceneBuilder scene) =>
        Box.FromEdges(Margin, Margin + Head + 2, scene.Area.Right - Margin, scene.Area.Bottom - Margin);

    private static string PageName(Layout layout, int index) =>
        index == 0 ? $"layout-{layout.Number:000}" : $"layout-{layout.Number:000}-{index + 1}";

    private static void TitleBlock(SceneBuilder scene, SheetContext context, Layout layout, string? addition)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        var stock = plan.StockOf(layout);
        var band = new Box(Margin, Margin, scene.Area.Width - (2 * Margin), Head);
        scene.Box(Layer.Page, band, null, new Stroke(PartLook.Ink, 0.4));
        var first = SheetContext.Fill(texts.Layout, layout.Number) + (addition is null ? "" : " · " + addition);
        var count = context.CountOf(layout);
        var cell = band.Shrink(1.5);
        var right = scene.Text(Layer.Page, SheetContext.Fill(texts.Plan, context.Print), cell.Right, cell.Y + 4, 3.4, cell with { X = cell.Right - 62, Width = 62 }, Face.Mono, Align.Right);
        scene.Text(Layer.Page, plan.Job.Name, cell.Right, cell.Y + 9.2, 3, cell with { X = cell.Right - 92, Width = 92 }, Face.Regular, Align.Right);
        if (context.Options.Date is { } date)
        {
            scene.Text(Layer.Page, date.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), cell.Right, cell.Y + 13.8, 2.8, cell with { X = cell.Right - 30, Width = 30 }, Face.Regular, Align.Right);
        }

        var head = scene.Text(Layer.Page, first, cell.X, cell.Y + 4.4, 4.8, Box.FromEdges(cell.X, cell.Y, right.X - 45, cell.Bottom), Face.Bold);
        var pill = new Box(head.Right + 4, cell.Y - 0.4, FontBook.Width(count, Face.Bold, 3.6) + 4, 6);
        scene.Box(Layer.Page, pill, Tint.Black);
        scene.Text(Layer.Page, count, pill.X + 2, pill.Y + 4.3, 3.6, pill, Face.Bold, tint: Tint.White);
        var left = cell with { Width = cell.Width - 96 };
        scene.Text(Layer.Page, $"{context.FormOf(stock)} {stock.MaterialId}   {context.SizeOf(stock)}", left.X, cell.Y + 9.6, 3.4, left, Face.Bold);
        var from = stock.IsLeftover
            ? SheetContext.Fill(texts.FromRack, stock.RackMark!) + (stock.Place is null ? "" : ", " + SheetContext.Fill(texts.RackPlace, stock.Place))
            : stock.Id + (stock.Supplier is null ? "" : ", " + SheetContext.Fill(texts.Supplier, stock.Supplier));
        var pieces = layout.Pieces.Length == 1 ? texts.OnePiece : SheetContext.Fill(texts.Pieces, layout.Pieces.Length);
        var yield = SheetContext.Fill(texts.Yield, context.Percent(SheetContext.YieldOf(layout, stock)));
        scene.Text(Layer.Page, $"{from} · {layout.SawId} · {pieces} · {yield}", left.X, cell.Y + 13.6, 2.8, Box.FromEdges(cell.X, cell.Y, cell.Right - 32, band.Bottom));
    }
}
