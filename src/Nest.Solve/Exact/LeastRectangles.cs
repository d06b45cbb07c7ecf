namespace Nest.Solve.Exact;

/// <summary>The smallest rectangles from which each load of a plate can be cut from edge to edge (<see cref="HoldingRectangles"/>).</summary>
/// <remarks>O(Σ shares · rectangles).</remarks>
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
                    HoldingRectangles.Join(shape, _least[a], _least[b], long.MaxValue, all);
                }
            }

            _least[load] = HoldingRectangles.Smallest(all);
        }

        void Add(int w, int h)
        {
            if (w <= shape.SizeX && h <= shape.SizeY)
            {
                all.Add((w, h));
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
}
