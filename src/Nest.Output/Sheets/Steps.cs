using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The steps of a layout with boxes to tick.</summary>
internal static class Steps
{
    private const double Size = 2.9;
    private const double Lead = 1.25;
    private const double Tick = 4.2;

    private const double WidthTicks = 21;
    private const double WidthNumber = 12;
    private const double WidthSaw = 38;
    private const double WidthCut = 24;
    private const double WidthSet = 38;

    /// <returns>Y below the steps.</returns>
    public static double Draw(SheetPages pages, SheetContext context, Layout layout, CutSequence sequence, double top)
    {
        var texts = context.Texts;
        var words = new StepText(context, layout);
        var y = Head(pages, context, texts.Steps, top, 40);
        foreach (var row in StepRow.Of(sequence))
        {
            var cells = Cells(pages, words, row);
            var height = Math.Max(cells.Max(cell => cell.Height), TickHeight(row)) + 2.4;
            if (y + height > pages.Body.Bottom)
            {
                y = Head(pages, context, texts.StepsMore, pages.Next(), 0);
            }

            Row(pages, row, cells, y, height);
            y += height;
        }

        if (context.Lengths.ShowsFractions)
        {
            y = pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(texts.RoundingNote, context.Lengths.InchFraction),
                pages.Body, Math.Min(y + 1, pages.Body.Bottom - 4), 2.6);
        }

        return y;
    }

    private sealed record Cell(double X, double Width, IReadOnlyList<(string Text, Face Face, double Size)> Lines)
    {
        public double Height => Lines.Sum(line => line.Size * Lead);
    }

    private static List<Cell> Cells(SheetPages pages, StepText words, StepRow row)
    {
        var x = pages.Body.X + WidthTicks + WidthNumber;
        var saw = Wrapped(x, WidthSaw, (words.OnSaw(row.First), Face.Regular, Size), (words.Handling(row.First), Face.Bold, Size));
        x += WidthSaw;
        var times = row.Steps.Count > 1 ? $"{row.Steps.Count} ×" : "";
        var cut = Wrapped(x, WidthCut, (words.Direction(row.First), Face.Bold, Size), (times, Face.Bold, 3.6));
        x += WidthCut;
        var note = (row.First.NewSetting ? "► " : "") + words.SettingNote(row.First);
        var (shown, error) = words.SettingParts(row.First);
        var set = Wrapped(x, WidthSet, (shown, Face.Bold, row.First.NewSetting ? 4.4 : 3.4), (error, Face.Mono, 2.7), (note, row.First.NewSetting ? Face.Bold : Face.Regular, 2.5), (words.Against(row.First), Face.Regular, 2.5),
            (row.First.NewSetting ? words.Narrow(row.First) : "", Face.Bold, 2.5));
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

    // More than two rows of boxes are counted in a box to write in.
    private const int MostTicks = 8;

    private static double TickHeight(StepRow row) =>
        row.Steps.Count > MostTicks ? Tick + 2 : Math.Ceiling(row.Steps.Count / 4.0) * (Tick + 0.8);

    private static void Row(SheetPages pages, StepRow row, List<Cell> cells, double y, double height)
    {
        var scene = pages.Scene;
        var body = pages.Body;
        if (row.First.NewSetting)
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
            scene.Text(Layer.Page, $"/ {SheetContext.Text(row.Steps.Count)}", tally.Right - 1, tally.Y + 4.3, 3, tally, Face.Regular, Align.Right);
        }
        else
        {
            for (var tick = 0; tick < row.Steps.Count; tick++)
            {
                scene.Box(Layer.Page, new Box(body.X + 0.6 + (tick % 4 * (Tick + 0.8)), y + 1.2 + (tick / 4 * (Tick + 0.8)), Tick, Tick), null, new Stroke(PartLook.Ink, 0.35));
            }
        }

        var numbers = new Box(body.X + WidthTicks, y, WidthNumber, height);
        scene.Text(Layer.Page, row.Numbers, numbers.CenterX, y + 1.2 + (FontBook.CapHeight * 3.4), row.Steps.Count == 1 ? 3.4 : 2.7, numbers, Face.Bold, Align.Center);
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

    private static double Head(SheetPages pages, SheetContext context, string title, double top, double need)
    {
        if (top + need > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        var scene = pages.Scene;
        var texts = context.Texts;
        scene.Text(Layer.Page, title, pages.Body.X, top + 4, 4.2, pages.Body, Face.Bold);
        Column[] columns =
        [
            new(texts.HeadDone, WidthTicks), new(texts.HeadCut, WidthNumber), new(texts.HeadOnSaw, WidthSaw), new("", WidthCut),
            new(texts.HeadSet, WidthSet), new(texts.HeadOff, pages.Body.Width - WidthTicks - WidthNumber - WidthSaw - WidthCut - WidthSet),
        ];
        return top + 5 + HeadRow.Draw(scene, pages.Body.X, top + 5, columns, 1);
    }
}
