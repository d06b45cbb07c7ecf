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
    private const double Radius = 1.7;
    private const double TextSize = 2.2;

    /// <returns>Numbers of the cuts that are marked here.</returns>
    public static HashSet<int> Draw(SceneBuilder scene, SheetContext context, Layout layout, CutSequence sequence, View view)
    {
        var shown = new HashSet<int>();
        var through = sequence.Steps.Where(step => step.OnSaw.Kind == WorkKind.Stock).ToArray();
        Top(scene, context, layout, view, [.. through.Where(step => step.Direction == CutDirection.Crosscut).OrderBy(step => step.Kerf.X)], shown);
        Side(scene, context, layout, view, [.. through.Where(step => step.Direction == CutDirection.Rip).OrderBy(step => step.Kerf.Y)], shown);
        return shown;
    }

    private static void Top(SceneBuilder scene, SheetContext context, Layout layout, View view, CutStep[] steps, HashSet<int> shown)
    {
        var top = view.Box.Y;
        var places = Spread([.. steps.Select(step => view.X(step.Kerf.X))], (Radius * 2) + 0.3, view.Box.X, view.Box.Right);
        for (var index = 0; index < places.Length; index++)
        {
            var step = steps[index];
            var x = view.X(step.Kerf.X);
            scene.Lines(Layer.Cut, [new(x, top, x, top - 1), new(x, top - 1, places[index], top - 2.2)], new Stroke(PartLook.Ink, 0.2));
            scene.Mark(Layer.Cut, SheetContext.Text(step.Number), places[index], top - 2.2 - Radius, Radius);
            shown.Add(step.Number);
            if (step.Purpose != CutPurpose.Trim)
            {
                var text = context.Length(step.Kerf.X - layout.Usable.X, false);
                var long_ = FontBook.Width(text, Face.Regular, TextSize);
                var bottom = top - 2.6 - (Radius * 2);
                scene.Standing(Layer.Cut, text, places[index], bottom - (long_ / 2), TextSize, new Box(places[index] - 2.2, bottom - 14, 4.4, 14));
            }
        }
    }

    private static void Side(SceneBuilder scene, SheetContext context, Layout layout, View view, CutStep[] steps, HashSet<int> shown)
    {
        var right = view.Box.Right;

        // From the bottom upwards on paper: Y falls.
        var places = Spread([.. steps.Select(step => -view.Y(step.Kerf.Y))], (Radius * 2) + 0.3, -view.Box.Bottom, -view.Box.Y);
        for (var index = 0; index < places.Length; index++)
        {
            var step = steps[index];
            var y = view.Y(step.Kerf.Y);
            var at = -places[index];
            scene.Lines(Layer.Cut, [new(right, y, right + 1, y), new(right + 1, y, right + 2.2, at)], new Stroke(PartLook.Ink, 0.2));
            scene.Mark(Layer.Cut, SheetContext.Text(step.Number), right + 2.2 + Radius, at, Radius);
            shown.Add(step.Number);
            if (step.Purpose != CutPurpose.Trim)
            {
                var within = new Box(right + 2.8 + (Radius * 2), at - 2, 14, 4);
                scene.Text(Layer.Cut, context.Length(step.Kerf.Y - layout.Usable.Y, false), within.X, at + (FontBook.CapHeight * TextSize / 2), TextSize, within);
            }
        }
    }

    /// <summary>Moves sorted places apart to a smallest distance within two ends; those that find no room are left out at the end.</summary>
    private static double[] Spread(double[] wanted, double distance, double from, double to)
    {
        var count = Math.Min(wanted.Length, (int)((to - from) / distance) + 1);
        var places = wanted[..count];
        for (var index = 1; index < count; index++)
        {
            places[index] = Math.Max(places[index], places[index - 1] + distance);
        }

        for (var index = count - 1; index >= 0; index--)
        {
            var limit = index == count - 1 ? to : places[index + 1] - distance;
            places[index] = Math.Min(places[index], limit);
        }

        return places;
    }
}
