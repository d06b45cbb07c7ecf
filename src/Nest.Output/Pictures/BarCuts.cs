using Nest.Core.Cutting;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Numbers of the cuts above a row of a bar: a disc each, or one bracket over cuts that follow each other closely, named from
/// the leftmost to the rightmost.</summary>
internal static class BarCuts
{
    /// <summary>Height that the numbers need above the bar.</summary>
    public const double Band = 6.5;

    private const double Radius = 1.7;
    private const double Gap = 0.4;

    /// <returns>Numbers of the cuts for which there was no room.</returns>
    public static List<int> Draw(SceneBuilder scene, IReadOnlyList<CutStep> steps, View view, Box bar)
    {
        var groups = Groups([.. steps.OrderBy(step => step.Kerf.X)], view);
        var left = new List<int>();
        while (groups.Sum(group => group.Width + Gap) > bar.Width + (2 * Radius))
        {
            left.AddRange(groups[^1].Steps.Select(step => step.Number));
            groups.RemoveAt(groups.Count - 1);
        }

        var places = Spread(groups, bar.X - Radius, bar.Right + Radius);
        for (var index = 0; index < groups.Count; index++)
        {
            groups[index].Draw(scene, places[index], bar);
        }

        return left;
    }

    // Neighbours whose discs would overlap are joined as long as their numbers count up, or down, without a gap.
    private static List<Group> Groups(CutStep[] steps, View view)
    {
        var groups = new List<Group>();
        for (var index = 0; index < steps.Length;)
        {
            var until = index;
            var direction = until + 1 < steps.Length ? steps[until + 1].Number - steps[until].Number : 0;
            while (Math.Abs(direction) == 1 && until + 1 < steps.Length && steps[until + 1].Number - steps[until].Number == direction
                && Middle(steps[until + 1], view) - Middle(steps[until], view) < (2 * Radius) + Gap)
            {
                until++;
            }

            var run = steps[index..(until + 1)];
            groups.Add(new(run, Middle(run[0], view), Middle(run[^1], view)));
            index = until + 1;
        }

        return groups;
    }

    private static double Middle(CutStep step, View view) => (view.X(step.Kerf.X) + view.X(step.Kerf.Right)) / 2;

    private static double[] Spread(List<Group> groups, double from, double to)
    {
        var places = groups.Select(group => (group.From + group.To) / 2).ToArray();
        for (var index = 0; index < places.Length; index++)
        {
            var least = index == 0 ? from + (groups[0].Width / 2) : places[index - 1] + ((groups[index - 1].Width + groups[index].Width) / 2) + Gap;
            places[index] = Math.Max(places[index], least);
        }

        for (var index = places.Length - 1; index >= 0; index--)
        {
            var most = index == places.Length - 1 ? to - (groups[index].Width / 2) : places[index + 1] - ((groups[index + 1].Width + groups[index].Width) / 2) - Gap;
            places[index] = Math.Min(places[index], most);
        }

        return places;
    }

    private sealed record Group(CutStep[] Steps, double From, double To)
    {
        private const double TextSize = 2.5;

        private string Text => $"{SheetContext.Text(Steps[0].Number)}–{SheetContext.Text(Steps[^1].Number)}";

        public double Width => Steps.Length == 1 ? 2 * Radius : FontBook.Width(Text, Face.Bold, TextSize) + 2;

        public void Draw(SceneBuilder scene, double place, Box bar)
        {
            var pen = new Stroke(PartLook.Ink, 0.2);
            var middle = (From + To) / 2;
            var foot = bar.Y - 2.2;
            if (Steps.Length == 1)
            {
                scene.Lines(Layer.Cut, [new(From, bar.Y, From, bar.Y - 1), new(From, bar.Y - 1, place, foot)], pen);
                scene.Mark(Layer.Cut, SheetContext.Text(Steps[0].Number), place, foot - Radius, Radius);
                return;
            }

            scene.Lines(Layer.Cut, [new(From, bar.Y, From, bar.Y - 1), new(To, bar.Y, To, bar.Y - 1), new(From, bar.Y - 1, To, bar.Y - 1), new(middle, bar.Y - 1, place, foot)], pen);
            var pill = new Box(place - (Width / 2), foot - (2 * Radius), Width, 2 * Radius);
            scene.Box(Layer.Cut, pill, Tint.Black);
            scene.Text(Layer.Cut, Text, place, pill.CenterY + (FontBook.CapHeight * TextSize / 2), TextSize, pill, Face.Bold, Align.Center, Tint.White);
            scene.Taken.ReplaceLast(pill);
        }
    }
}
