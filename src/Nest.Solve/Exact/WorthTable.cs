using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Nest.Core.Plans;

namespace Nest.Solve.Exact;

/// <summary>The most that through-cuts can make of a rectangle at given values of the blanks, for every rectangle inside a plate: true worth of
/// every rest, true cost of every cut.</summary>
/// <remarks>
/// F(w, h) = max of: the rest's worth (kept or scrap); the value of a piece of exactly this size; F(x, h) + F(w − kerf − x, h) − cut(h) where
/// the greater child can be held; F(x, h) − cut(h) for w − kerf ≤ x &lt; w (the rest is dust); the same along the other axis.
/// Exact on the grid of whole units, which by the lemma of <see cref="CutPositions"/> holds a best layout: any best layout for real lengths
/// has its cuts there. Rectangles in which no piece fits are never cut: worth(a + kerf + b, h) ≥ worth(a, h) + worth(b, h) as keeping pays at
/// least what scrap does. Cuts longer than the saw's longest are left out; the first cut's direction is obeyed at the root; stages and
/// damage are not seen, so with them F(root) is an upper bound only.
/// Gilmore, Gomory (1966), with rests (Andrade, Birgin, Morabito 2014). Worth is rounded up and cuts down to whole grains.
/// O(X · Y · (X + Y) / 4) additions, as many at once as a vector has; 4 bytes a rectangle.
/// </remarks>
internal sealed class WorthTable
{
    private readonly PlateShape _shape;
    private readonly CutRules _rules;
    private readonly int[][] _rows;

    public WorthTable(CutRules rules)
    {
        (_rules, _shape) = (rules, rules.Shape);
        _rows = new int[_shape.SizeX + 1][];
        for (var w = 0; w <= _shape.SizeX; w++)
        {
            _rows[w] = new int[_shape.SizeY + 1];
        }
    }

    public CutRules Rules => _rules;

    public PlateShape Shape => _shape;

    /// <summary>Values of the last run, in grains, facing taken off.</summary>
    public int[] Net { get; private set; } = [];

    public int this[int w, int h] => _rows[w][h];

    /// <summary>Fills the table; returns the most that a layout of the plate is worth, in grains.</summary>
    /// <param name="values">By kind of blank, in grains.</param>
    public int Run(ReadOnlySpan<int> values)
    {
        Net = new int[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            Net[i] = values[i] - _shape.Pieces[i].Facing;
        }

        for (var w = 1; w <= _shape.SizeX; w++)
        {
            Row(w);
        }

        return Root();
    }

    /// <summary>The whole plate, whose first cut may have to go one way.</summary>
    private int Root()
    {
        var (w, h) = (_shape.SizeX, _shape.SizeY);
        if (_shape.FirstCut is not { } first)
        {
            return _rows[w][h];
        }

        var best = Whole(w, h);
        foreach (var (a, b, cost) in _rules.Cuts(w, h, first, everyRip: true))
        {
            best = Math.Max(best, _rows[a.W][a.H] + (b.W > 0 ? _rows[b.W][b.H] : 0) - cost);
        }

        return best;
    }

    /// <summary>The rectangle without a cut: a rest or a piece.</summary>
    public int Whole(int w, int h)
    {
        var best = _shape.Worth(w, h);
        for (var i = 0; i < Net.Length; i++)
        {
            if (_rules.IsPiece(i, w, h, out _))
            {
                best = Math.Max(best, Net[i]);
            }
        }

        return best;
    }

    private void Row(int w)
    {
        var row = _rows[w];
        var (height, kerf, held) = (_shape.SizeY, _shape.Kerf, _shape.Held);
        for (var h = 1; h <= height; h++)
        {
            row[h] = _shape.Worth(w, h);
        }

        for (var i = 0; i < Net.Length; i++)
        {
            var piece = _shape.Pieces[i];
            if (piece.SizeX == w && piece.SizeY <= height)
            {
                row[piece.SizeY] = Math.Max(row[piece.SizeY], Net[i]);
            }

            if (piece.MayTurn && piece.SizeX > 0 && piece.SizeY == w && piece.SizeX <= height)
            {
                row[piece.SizeX] = Math.Max(row[piece.SizeX], Net[i]);
            }
        }

        if (w < _rules.LeastX)
        {
            return;
        }

        var top = Math.Min(height, _shape.Longest);
        for (int x = 1, rest = w - kerf - 1; rest >= x && rest >= held && rest >= _rules.LeastX; x++, rest--)
        {
            if (_rules.AtX[x] || _rules.AtX[rest])
            {
                Join(row, _rows[x], _rows[rest], _rules.LeastY, top);
            }
        }

        for (var x = Math.Max(w - kerf, Math.Max(held, _rules.LeastX)); x < w; x++)
        {
            Shift(row, _rows[x], _rules.LeastY, top);
        }

        if (w <= _shape.Longest)
        {
            Rips(row, _rules.Costs[w]);
        }
    }

    /// <summary>row[h] = max(row[h], one[h] + other[h] − cut(h)).</summary>
    private void Join(int[] row, int[] one, int[] other, int from, int to)
    {
        var lanes = Vector<int>.Count;
        ref var r = ref MemoryMarshal.GetArrayDataReference(row);
        ref var a = ref MemoryMarshal.GetArrayDataReference(one);
        ref var b = ref MemoryMarshal.GetArrayDataReference(other);
        ref var c = ref MemoryMarshal.GetArrayDataReference(_rules.Costs);
        var h = from;
        for (; h + lanes <= to + 1; h += lanes)
        {
            var at = (nuint)h;
            var sum = Vector.LoadUnsafe(ref a, at) + Vector.LoadUnsafe(ref b, at) - Vector.LoadUnsafe(ref c, at);
            Vector.StoreUnsafe(Vector.Max(Vector.LoadUnsafe(ref r, at), sum), ref r, at);
        }

        for (; h <= to; h++)
        {
            row[h] = Math.Max(row[h], one[h] + other[h] - _rules.Costs[h]);
        }
    }

    private void Shift(int[] row, int[] one, int from, int to)
    {
        for (var h = from; h <= to; h++)
        {
            row[h] = Math.Max(row[h], one[h] - _rules.Costs[h]);
        }
    }

    /// <summary>Cuts along the other axis inside one row: each final cell is pushed to all that it can be the greater child of.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Rips(int[] row, int cost)
    {
        var (height, kerf) = (_shape.SizeY, _shape.Kerf);
        var lanes = Vector<int>.Count;
        ref var r = ref MemoryMarshal.GetArrayDataReference(row);
        for (var h = Math.Max(_rules.LeastY, _shape.Held); h < height; h++)
        {
            var own = row[h] - cost;
            for (var dust = Math.Min(kerf, height - h); dust >= 1; dust--)
            {
                row[h + dust] = Math.Max(row[h + dust], own);
            }

            var last = Math.Min(h, height - kerf - h);
            var vector = new Vector<int>(own);
            var y = 1;
            for (; y + lanes <= last + 1; y += lanes)
            {
                var sum = Vector.LoadUnsafe(ref r, (nuint)y) + vector;
                var to = (nuint)(h + kerf + y);
                Vector.StoreUnsafe(Vector.Max(Vector.LoadUnsafe(ref r, to), sum), ref r, to);
            }

            for (; y <= last; y++)
            {
                row[h + kerf + y] = Math.Max(row[h + kerf + y], row[y] + own);
            }
        }
    }
}
