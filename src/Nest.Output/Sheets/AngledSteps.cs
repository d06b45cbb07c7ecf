using Nest.Core.Cutting;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The angled cuts of a layout with boxes to tick, below its steps.</summary>
internal static class AngledSteps
{
    private const double Tick = 5;
    private const double Gap = 0.8;
    private const int TicksInRow = 4;
    private const int MostTicks = 12;
    private const double Ticks = (TicksInRow * (Tick + Gap)) + 2;

    /// <returns>Y below the cuts.</returns>
    public static double Draw(SheetPages pages, SheetContext context, CutSequence sequence, double top)
    {
        if (sequence.AngledCuts.IsEmpty)
        {
            return top;
        }

        var (size, large) = (3.4, Print.Setting);
        var words = new AngledText(context);
        var y = Head(pages, context, top);
        foreach (var cut in sequence.AngledCuts)
        {
            var set = $"{cut.Number}   {(cut.NewAngle ? "► " : "")}{words.Saw(cut)}   {(cut.NewSetting ? "► " : "")}{words.Measure(cut)}";
            var what = $"{words.Part(cut)} · {words.End(cut)} · {words.Against(cut)} · {words.Setting(cut)}";
            var text = pages.Body with { X = pages.Body.X + Ticks, Width = pages.Body.Width - Ticks };
            var rows = cut.Pieces > MostTicks ? 1 : (cut.Pieces + TicksInRow - 1) / TicksInRow;
            var height = Math.Max(Height(set, large, Face.Bold) + Height(what, size, Face.Regular), rows * (Tick + Gap)) + 3.2;
            if (y + height > pages.Body.Bottom)
            {
                y = Head(pages, context, pages.Next());
            }

            pages.Scene.Line(Layer.Page, pages.Body.X, y, pages.Body.Right, y, new Stroke(PartLook.Ink, cut.NewSetting ? 0.5 : 0.15));
            Boxes(pages, cut.Pieces, y + 1.6);
            var below = pages.Scene.Paragraph(Layer.Page, set, text, y + 1.6, large, Face.Bold);
            pages.Scene.Paragraph(Layer.Page, what, text, below, size);
            y += height;
        }

        return y;

        double Height(string text, double size, Face face) => SceneBuilder.ParagraphHeight(text, pages.Body.Width - Ticks, size, face);
    }

    // A box for each blank; of many, one box to count in.
    private static void Boxes(SheetPages pages, int count, double top)
    {
        var left = pages.Body.X + 0.6;
        if (count > MostTicks)
        {
            var tally = new Box(left, top, Ticks - 4, Tick + 1);
            pages.Scene.Box(Layer.Page, tally, null, new Stroke(PartLook.Ink, 0.35));
            pages.Scene.Text(Layer.Page, $"/ {SheetContext.Text(count)}", tally.Right - 1, tally.Bottom - 1.9, Print.Least, tally, Face.Regular, Align.Right);
            return;
        }

        for (var at = 0; at < count; at++)
        {
            var box = new Box(left + (at % TicksInRow * (Tick + Gap)), top + (at / TicksInRow * (Tick + Gap)), Tick, Tick);
            pages.Scene.Box(Layer.Page, box, null, new Stroke(PartLook.Ink, 0.35));
        }
    }

    private static double Head(SheetPages pages, SheetContext context, double top)
    {
        if (top + 40 > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        pages.Scene.Text(Layer.Page, context.Texts.AngledTitle, pages.Body.X, top + 5, Print.Head, pages.Body, Face.Bold);
        return pages.Scene.Paragraph(Layer.Page, context.Texts.AngledHow, pages.Body, top + 6.4, Print.Least) + 1;
    }
}
