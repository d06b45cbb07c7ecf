using Nest.Core.Cutting;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The rows of a plate's cuts by stage: first the plate, then its strips, then what is cut from those.</summary>
internal static class CutStages
{
    /// <summary>Stage of each cut, by its number, from 1. O(cuts).</summary>
    public static Dictionary<int, int> Of(CutSequence sequence)
    {
        var born = new Dictionary<string, int>(StringComparer.Ordinal);
        var stages = new Dictionary<int, int>();
        foreach (var step in sequence.Steps)
        {
            var stage = step.OnSaw.Kind == WorkKind.Strip ? born.GetValueOrDefault(step.OnSaw.Name, 1) : 1;
            stages[step.Number] = stage;
            foreach (var strip in step.Yields.Where(piece => piece.Kind == WorkKind.Strip))
            {
                born.TryAdd(strip.Name, stage + 1);
            }
        }

        return stages;
    }

    /// <summary>The rows in groups, one for each small picture: a stage each; where there are more, neighbours with the fewest rows together.</summary>
    public static List<List<StepRow>> Groups(CutSequence sequence, int most)
    {
        var stages = Of(sequence);
        var groups = StepRow.Of(sequence).GroupBy(row => stages[row.First.Number]).OrderBy(group => group.Key).Select(group => group.ToList()).ToList();
        while (groups.Count > most)
        {
            var at = Enumerable.Range(0, groups.Count - 1).MinBy(index => groups[index].Count + groups[index + 1].Count);
            groups[at] = [.. groups[at], .. groups[at + 1]];
            groups.RemoveAt(at + 1);
        }

        return groups;
    }
}
