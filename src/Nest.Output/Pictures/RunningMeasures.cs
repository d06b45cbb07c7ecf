using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Cuts that go through the whole plate: number and distance from the reference edge, outside the picture.</summary>
internal static class RunningMeasures
{
    private const double TextSize = Print.Least;

    public static void Draw(SceneBuilder scene, SheetContext context, Layout layout, CutSequence sequence, View view)
    {
        var through = sequence.Steps.Where(step => step.OnSaw.Kind == WorkKind.Stock).ToArray();
        Top(scene, context, layout, view, [.. through.Where(step => step.Direction == CutDirection.Crosscut).OrderBy(step => step.Kerf.X)]);
        Side(scene, context, layout, view, [.. through.Where(step => step.Direction == CutDirection.Rip).OrderBy(step => step.Kerf.Y)]);
    }

    private static void Top(SceneBuilder scene, SheetContext context, Layout layout, View view, CutStep[] steps)
    {
        var top = view.Box.Y;
        var widest = steps.Select(step => Pill.Width(SheetContext.Text(step.Number))).DefaultIfEmpty(0).Max();
        var places = Spread([.. steps.Select(step => view.X(step.Kerf.X))], widest + 0.4, view.Box.X, view.Box.Right);
        for (var index = 0; index < places.Length; index++)
        {
            var step = steps[index];
            var x = view.X(step.Kerf.X);
            scene.Lines(Layer.Cut, [new(x, top, x, top - 1), new(x, top - 1, places[index], top - 2.2)], new Stroke(PartLook.Ink, 0.2));
            Pill.Draw(scene, SheetContext.Text(step.Number), places[index], top - 2.2 - (Pill.Height / 2));
            if (step.Purpose != CutPurpose.Trim)
            {
                var text = context.Length(step.Kerf.X - layout.Usable.X, false);
                var long_ = FontBook.Width(text, Face.Regular, TextSize);
                var bottom = top - 2.6 - Pill.Height;
                scene.Standing(Layer.Cut, text, places[index], bottom - (long_ / 2), TextSize, new Box(places[index] - 2.6, bottom - 18, 5.2, 18));
            }
        }
    }

    private static void Side(SceneBuilder scene, SheetContext context, Layout layout, View view, CutStep[] steps)
    {
        var right = view.Box.Right;

        // From the bottom upwards on paper: Y falls.
        var places = Spread([.. steps.Select(step => -view.Y(step.Kerf.Y))], Pill.Height + 0.4, -view.Box.Bottom, -view.Box.Y);
        for (var index = 0; index < places.Length; index++)
        {
            var step = steps[index];
            var y = view.Y(step.Kerf.Y);
            var at = -places[index];
            scene.Lines(Layer.Cut, [new(right, y, right + 1, y), new(right + 1, y, right + 2.2, at)], new Stroke(PartLook.Ink, 0.2));
            Pill.Draw(scene, SheetContext.Text(step.Number), right + 2.2 + (Pill.Width(SheetContext.Text(step.Number)) / 2), at);
            if (step.Purpose != CutPurpose.Trim)
            {
                var within = new Box(right + 3 + Pill.Width(SheetContext.Text(step.Number)), at - 2.4, 14, 4.8);
                scene.Text(Layer.Cut, context.Length(step.Kerf.Y - layout.Usable.Y, false), within.X, at + (FontBook.CapHeight * TextSize / 2), TextSize, within);
            }
        }
    }

    // Those that find no room are left out at the end.
    private static double[] Spread(double[] wanted, double distance, double from, double to)
    {
        var count = Math.Min(wanted.Length, (int)((to - from) / distance) + 1);
        return Spreading.Places(wanted[..count], [.. Enumerable.Repeat(distance, count)], from - (distance / 2), to + (distance / 2), 0)!;
    }
}
