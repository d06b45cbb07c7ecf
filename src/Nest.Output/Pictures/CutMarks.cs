using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Numbers of the cuts inside the plate, each on its kerf where nothing else is.</summary>
internal static class CutMarks
{
    private static readonly double[] Radii = [1.7, 1.4, 1.15];

    private static readonly double[] Places = [0.08, 0.92, 0.5, 0.25, 0.75, 0.16, 0.84, 0.37, 0.63];

    /// <returns>Numbers of the cuts for which no place was free.</returns>
    public static List<int> Draw(SceneBuilder scene, CutSequence sequence, View view, IReadOnlySet<int> already)
    {
        var left = new List<int>();
        foreach (var step in sequence.Steps.Where(step => !already.Contains(step.Number)))
        {
            var box = view.Clipped(step.Kerf);
            if (box.Width <= 0 || box.Height <= 0)
            {
                continue;
            }

            if (!Place(scene, view, box, step))
            {
                left.Add(step.Number);
            }
        }

        return left;
    }

    private static bool Place(SceneBuilder scene, View view, Box kerf, CutStep step)
    {
        var along = step.Direction == CutDirection.Rip;
        foreach (var radius in Radii)
        {
            // A mark that is nearly as long as its cut would hide the pieces beside it.
            var length = along ? kerf.Width : kerf.Height;
            foreach (var place in Places)
            {
                // Near an end the mark stays whole beside it.
                var at = Math.Clamp(place * length, Math.Min(radius, length / 2), Math.Max(length - radius, length / 2));
                var x = along ? kerf.X + at : kerf.CenterX;
                var y = along ? kerf.CenterY : kerf.Y + at;
                var box = new Box(x - radius, y - radius, radius * 2, radius * 2);
                if (view.Box.Contains(box) && scene.IsFree(box) && length >= radius * 3.4)
                {
                    scene.Mark(Layer.Cut, SheetContext.Text(step.Number), x, y, radius);
                    return true;
                }
            }
        }

        return false;
    }
}
