namespace Nest.Solve.Plates.ThroughCut;

/// <summary>A column of a strip: one piece, or equal pieces stacked across the strip, or two kinds stacked.</summary>
/// <param name="Item">Kind of the pieces.</param>
/// <param name="Turned">Whether they lie turned.</param>
/// <param name="Stack">How many lie above each other across the strip.</param>
/// <param name="Other">Kind of one more piece on top, −1: none.</param>
/// <param name="OtherTurned">Whether that one lies turned.</param>
/// <param name="Length">Inflated length that the column takes along the strip.</param>
internal readonly record struct StripColumn(int Item, bool Turned, int Stack, int Other, bool OtherTurned, long Length);

/// <summary>A full strip: columns beside each other.</summary>
/// <param name="Breadth">Inflated size across the strip.</param>
/// <param name="Value">Sum of the pieces' values.</param>
/// <param name="Columns">Columns and how often each.</param>
/// <param name="Counts">Copies of each kind.</param>
internal sealed record Strip(long Breadth, double Value, List<(StripColumn Column, int Count)> Columns, List<(int Item, int Count)> Counts)
{
    /// <summary>Whether so many copies are left.</summary>
    public bool Within(ReadOnlySpan<int> left)
    {
        foreach (var (item, count) in Counts)
        {
            if (left[item] < count)
            {
                return false;
            }
        }

        return true;
    }

    public void Take(Span<int> left)
    {
        foreach (var (item, count) in Counts)
        {
            left[item] -= count;
        }
    }
}
