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

    // With more strips than that in a stage each picture is as wide as the page: else their letters find no room.
    private const int Crowd = 16;

    /// <summary>The stages, each as the rows of its cuts.</summary>
    public static IReadOnlyList<IReadOnlyList<StepRow>> Stages(CutSequence sequence) => CutStages.Groups(sequence, Most);

    /// <summary>Whether each stage needs a picture of the whole width.</summary>
    public static bool IsCrowded(IReadOnlyList<IReadOnlyList<StepRow>> stages) => stages.Any(rows =>
        rows.SelectMany(row => row.Steps).SelectMany(step => step.Yields).Where(piece => piece.Kind == WorkKind.Strip).Select(piece => piece.Name).Distinct(StringComparer.Ordinal).Count() > Crowd);

    /// <summary>Height that the pictures need at this width, two beside each other.</summary>
    public static double HeightFor(Layout layout, int stages, double width, double most)
    {
        var rows = (stages + 1) / 2;
        return (rows * (SmallPlate.HeightFor(layout, (width - Gap) / 2, ((most + Gap) / rows) - Gap) + Gap)) - Gap;
    }

    /// <summary>All stages, two beside each other.</summary>
    public static void Draw(SceneBuilder scene, SheetContext context, Layout layout, IReadOnlyList<IReadOnlyList<StepRow>> stages, Box area)
    {
        var rows = (stages.Count + 1) / 2;
        var (wide, tall) = (stages.Count == 1 ? area.Width : (area.Width - Gap) / 2, (area.Height - (Gap * (rows - 1))) / rows);
        for (var at = 0; at < stages.Count; at++)
        {
            Stage(scene, context, layout, stages[at], at + 1, new Box(area.X + (at % 2 * (wide + Gap)), area.Y + (at / 2 * (tall + Gap)), wide, tall));
        }
    }

    /// <param name="number">Of the stage, from 1.</param>
    public static void Stage(SceneBuilder scene, SheetContext context, Layout layout, IReadOnlyList<StepRow> rows, int number, Box area)
    {
        var steps = rows.SelectMany(row => row.Steps).Select(step => step.Number).Order().ToArray();
        new SmallPlate(context, scene, layout).Stage(area, SheetContext.Fill(steps.Length == 1 ? context.Texts.BreakDownStageOne : context.Texts.BreakDownStage, number, Ranges.Text(steps)), rows);
    }
}
