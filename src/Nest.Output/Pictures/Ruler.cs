using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Rulers along the bottom and the left of a view, counted from the reference corner.</summary>
internal static class Ruler
{
    public const double Band = 8;

    private const double TextSize = 2.2;

    // Steps in whole units of the shop: millimetres, or sixteenths of an inch.
    private static readonly long[] MetricSteps = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
    private static readonly long[] InchSteps = [4, 8, 16, 32, 48, 96, 192, 384, 768, 1536];

    /// <summary>Below the view.</summary>
    public static void Along(SceneBuilder scene, SheetContext context, View view, Length zero, double y)
    {
        var (step, unit) = Step(context, view.Scale, 13);
        var line = new Stroke(PartLook.Ink, 0.2);
        var segments = new List<Segment> { new(view.Box.X, y, view.Box.Right, y) };
        var within = new Box(view.Box.X - 8, y, view.Box.Width + 16, Band);
        foreach (var at in Ticks(zero, view.Window.X, view.Window.Right, step))
        {
            var x = view.X(zero + at);
            segments.Add(new(x, y, x, y + 2.2));
            scene.Text(Layer.Ruler, Label(context, at, unit), x, y + 2.9 + (FontBook.CapHeight * TextSize), TextSize, within, Face.Regular, Align.Center);
        }

        foreach (var at in Ticks(zero, view.Window.X, view.Window.Right, Length.FromNanometres(step.Nanometres / Parts(step, unit))))
        {
            var x = view.X(zero + at);
            segments.Add(new(x, y, x, y + 1.1));
        }

        scene.Lines(Layer.Ruler, segments, line);
    }

    /// <summary>To the left of the view.</summary>
    public static void Across(SceneBuilder scene, SheetContext context, View view, Length zero, double x)
    {
        var (step, unit) = Step(context, view.Scale, 7);
        var segments = new List<Segment> { new(x, view.Box.Y, x, view.Box.Bottom) };
        var within = new Box(x - 14, view.Box.Y - 3, 14, view.Box.Height + 6);
        foreach (var at in Ticks(zero, view.Window.Y, view.Window.Top, step))
        {
            var y = view.Y(zero + at);
            segments.Add(new(x - 2.2, y, x, y));
            scene.Text(Layer.Ruler, Label(context, at, unit), x - 2.8, y + (FontBook.CapHeight * TextSize / 2), TextSize, within, Face.Regular, Align.Right);
        }

        foreach (var at in Ticks(zero, view.Window.Y, view.Window.Top, Length.FromNanometres(step.Nanometres / Parts(step, unit))))
        {
            var y = view.Y(zero + at);
            segments.Add(new(x - 1.1, y, x, y));
        }

        scene.Lines(Layer.Ruler, segments, new Stroke(PartLook.Ink, 0.2));
    }

    private static IEnumerable<Length> Ticks(Length zero, Length from, Length to, Length step)
    {
        var first = (from - zero).Nanometres;
        var index = first / step.Nanometres;
        if (index * step.Nanometres < first)
        {
            index++;
        }

        for (; zero + Length.FromNanometres(index * step.Nanometres) <= to; index++)
        {
            yield return Length.FromNanometres(index * step.Nanometres);
        }
    }

    private static (Length Step, Length Unit) Step(SheetContext context, double scale, double room)
    {
        var metric = context.Lengths.Unit == LengthUnit.Millimetre;
        var unit = Length.FromNanometres(metric ? Length.NanometresPerMillimetre : Length.NanometresPerInch / 16);
        var steps = metric ? MetricSteps : InchSteps;
        foreach (var step in steps)
        {
            var length = Length.FromNanometres(unit.Nanometres * step);
            if (View.Millimetres(length) * scale >= room)
            {
                return (length, unit);
            }
        }

        return (Length.FromNanometres(unit.Nanometres * steps[^1]), unit);
    }

    private static int Parts(Length step, Length unit)
    {
        var count = step.Nanometres / unit.Nanometres;
        return count % 10 == 0 ? (count % 20 == 0 ? 4 : 5) : count % 4 == 0 ? 4 : count % 3 == 0 ? 3 : count == 5 ? 5 : 2;
    }

    private static string Label(SheetContext context, Length at, Length unit)
    {
        // Rulers of an inch shop count in inches, parts of it as fractions or decimals as the shop reads them.
        _ = unit;
        return context.Length(at, false);
    }
}
