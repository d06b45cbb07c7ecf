using Nest.Core.Cutting;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The angled cuts of a layout with boxes to tick, below its steps.</summary>
internal static class AngledSteps
{
    /// <returns>Y below the cuts.</returns>
    public static double Draw(SheetPages pages, SheetContext context, CutSequence sequence, double top, double type = 1)
    {
        if (sequence.AngledCuts.IsEmpty)
        {
            return top;
        }

        var (size, large) = (3 * type, 3.8 * type);
        var words = new AngledText(context);
        var y = Head(pages, context, top);
        foreach (var cut in sequence.AngledCuts)
        {
            var set = $"{cut.Number}   {(cut.NewAngle ? "► " : "")}{words.Saw(cut)}   {(cut.NewSetting ? "► " : "")}{words.Measure(cut)}";
            var what = $"{words.Part(cut)} · {words.End(cut)} · {words.Against(cut)} · {words.Setting(cut)}";
            var ticks = cut.Pieces <= 24 ? string.Concat(Enumerable.Repeat("□ ", cut.Pieces)) : $"___ / {cut.Pieces}";
            var height = Height(set, large, Face.Bold) + Height(what, size, Face.Regular) + Height(ticks, large, Face.Bold) + 2.4;
            if (y + height > pages.Body.Bottom)
            {
                y = Head(pages, context, pages.Next());
            }

            pages.Scene.Line(Layer.Page, pages.Body.X, y, pages.Body.Right, y, new Stroke(PartLook.Ink, cut.NewSetting ? 0.5 : 0.15));
            y = pages.Scene.Paragraph(Layer.Page, set, pages.Body, y + 0.8, large, Face.Bold);
            y = pages.Scene.Paragraph(Layer.Page, what, pages.Body, y, size);
            y = pages.Scene.Paragraph(Layer.Page, ticks, pages.Body, y, large, Face.Bold) + 1;
        }

        return y;

        double Height(string text, double size, Face face) => SceneBuilder.ParagraphHeight(text, pages.Body.Width, size, face);
    }

    private static double Head(SheetPages pages, SheetContext context, double top)
    {
        if (top + 40 > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        pages.Scene.Text(Layer.Page, context.Texts.AngledTitle, pages.Body.X, top + 5, 4.2, pages.Body, Face.Bold);
        return pages.Scene.Paragraph(Layer.Page, context.Texts.AngledHow, pages.Body, top + 6.4, 2.6) + 1;
    }
}
