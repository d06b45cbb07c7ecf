namespace Nest.Solve.Exact;

/// <summary>The smallest rectangles from which each load of a plate can be cut from edge to edge, whatever else a saw demands.</summary>
/// <remarks>
/// Shape functions (Otten 1983; Stockmeyer 1983): of two parts side by side the least width at each height is the sum of theirs and a kerf, and of two parts one above the other likewise. A rectangle holds a load only if it is no
/// smaller than one of the load's. O(Σ shares · rectangles).
/// </remarks>
internal sealed class LeastRectangles
{
    /// <summary>By load: the narrowest first, each lower than the one before it.</summary>
    private readonly (int W, int H)[][] _least;

    public LeastRectangles(PlateShape shape, int[][] loads, (int A, int B)[][] shares)
    {
        _least = new (int, int)[loads.Length][];
        var all = new List<(int W, int H)>();
        for (var load = 0; load < loads.Length; load++)
        {
            all.Clear();
            for (var k = 0; k < shape.Pieces.Length && loads[load].Sum() == 1; k++)
            {
                if (loads[load][k] == 1)
                {
                    foreach (var (w, h) in shape.Pieces[k].Rectangles())
                    {
                        Add(w, h);
                    }
                }
            }

            foreach (var (a, b) in shares[load])
            {
                if (a > 0 && a <= b)
                {
                    Join(_least[a], _least[b]);
                }
            }

            _least[load] = Smallest(all);
        }

        void Add(int w, int h)
        {
            if (w <= shape.SizeX && h <= shape.SizeY)
            {
                all.Add((w, h));
            }
        }

        void Join((int W, int H)[] one, (int W, int H)[] other)
        {
            // Side by side: at each height of either the narrowest of both that are no higher.
            var (i, j) = (one.Length - 1, other.Length - 1);
            while (i >= 0 && j >= 0)
            {
                Add(one[i].W + shape.Kerf + other[j].W, Math.Max(one[i].H, other[j].H));
                (i, j) = i > 0 && (j == 0 || one[i - 1].H <= other[j - 1].H) ? (i - 1, j) : (i, j - 1);
            }

            // One above the other: at each width of either the lowest.
            (i, j) = (0, 0);
            while (i < one.Length && j < other.Length)
            {
                Add(Math.Max(one[i].W, other[j].W), one[i].H + shape.Kerf + other[j].H);
                (i, j) = i + 1 < one.Length && (j + 1 == other.Length || one[i + 1].W <= other[j + 1].W) ? (i + 1, j) : (i, j + 1);
            }
        }
    }

    /// <summary>Whether a rectangle may hold a load.</summary>
    public bool MayHold(int w, int h, int load)
    {
        foreach (var (least, height) in _least[load])
        {
            if (least > w)
            {
                break;
            }

            if (height <= h)
            {
                return true;
            }
        }

        return load == 0;
    }

    private static (int W, int H)[] Smallest(List<(int W, int H)> all)
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
