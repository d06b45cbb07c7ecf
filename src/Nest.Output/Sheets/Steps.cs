using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The steps of a layout with boxes to tick.</summary>
internal sealed class Steps
{
    private const double Lead = 1.25;

    // Boxes are for oily hands: they do not shrink with the type.
    private const double LeastTick = 4.2;
    private const double TickGap = 0.8;
    private const double WidthTicks = 21;
    private const double WidthSaw = 38;
    private const double WidthSet = 38;

    // More than two rows of boxes are counted in a box to write in.
    private const int MostTicks = 8;

    private readonly SheetPages _pages;
    private readonly SheetContext _context;
    private readonly StepText _words;
    private readonly double _type;

    private Steps(SheetPages pages, SheetContext context, Layout layout, int? stillFrom, double type)
    {
        (_pages, _context, _type) = (pages, context, type);
        _words = new(context, layout, stillFrom);
    }

    private double Size => 2.9 * _type;

    private double Tick => LeastTick * Math.Max(1, _type);

    private int TicksInRow => (int)((WidthTicks - 1) / (Tick + TickGap) + 1e-9);

    private double WidthNumber => 12 + (10 * Math.Max(0, _type - 1));

    private double WidthCut => 24 + (12 * Math.Max(0, _type - 1));

    /// <param name="type">Of the type: 1 is the usual.</param>
    /// <returns>Y below the steps.</returns>
    public static double Draw(SheetPages pages, SheetContext context, Layout layout, WorkItem item, double top, double type = 1)
    {
        var steps = new Steps(pages, context, layout, item.StillFrom, type);
        var y = steps.Head(context.Texts.Steps, top, 40);
        StepRow? before = null;
        foreach (var row in StepRow.Of(item.Sequence))
        {
            var cells = steps.Cells(row, before);
            var height = steps.Height(row, cells);
            if (y + height > pages.Body.Bottom)
            {
                // The first row of a page tells everything.
                y = steps.Head(context.Texts.StepsMore, pages.Next(), 0);
                cells = steps.Cells(row, null);
                height = steps.Height(row, cells);
            }

            steps.Row(row, cells, y, height);
            y += height;
            before = row;
        }

        if (context.Lengths.ShowsFractions)
        {
            y = pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(context.Texts.RoundingNote, context.Lengths.InchFraction),
                pages.Body, Math.Min(y + 1, pages.Body.Bottom - 4), 2.6);
        }

        return y;
    }

    private sealed record Cell(double X, double Width, IReadOnlyList<(string Text, Face Face, double Size)> Lines)
    {
        public double Height => Lines.Sum(line => line.Size * Lead);
    }

    private double Height(StepRow row, List<Cell> cells) => Math.Max(cells.Max(cell => cell.Height), TickHeight(row)) + 2.4;

    private List<Cell> Cells(StepRow row, StepRow? before)
    {
        var (pages, words, first) = (_pages, _words, row.First);
        var x = pages.Body.X + WidthTicks + WidthNumber;
        var saw = Wrapped(x, WidthSaw, (words.OnSaw(row), Face.Regular, Size), (words.Handling(first), Face.Bold, Size));
        x += WidthSaw;
        var times = row.Steps.Count > 1 ? $"{row.Steps.Count} ×" : "";
        var cut = Wrapped(x, WidthCut, (words.Direction(first), Face.Bold, Size), (times, Face.Bold, 3.6 * _type));
        x += WidthCut;
        var fresh = words.IsSet(first);
        var note = (fresh ? "► " : "") + words.SettingNote(first);
        var (shown, error) = words.SettingParts(first);
        var small = 2.5 * _type;

        // What lies against the fence as it did is not said again.
        var against = before is not null && !fresh && !first.Marked && !before.Last.Marked && before.Last.Against == first.Against ? "" : words.Against(first);
        var set = Wrapped(x, WidthSet, [(shown, Face.Bold, (fresh ? 4.4 : 3.4) * _type), (error, Face.Mono, 2.7 * _type),
            (note, fresh || first.Marked ? Face.Bold : Face.Regular, small), (against, Face.Regular, small),
                .. words.Cautions(first).Select(line => (line, Face.Bold, small))]);
        x += WidthSet;
        var off = Wrapped(x, pages.Body.Right - x, [.. words.Off(row).Select(line => (line, Face.Regular, Size))]);
        return [saw, cut, set, off];
    }

    private static Cell Wrapped(double x, double width, params (string Text, Face Face, double Size)[] lines)
    {
        var wrapped = lines.Where(line => line.Text.Length > 0)
            .SelectMany(line => FontBook.Wrap(line.Text, line.Face, line.Size, width - 2).Select(part => (part, line.Face, line.Size)));
        return new(x, width, [.. wrapped]);
    }

    private double TickHeight(StepRow row) =>
        row.Steps.Count > MostTicks ? Tick + 2 : Math.Ceiling(row.Steps.Count / (double)TicksInRow) * (Tick + TickGap);

    private void Row(StepRow row, List<Cell> cells, double y, double height)
    {
        var scene = _pages.Scene;
        var body = _pages.Body;
        if (_words.IsSet(row.First) || row.First.Marked)
        {
            // A new setting starts a block: the eye finds it by the heavy line.
            scene.Line(Layer.Page, body.X, y, body.Right, y, new Stroke(PartLook.Ink, 0.5));
        }
        else
        {
            scene.Line(Layer.Page, body.X, y, body.Right, y, new Stroke(Tint.Of(0x999999), 0.15));
        }

        if (row.Steps.Count > MostTicks)
        {
            var tally = new Box(body.X + 0.6, y + 1.2, WidthTicks - 3, Tick + 2);
            scene.Box(Layer.Page, tally, null, new Stroke(PartLook.Ink, 0.35));
            scene.Text(Layer.Page, $"/ {SheetContext.Text(row.Steps.Count)}", tally.Right - 1, tally.Bottom - 1.9, 3 * _type, tally, Face.Regular, Align.Right);
        }
        else
        {
            for (var tick = 0; tick < row.Steps.Count; tick++)
            {
                scene.Box(Layer.Page, new Box(body.X + 0.6 + (tick % TicksInRow * (Tick + TickGap)), y + 1.2 + (tick / TicksInRow * (Tick + TickGap)), Tick, Tick), null, new Stroke(PartLook.Ink, 0.35));
            }
        }

        var numbers = new Box(body.X + WidthTicks, y, WidthNumber, height);
        scene.Text(Layer.Page, row.Numbers, numbers.CenterX, y + 1.2 + (FontBook.CapHeight * 3.4 * _type), (row.Steps.Count == 1 ? 3.4 : 2.7) * _type, numbers, Face.Bold, Align.Center);
        foreach (var cell in cells)
        {
            var at = y + 1.2;
            foreach (var (text, face, size) in cell.Lines)
            {
                scene.Text(Layer.Page, text, cell.X + 1, at + (FontBook.CapHeight * size), size, new Box(cell.X, y, cell.Width, height), face);
                at += size * Lead;
            }
        }
    }

    private double Head(string title, double top, double need)
    {
        if (top + need > _pages.Body.Bottom)
        {
            top = _pages.Next();
        }

        var body = _pages.Body;
        var texts = _context.Texts;
        _pages.Scene.Text(Layer.Page, title, body.X, top + 4, 4.2, body, Face.Bold);
        Column[] columns =
        [
            new(texts.HeadDone, WidthTicks), new(texts.HeadCut, WidthNumber), new(texts.HeadOnSaw, WidthSaw), new("", WidthCut),
            new(texts.HeadSet, WidthSet), new(texts.HeadOff, body.Width - WidthTicks - WidthNumber - WidthSaw - WidthCut - WidthSet),
        ];
        return top + 5 + HeadRow.Draw(_pages.Scene, body.X, top + 5, columns, 1);
    }
}
