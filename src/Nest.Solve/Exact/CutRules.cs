using Nest.Core.Plans;

namespace Nest.Solve.Exact;

/// <summary>The cuts that a plate allows: positions, costs, what must be held.</summary>
internal sealed class CutRules
{
    private readonly int[] _costs;
    private readonly int _leastX = int.MaxValue;
    private readonly int _leastY = int.MaxValue;

    public CutRules(PlateShape shape)
    {
        Shape = shape;
        AtX = CutPositions.Of(shape, true);
        AtY = CutPositions.Of(shape, false);
        _costs = [.. Enumerable.Range(0, Math.Max(shape.SizeX, shape.SizeY) + 1).Select(length =>
            (int)Math.Floor(((shape.Prices.PerUnit * length) + shape.Prices.PerCut) * (1 - 1e-12)))];
        foreach (var piece in shape.Pieces)
        {
            if (piece.SizeX > 0)
            {
                _leastX = Math.Min(_leastX, piece.MayTurn ? Math.Min(piece.SizeX, piece.SizeY) : piece.SizeX);
                _leastY = Math.Min(_leastY, piece.MayTurn ? Math.Min(piece.SizeX, piece.SizeY) : piece.SizeY);
            }
        }
    }

    public PlateShape Shape { get; }

    /// <summary>Whether a cut across X may leave this extent.</summary>
    public bool[] AtX { get; }

    /// <summary>Whether a cut across Y may leave this extent.</summary>
    public bool[] AtY { get; }

    /// <summary>Cost of a cut by its length, in grains, rounded down.</summary>
    public int[] Costs => _costs;

    /// <summary>Least extents of any piece.</summary>
    public int LeastX => _leastX;

    /// <inheritdoc cref="LeastX"/>
    public int LeastY => _leastY;

    /// <summary>Cost of a cut across X (a crosscut) through this width; −1: the saw cannot make it.</summary>
    public int Crosscut(int h) => h > Shape.Longest ? -1 : _costs[h];

    /// <summary>Cost of a cut across Y (a rip) through this length; −1: the saw cannot make it.</summary>
    public int Rip(int w) => w > Shape.Longest ? -1 : _costs[w];

    /// <summary>Whether a piece may fit.</summary>
    public bool MayHold(int w, int h) => w >= _leastX && h >= _leastY;

    /// <summary>Whether this is exactly a piece of kind i.</summary>
    public bool IsPiece(int i, int w, int h, out bool turned)
    {
        var piece = Shape.Pieces[i];
        turned = !(piece.SizeX == w && piece.SizeY == h);
        return piece.SizeX > 0 && (!turned || (piece.MayTurn && piece.SizeX == h && piece.SizeY == w));
    }

    /// <summary>Extents along X that can come up at all, from the whole plate down.</summary>
    public bool[] Reachable()
    {
        var size = Shape.SizeX;
        var reached = new bool[size + 1];
        reached[size] = true;
        for (var w = size; w >= 1; w--)
        {
            for (var x = 1; reached[w] && x < w; x++)
            {
                var rest = w - Shape.Kerf - x;
                if (rest <= 0)
                {
                    reached[x] = true;
                }
                else if (AtX[x] || AtX[rest])
                {
                    reached[x] = reached[rest] = true;
                }
            }
        }

        return reached;
    }

    /// <summary>All cuts of a rectangle: the two children, the greater first, and the cost. A child with W = 0 is dust.</summary>
    /// <param name="only">Cuts of one direction; null: both.</param>
    /// <param name="everyRip">Rips at every position, as <see cref="WorthTable"/> has them.</param>
    public IEnumerable<((int W, int H) One, (int W, int H) Other, int Cost)> Cuts(int w, int h, CutDirection? only = null, bool everyRip = false)
    {
        var (kerf, held) = (Shape.Kerf, Shape.Held);
        if (only != CutDirection.Rip && Crosscut(h) is >= 0 and var crosscut)
        {
            for (int x = 1, rest = w - kerf - 1; x <= rest && rest >= held; x++, rest--)
            {
                if ((AtX[x] || AtX[rest]) && MayHold(rest, h))
                {
                    yield return ((rest, h), (x, h), crosscut);
                }
            }

            for (var x = Math.Max(1, Math.Max(w - kerf, held)); x < w; x++)
            {
                yield return ((x, h), (0, 0), crosscut);
            }
        }

        if (only != CutDirection.Crosscut && Rip(w) is >= 0 and var rip)
        {
            for (int y = 1, rest = h - kerf - 1; y <= rest && rest >= held; y++, rest--)
            {
                if ((everyRip || AtY[y] || AtY[rest]) && MayHold(w, rest))
                {
                    yield return ((w, rest), (w, y), rip);
                }
            }

            for (var y = Math.Max(1, Math.Max(h - kerf, held)); y < h; y++)
            {
                yield return ((w, y), (0, 0), rip);
            }
        }
    }
}
