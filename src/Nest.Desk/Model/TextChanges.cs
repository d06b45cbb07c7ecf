using System.Text;

namespace Nest.Desk.Model;

/// <summary>A line that two versions of a text do not share.</summary>
/// <param name="There">In the file, as another program left it; else in what was typed here.</param>
public readonly record struct ChangedLine(bool There, string Text);

/// <summary>What differs between two versions of a list, line by line.</summary>
internal static class TextChanges
{
    private const int Most = 40;

    /// <summary>Lines of either version that the other has not, in their order. Lines that stand there twice count. O(lines).</summary>
    public static IReadOnlyList<ChangedLine> Between(byte[] there, byte[] here)
    {
        var (theirs, mine) = (Lines(there), Lines(here));
        return [.. Left(theirs, mine).Select(line => new ChangedLine(true, line)).Take(Most), .. Left(mine, theirs).Select(line => new ChangedLine(false, line)).Take(Most)];
    }

    private static List<string> Left(List<string> of, List<string> without)
    {
        var counts = without.GroupBy(line => line, StringComparer.Ordinal).ToDictionary(group => group.Key, group => group.Count(), StringComparer.Ordinal);
        var left = new List<string>();
        foreach (var line in of)
        {
            if (counts.GetValueOrDefault(line) is > 0 and var count)
            {
                counts[line] = count - 1;
            }
            else
            {
                left.Add(line);
            }
        }

        return left;
    }

    private static List<string> Lines(byte[] text) => [.. Encoding.UTF8.GetString(text).ReplaceLineEndings("\n").Split('\n').Where(line => line.Length > 0)];
}
