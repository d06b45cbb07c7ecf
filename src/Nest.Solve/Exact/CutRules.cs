using Nest.Core.Plans;

namespace Nest.Solve.Exact;

/// <summary>The cuts that a plate allows: positions, costs, what must be held.</summary>
internal sealed class CutRules
{
    private readonly int[] _costs;
    private readonly int[] _rips;
    private readonly int[] _crosscuts;
    private readonly int _leastX = int.MaxValue;
    private readonly int _leastY = int.MaxValue;

    /// <param name="everywhere">Whether cuts may be at every unit, not just at <see cref="CutPositions"/>.</param>
    public CutRules(PlateShape shape, bool everywhere = false)
    {
        Shape = shape;
        AtX = everywhere ? [.. Enumerable.Repeat(true, shape.SizeX + 1)] : Positions(shape, true);
        AtY = everywhere ? [.. Enumerable.Repeat(true, shape.SizeY + 1)] : Positions(shape, false);
        _costs = CostsOf(shape, 0);
        _rips = shape.Raw.Right > 0 ? CostsOf(shape, shape.Raw.Right) : _costs;
        _crosscuts = shape.Raw.Top > 0 ? CostsOf(shape, shape.Raw.Top) : _costs;
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

    /// <summary>Cost of a rip by its length, in a rectangle that touches these staying raw edges.</summary>
    public int[] Rips(int raw) => (raw & 1) != 0 ? _rips : _costs;

    /// <summary>Cost of a crosscut, likewise.</summary>
    public int[] Crosscuts(int raw) => (raw & 2) != 0 ? _crosscuts : _costs;

    /// <summary>Cost of a cut across X (a crosscut) through this width; −1: the saw cannot make it.</summary>
    public int Crosscut(int h, int raw = 0) => h > Shape.Longest ? -1 : Crosscuts(raw)[h];

    /// <summary>Cost of a cut across Y (a rip) through this length; −1: the saw cannot make it.</summary>
    public int Rip(int w, int raw = 0) => w > Shape.Longest ? -1 : Rips(raw)[w];

    /// <summary>Which of the staying edges of a rectangle its two parts touch: one of them the edge across the cut; with dust behind it neither.</summary>
    /// <param name="across">1 for a crosscut, 2 for a rip.</param>
    public static (int One, int Other)[] Touching(int raw, int across) => (raw, across) switch
    {
        (0, _) => Touch0,
        (1, 2) => Touch1,
        (2, 1) => Touch2,
        (1, 1) => Touch1At1,
        (2, 2) => Touch2At2,
        (3, 1) => Touch3At1,
        _ => Touch3At2,
    };

    private static readonly (int, int)[] Touch0 = [(0, 0)];
    private static readonly (int, int)[] Touch1 = [(1, 1)];
    private static readonly (int, int)[] Touch2 = [(2, 2)];
    private static readonly (int, int)[] Touch1At1 = [(1, 0), (0, 1)];
    private static readonly (int, int)[] Touch2At2 = [(2, 0), (0, 2)];
    private static readonly (int, int)[] Touch3At1 = [(3, 2), (2, 3)];
    private static readonly (int, int)[] Touch3At2 = [(3, 1), (1, 3)];

    /// <summary>Whether a piece may fit.</summary>
    public bool MayHold(int w, int h) => w >= _leastX && h >= _leastY;

    /// <summary>Whether this is exactly a piece of kind i.</summary>
    public bool IsPiece(int i, int w, int h, out bool turned)
    {
        var piece = Shape.Pieces[i];
        turned = !Holds(w, h);
        return piece.SizeX > 0 && (!turned || (piece.MayTurn && Holds(h, w)));

        bool Holds(int x, int y) => x >= piece.SizeX && x <= piece.SizeX + piece.MoreX && y >= piece.SizeY && y <= piece.SizeY + piece.MoreY;
    }

    /// <summary>Least extent of dust. On a plate in coarser units it may be thinner than one of them, which matters only where it takes off a raw edge.</summary>
    public int LeastDust(bool raw) => raw && Shape.Fine is not null ? 0 : 1;

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
    /// <param name="raw">Staying raw edges that it touches.</param>
    public IEnumerable<(Cell One, Cell Other, int Cost)> Cuts(int w, int h, CutDirection? only = null, bool everyRip = false, int raw = 0)
    {
        var (kerf, held) = (Shape.Kerf, Shape.Held);
        if (only != CutDirection.Rip && Crosscut(h, raw) is >= 0 and var crosscut)
        {
            for (int x = 1, rest = w - kerf - 1; x <= rest && rest >= held; x++, rest--)
            {
                if ((AtX[x] || AtX[rest]) && MayHold(rest, h))
                {
                    foreach (var (one, other) in Touching(raw, 1))
                    {
                        yield return (new(rest, h, one), new(x, h, other), crosscut);
                    }
                }
            }

            for (var (x, end) = (Math.Max(1, Math.Max(w - kerf, held)), w - LeastDust((raw & 1) != 0)); x <= end; x++)
            {
                yield return (new(x, h, raw & ~1), default, crosscut);
            }
        }

        if (only != CutDirection.Crosscut && Rip(w, raw) is >= 0 and var rip)
        {
            for (int y = 1, rest = h - kerf - 1; y <= rest && rest >= held; y++, rest--)
            {
                if ((everyRip || AtY[y] || AtY[rest]) && MayHold(w, rest))
                {
                    foreach (var (one, other) in Touching(raw, 2))
                    {
                        yield return (new(w, rest, one), new(w, y, other), rip);
                    }
                }
            }

            for (var (y, end) = (Math.Max(1, Math.Max(h - kerf, held)), h - LeastDust((raw & 2) != 0)); y <= end; y++)
            {
                yield return (new(w, y, raw & ~2), default, rip);
            }
        }
    }

    private static bool[] Positions(PlateShape shape, bool alongX) => shape.Fine is null ? CutPositions.Of(shape, alongX) : CoarsePlate.Positions(shape, alongX);

    private static int[] CostsOf(PlateShape shape, double more)
    {
        var prices = (shape.Fine ?? shape).Prices;
        return [.. Enumerable.Range(0, Math.Max(shape.SizeX, shape.SizeY) + 1).Select(length => shape.Fine is null ? length : CoarsePlate.LeastOf(shape, length))
            .Select(length => (int)Math.Floor(((prices.PerUnit * (length + more)) + prices.PerCut) * (1 - 1e-12)))];
    }
}

/// <summary>A rectangle of a table.</summary>
/// <param name="Raw">The staying raw edges that it touches (<see cref="RawEdges"/>).</param>
internal readonly record struct Cell(int W, int H, int Raw);
