using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>How a plate is broken down, in at most four small pictures: each shows the metal that a stage cuts, the edge on the fence, the cuts
/// with their numbers, and what comes off with its letters.</summary>
internal static class BreakDown
{
    private const int Most = 4;
    private const double Gap = 3;

    /// <summary>Height that the pictures need at this width, two beside each other.</summary>
    public static double HeightFor(Layout layout, CutSequence sequence, double width, double most)
    {
        var rows = (CutStages.Groups(sequence, Most).Count + 1) / 2;
        return (rows * (SmallPlate.HeightFor(layout, (width - Gap) / 2, ((most + Gap) / rows) - Gap) + Gap)) - Gap;
    }

    public static void Draw(SceneBuilder scene, SheetContext context, Layout layout, CutSequence sequence, Box area)
    {
        var groups = CutStages.Groups(sequence, Most);
        var rows = (groups.Count + 1) / 2;
        var (wide, tall) = (groups.Count == 1 ? area.Width : (area.Width - Gap) / 2, (area.Height - (Gap * (rows - 1))) / rows);
        for (var at = 0; at < groups.Count; at++)
        {
            var box = new Box(area.X + (at % 2 * (wide + Gap)), area.Y + (at / 2 * (tall + Gap)), wide, tall);
            var steps = groups[at].SelectMany(row => row.Steps).Select(step => step.Number).Order().ToArray();
            new SmallPlate(context, scene, layout).Stage(box, SheetContext.Fill(context.Texts.BreakDownStage, at + 1, Ranges.Text(steps)), groups[at]);
        }
    }
}
