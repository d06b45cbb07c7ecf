using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Pictures;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The pages of one layout: picture with numbered cuts, key, steps to tick, details of small pieces.</summary>
/// <param name="share">Of the plate's picture: 1 for as large as the page allows, less to leave more room for the steps.</param>
internal sealed class LayoutSheet(SheetPages pages, SheetContext context, Layout layout, WorkItem item, double share)
{
    private readonly Stock _stock = context.Plan.StockOf(layout);
    private readonly Saw _saw = context.Plan.SawOf(layout);

    public void Draw()
    {
        var texts = context.Texts;
        var head = SheetContext.Fill(texts.Layout, layout.Number, context.Plan.Layouts.Length);
        var y = pages.Start(head, layout.Count == 1 ? texts.CutOne : SheetContext.Fill(texts.CutAlike, layout.Count));
        y = Facts(y);
        var (below, result) = Picture(y + 1);
        y = Key(below);
        y = result is null ? y : Notes(y, result);
        y = item.Sequence.Steps.Length > 0 ? Steps.Draw(pages, context, layout, item.Sequence, y + 2) : OutlineList(y + 2);
        AngledSteps.Draw(pages, context, item.Sequence, y + 2);
        if (result is { Unlabelled.Count: > 0 })
        {
            DetailPages(result.Unlabelled, y);
        }
    }

    private double Facts(double top)
    {
        var texts = context.Texts;
        var scene = pages.Scene;
        var body = pages.Body;
        scene.Text(Layer.Page, $"{context.FormOf(_stock)} {_stock.MaterialId}   {context.SizeOf(_stock)}", body.X, top + 3.4, 4.4, body, Face.Bold);
        var mass = _stock.PieceMass(context.Job.MaterialOf(_stock.MaterialId));
        var from = _stock.IsLeftover
            ? SheetContext.Fill(texts.FromRack, _stock.RackMark!) + (_stock.Place is null ? "" : ", " + SheetContext.Fill(texts.RackPlace, _stock.Place))
            : _stock.Id;
        var pieces = layout.Pieces.Length == 1 ? texts.OnePiece : SheetContext.Fill(texts.Pieces, layout.Pieces.Length);
        var yield = SheetContext.Fill(texts.Yield, context.Percent(SheetContext.YieldOf(layout, _stock)));
        var heavy = mass > context.Job.LiftLimit ? $" ▲ {texts.Lift}" : "";
        var parts = $"{from} · {_saw.Id} · {SheetContext.Fill(texts.Kerf, context.Length(_saw.Kerf))} · {pieces} · {yield} · {context.MassOf(mass)}{heavy}";
        var y = scene.Paragraph(Layer.Page, parts, body, top + 5.2, 3);
        var ticks = layout.Count <= 24 ? string.Concat(Enumerable.Repeat("□ ", layout.Count)) : $"___ / {layout.Count}";
        var line = $"{texts.StockTicks}: {ticks}";
        if (item.StackedPieces > 1)
        {
            line += "   " + SheetContext.Fill(texts.Stacked, item.StackedPieces);
        }

        return layout.Count > 1 ? scene.Paragraph(Layer.Page, line, body, y + 0.4, 3.4, Face.Bold) : y;
    }

    private (double Below, PictureResult? Result) Picture(double top)
    {
        var body = pages.Body;
        if (_stock.Form.IsBar())
        {
            var picture = new BarPicture(context, pages.Scene, layout, item.Sequence);
            var (height, rows) = picture.Measure(body.Width, body.Height * 0.62);
            picture.Draw(new Box(body.X, top + 2, body.Width, height), rows);
            return (top + 2 + height, null);
        }

        var sheet = layout.Sheet;
        var wide = body.Width - 32;
        var tall = (Math.Min(wide * View.Millimetres(sheet.SizeY) / View.Millimetres(sheet.SizeX), body.Height * 0.5) * share) + 28;
        var area = new Box(body.X, top, body.Width, tall);
        var result = new PlatePicture(context, pages.Scene, layout, item.Sequence).Draw(area);
        Frame(result);
        return (result.View.Box.Bottom + Ruler.Band + 3, result);
    }

    private void Frame(PictureResult result) =>
        Details.Frames(pages.Scene, context, result.View, Details.Windows(context, layout, result.Unlabelled, DetailArea));

    private Box DetailArea => pages.Body with { Height = (pages.Body.Height / 2) - 8 };

    private double Key(double top)
    {
        var entries = KeyList.Entries(context, layout);
        var y = top + 1;
        for (var drawn = 0; drawn < entries.Count;)
        {
            var rest = entries[drawn..];
            var height = Math.Min(KeyList.HeightFor(context, rest, pages.Body.Width), pages.Body.Bottom - y);
            if (height >= KeyList.Line)
            {
                drawn += KeyList.Draw(pages.Scene, context, rest, new Box(pages.Body.X, y, pages.Body.Width, height));
                y += height;
            }

            if (drawn < entries.Count)
            {
                y = pages.Next();
            }
        }

        return y;
    }

    private double Notes(double top, PictureResult result)
    {
        var text = context.RulerNote(layout);
        if (result.Unnumbered.Count > 0)
        {
            text += " " + SheetContext.Fill(context.Texts.Unnumbered, Ranges(result.Unnumbered));
        }

        if (_saw.Kind == SawKind.Cutter)
        {
            text += " " + SheetContext.Fill(context.Texts.CutterNote, context.Length(_saw.Kerf));
        }

        if (top + 8 > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        return pages.Scene.Paragraph(Layer.Page, text, pages.Body, top + 1, 2.6);
    }

    /// <summary>1, 2, 3, 7 → 1–3, 7.</summary>
    internal static string Ranges(IReadOnlyList<int> numbers)
    {
        var sorted = numbers.Order().ToArray();
        var parts = new List<string>();
        for (var index = 0; index < sorted.Length;)
        {
            var until = index;
            while (until + 1 < sorted.Length && sorted[until + 1] == sorted[until] + 1)
            {
                until++;
            }

            parts.Add(until == index ? SheetContext.Text(sorted[index]) : $"{SheetContext.Text(sorted[index])}–{SheetContext.Text(sorted[until])}");
            index = until + 1;
        }

        return string.Join(", ", parts);
    }

    private double OutlineList(double top)
    {
        var texts = context.Texts;
        if (top + 24 > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        pages.Scene.Text(Layer.Page, texts.Outlines, pages.Body.X, top + 4, 4.2, pages.Body, Face.Bold);
        Column[] columns =
        [
            new(texts.HeadDone, 11), new("", 12, Align.Right, Face.Bold), new(texts.Part, pages.Body.Width - 11 - 12 - 44 - 50),
            new(texts.Size, 44), new(texts.Position, 50, Align.Left, Face.Bold),
        ];
        var rows = item.Sequence.Outlines.Select(outline => new[]
        {
            "□", SheetContext.Text(outline.Number), $"{SheetContext.Fill(context.Texts.PartNumber, context.Number(outline.PartId))} {outline.PartId}", context.SizeOf(layout.Pieces[outline.Index], _stock),
            $"{context.Length(outline.Area.X - layout.MeasuredFrom.X, false)}, {context.Length(outline.Area.Y - layout.MeasuredFrom.Y, false)}",
        }).ToArray();
        return Table.Draw(pages, top + 5.6, columns, rows);
    }

    // Details follow each other down the page, each as tall as it needs at the full width.
    private void DetailPages(IReadOnlyList<int> unlabelled, double below)
    {
        const double Title = 6;
        const double Rulers = Ruler.Band + 6;
        var windows = Details.Windows(context, layout, unlabelled, DetailArea);
        var y = below + 4;
        for (var index = 0; index < windows.Count; index++)
        {
            var wide = pages.Body.Width - Ruler.Band - 12;
            var height = Math.Min((wide * View.Millimetres(windows[index].SizeY) / View.Millimetres(windows[index].SizeX)) + Rulers, DetailArea.Height);
            if (y + Title + height > pages.Body.Bottom)
            {
                y = pages.Next();
            }

            // The last one, or one that is alone on its page, takes the room that is left when that makes it larger.
            var room = index == windows.Count - 1 ? pages.Body.Bottom - y - Title : height;
            pages.Scene.Text(Layer.Page, SheetContext.Fill(context.Texts.DetailTitle, index + 1), pages.Body.X, y + 4, 4.2, pages.Body, Face.Bold);
            var result = new PlatePicture(context, pages.Scene, layout, item.Sequence).Draw(pages.Body with { Y = y + Title, Height = room }, windows[index]);
            y = result.View.Box.Bottom + Rulers + 2;
        }
    }
}
