namespace Nest.Solve.Plates.ThroughCut;

/// <summary>The rests of a sheet that some piece may be of use in, and the best place of a piece among them.</summary>
/// <param name="leastWidth">A rest below these sizes is of no use to any piece.</param>
internal sealed class SheetRests(long leastWidth, long leastHeight)
{
    private int[] _leaves = new int[8];
    private int _count;

    /// <summary>Numbers of their nodes.</summary>
    public ReadOnlySpan<int> Leaves => _leaves.AsSpan(0, _count);

    /// <summary>Area of the largest.</summary>
    public double Largest { get; private set; }

    /// <summary>Sum of their squared areas.</summary>
    public double Squares { get; private set; }

    public SheetRests Clone()
    {
        var copy = (SheetRests)MemberwiseClone();
        copy._leaves = new int[Math.Max(8, _count + 4)];
        Array.Copy(_leaves, copy._leaves, _count);
        return copy;
    }

    /// <summary>Becomes a copy of others without allocating where room is.</summary>
    public void CopyFrom(SheetRests other)
    {
        (Largest, Squares) = (other.Largest, other.Squares);
        if (_leaves.Length < other._count)
        {
            _leaves = new int[other._leaves.Length];
        }

        Array.Copy(other._leaves, _leaves, other._count);
        _count = other._count;
    }

    /// <summary>Looks for them anew.</summary>
    public void Refresh(ReadOnlySpan<SheetNode> nodes)
    {
        (_count, Largest, Squares) = (0, 0, 0);
        for (var n = 0; n < nodes.Length; n++)
        {
            if (nodes[n].Item == SheetNode.Rest && nodes[n].Width >= leastWidth && nodes[n].Height >= leastHeight)
            {
                if (_count == _leaves.Length)
                {
                    Array.Resize(ref _leaves, 2 * _count);
                }

                _leaves[_count++] = n;
                var area = (double)nodes[n].Width * nodes[n].Height;
                Largest = Math.Max(Largest, area);
                Squares += area * area;
            }
        }
    }

    /// <summary>Best place for a piece of this inflated size.</summary>
    public bool BestSpot(ThroughModel model, SheetTree tree, long width, long height, out Spot best)
    {
        best = new Spot(-1, 0, double.NegativeInfinity);
        ReadOnlySpan<SheetNode> nodes = tree.Nodes;
        for (var r = 0; r < _count; r++)
        {
            var leaf = _leaves[r];
            ref readonly var node = ref nodes[leaf];
            if (width > node.Width || height > node.Height)
            {
                continue;
            }

            var whole = Worth(model, node.Width, node.Height);
            if (UpperScore(whole, (double)width * height, node.Width, node.Height) <= best.Score)
            {
                continue;
            }

            var dx = node.Width - width;
            var dy = node.Height - height;
            if (dx > 0 || dy == 0)
            {
                var score = Worth(model, dx, node.Height) + Worth(model, width, dy) - whole;
                if (score > best.Score && SheetRules.Allowed(model, tree, leaf, width, height, CutSheet.Across))
                {
                    best = new Spot(leaf, CutSheet.Across, score);
                }
            }

            if (dy > 0)
            {
                var score = Worth(model, node.Width, dy) + Worth(model, dx, height) - whole;
                if (score > best.Score && SheetRules.Allowed(model, tree, leaf, width, height, CutSheet.Along))
                {
                    best = new Spot(leaf, CutSheet.Along, score);
                }
            }
        }

        return best.Leaf >= 0;
    }

    private static double UpperScore(double whole, double piece, long width, long height)
    {
        // Best conceivable: all that is left stays one usable rest.
        var left = ((double)width * height) - piece;
        return (left * left) - whole;
    }

    private static double Worth(ThroughModel model, long width, long height)
    {
        if (width < model.LeastWidth || height < model.LeastHeight)
        {
            return 0;
        }

        var area = (double)width * height;
        return area * area;
    }
}
