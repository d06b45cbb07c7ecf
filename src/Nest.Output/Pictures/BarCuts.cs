using Nest.Core.Cutting;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Numbers of the cuts above a bar, as the steps tell them: one for each row of like cuts, with a bracket over them. Rows that follow
/// each other too closely are named together.</summary>
internal static class BarCuts
{
    /// <summary>Height that the numbers need above the bar.</summary>
    public const double Band = 8.6;

    private const double Gap = 0.5;

    /// <summary>Width that the numbers of all rows need together.</summary>
    public static double WidthOf(IEnumerable<StepRow> rows) => rows.Sum(row => Pill.Width(row.Numbers) + Gap);

    /// <param name="rows">Cuts in this part of the bar.</param>
    /// <param name="lit">Numbers of the cuts that the page tells; null: all.</param>
    public static void Draw(SceneBuilder scene, IReadOnlyList<StepRow> rows, View view, Box bar, IReadOnlySet<int>? lit)
    {
        var groups = rows.Select(row => new Group([.. row.Steps])).OrderBy(group => group.Middle(view)).ToList();
        double[]? places;
        while ((places = Spreading.Places([.. groups.Select(group => group.Middle(view))], [.. groups.Select(group => Pill.Width(group.Text))], bar.X - 3, bar.Right + 3, Gap)) is null)
        {
            Join(groups, view);
        }

        for (var at = 0; at < groups.Count; at++)
        {
            groups[at].Draw(scene, view, places[at], bar, lit);
        }
    }

    // The two nearest whose numbers follow each other; else the two nearest.
    private static void Join(List<Group> groups, View view)
    {
        var at = Enumerable.Range(0, groups.Count - 1)
            .MinBy(index => (groups[index].Follows(groups[index + 1]) ? 0 : 1, groups[index + 1].Middle(view) - groups[index].Middle(view)));
        groups[at] = new([.. groups[at].Steps, .. groups[at + 1].Steps]);
        groups.RemoveAt(at + 1);
    }

    private sealed record Group(CutStep[] Steps)
    {
        private int First => Steps.Min(step => step.Number);

        private int Last => Steps.Max(step => step.Number);

        public string Text => Ranges.Text(First, Last);

        public bool Follows(Group next) => next.First == Last + 1 || First == next.Last + 1;

        public double Middle(View view) => (From(view) + To(view)) / 2;

        public void Draw(SceneBuilder scene, View view, double place, Box bar, IReadOnlySet<int>? lit)
        {
            var pen = new Stroke(PartLook.Ink, 0.2);
            var (from, to) = (From(view), To(view));
            var foot = bar.Y - 3.8;
            scene.Lines(
                Layer.Cut,
                Steps.Length == 1
                    ? [new(from, bar.Y - 0.4, from, bar.Y - 2.6), new(from, bar.Y - 2.6, place, foot)]
                    : [new(from, bar.Y - 0.4, from, bar.Y - 2.6), new(to, bar.Y - 0.4, to, bar.Y - 2.6), new(from, bar.Y - 2.6, to, bar.Y - 2.6), new((from + to) / 2, bar.Y - 2.6, place, foot)],
                pen);
            Pill.Draw(scene, Text, place, foot - (Pill.Height / 2), lit is not null && !Steps.Any(step => lit.Contains(step.Number)));
        }

        private double From(View view) => Steps.Min(step => Center(step, view));

        private double To(View view) => Steps.Max(step => Center(step, view));

        private static double Center(CutStep step, View view) => (view.X(step.Kerf.X) + view.X(step.Kerf.Right)) / 2;
    }
}
