namespace Nest.Solve.Exact;

/// <summary>The smallest rectangles that hold a load, made of those that hold two parts of it.</summary>
/// <remarks>
/// Shape functions (Otten 1983; Stockmeyer 1983): a list of rectangles of which none lies within another; one that holds the load is no smaller than one of them. Held ends and the longest cut are seen: a cut leaves a part on one of its
/// sides that is no shorter than what has to be held, so where the pieces of both are shorter one of them lies in a longer part. O(rectangles of both).
/// </remarks>
internal static class HoldingRectangles
{
    /// <summary>Adds the rectangles of two loads side by side and one above the other, as far as they are within the plate.</summary>
    /// <param name="one">The narrowest first, each lower than the one before it; so is <paramref name="other"/>.</param>
    /// <param name="most">No rectangle with more area, grown by a kerf, is of use.</param>
    public static void Join(PlateShape shape, (int W, int H)[] one, (int W, int H)[] other, long most, List<(int W, int H)> into)
    {
        // Side by side: at each height of either the narrowest of both that are no higher.
        var (i, j) = (one.Length - 1, other.Length - 1);
        while (i >= 0 && j >= 0)
        {
            var h = Math.Max(one[i].H, other[j].H);
            if (h <= shape.Longest)
            {
                Add(Both(one[i].W, other[j].W), h);
            }

            (i, j) = i > 0 && (j == 0 || one[i - 1].H <= other[j - 1].H) ? (i - 1, j) : (i, j - 1);
        }

        // One above the other: at each width of either the lowest.
        (i, j) = (0, 0);
        while (i < one.Length && j < other.Length)
        {
            var w = Math.Max(one[i].W, other[j].W);
            if (w <= shape.Longest)
            {
                Add(w, Both(one[i].H, other[j].H));
            }

            (i, j) = i + 1 < one.Length && (j + 1 == other.Length || one[i + 1].W <= other[j + 1].W) ? (i + 1, j) : (i, j + 1);
        }

        int Both(int a, int b) => Math.Min(a, b) + shape.Kerf + Math.Max(Math.Max(a, b), shape.Held);

        void Add(int w, int h)
        {
            if (w <= shape.SizeX && h <= shape.SizeY && ((long)w + shape.Kerf) * (h + shape.Kerf) <= most)
            {
                into.Add((w, h));
            }
        }
    }

    /// <summary>Those within which no other lies, the narrowest first. O(n log n).</summary>
    public static (int W, int H)[] Smallest(List<(int W, int H)> all)
    {
        all.Sort();
        var some = new List<(int W, int H)>();
        foreach (var (w, h) in all)
        {
            if (some.Count == 0 || h < some[^1].H)
            {
                some.Add((w, h));
            }
        }

        return [.. some];
    }
}
