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
/// damage are not seen, so with them F(root) is an upper bound only. With raw edges that may stay there is such a table for each set of them
/// (<see cref="RawEdges"/>), and the plate is worth the most of all sets; where that takes too long one table serves for all, and is a little too high.
/// Gilmore, Gomory (1966), with rests (Andrade, Birgin, Morabito 2014). Worth is rounded up and cuts down to whole grains.
/// O(X · Y · (X + Y) / 4) additions, as many at once as a vector has, 2.5 times that with one raw edge and 6 times with two; 4 bytes a rectangle and
/// table.
/// </remarks>
internal sealed class WorthTable
{
    private readonly PlateShape _shape;
    private readonly CutRules _rules;
    private readonly int[] _sets;
    private readonly (int X, int Y)[][] _rectangles;
    private readonly int[][][] _rows;
    private readonly int[][]?[] _columns = new int[4][][];

    /// <param name="seesEdges">Whether it knows what raw edges cost that stay; else it is as if that were nothing.</param>
    public WorthTable(CutRules rules, bool seesEdges)
    {
        (_rules, _shape) = (rules, rules.Shape);
        SeesEdges = seesEdges;
        _rectangles = [.. _shape.Pieces.Select(piece => piece.Rectangles().ToArray())];
        _sets = SeesEdges ? [.. _shape.Raw.Sets] : [0];
        _rows = [.. Enumerable.Range(0, 4).Select(raw => !_sets.Contains(raw) ? [] : Enumerable.Range(0, _shape.SizeX + 1).Select(_ => new int[_shape.SizeY + 1]).ToArray())];
    }

    public bool SeesEdges { get; }

    public CutRules Rules => _rules;

    public PlateShape Shape => _shape;

    /// <summary>Values of the last run, in grains, facing taken off.</summary>
    public int[] Net { get; private set; } = [];

    /// <summary>Most that can be made of a rectangle, in grains.</summary>
    public int this[Cell cell] => Rows(cell.Raw)[cell.W][cell.H];

    /// <summary>The table of the rectangles that touch these staying edges, by X and Y.</summary>
    public int[][] Rows(int raw) => _rows[SeesEdges ? raw : 0];

    /// <summary>The same table by Y and X: cuts across X are looked at along a row of memory. Made on demand.</summary>
    public int[][] Columns(int raw)
    {
        var at = SeesEdges ? raw : 0;
        if (_columns[at] is { } made)
        {
            return made;
        }

        var (rows, columns) = (_rows[at], Enumerable.Range(0, _shape.SizeY + 1).Select(_ => new int[_shape.SizeX + 1]).ToArray());
        for (var w = 0; w < rows.Length; w++)
        {
            for (var h = 0; h < columns.Length; h++)
            {
                columns[h][w] = rows[w][h];
            }
        }

        return _columns[at] = columns;
    }

    /// <summary>The plate with the edges that stay in the best layout.</summary>
    public Cell Plate { get; private set; }

    /// <summary>Fills the table; returns the most that a layout of the plate is worth, in grains.</summary>
    /// <param name="values">By kind of blank, in grains.</param>
    public int Run(ReadOnlySpan<int> values)
    {
        Array.Clear(_columns);
        Net = new int[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            Net[i] = values[i] - _shape.Pieces[i].Facing;
        }

        for (var w = 1; w <= _shape.SizeX; w++)
        {
            foreach (var raw in _sets)
            {
                Row(w, raw);
            }
        }

        Plate = _sets.Select(raw => new Cell(_shape.SizeX, _shape.SizeY, raw)).MaxBy(plate => WorthOf(plate) - TrimsOf(plate.Raw));
        return WorthOf(Plate) - TrimsOf(Plate.Raw);
    }

    private int TrimsOf(int raw) => SeesEdges ? _shape.Raw.Trims[raw] : 0;

    /// <summary>Most that can be made of the whole plate, whose first cut may have to go one way, trims not counted.</summary>
    public int WorthOf(Cell plate)
    {
        if (_shape.FirstCut is not { } first)
        {
            return this[plate];
        }

        var best = Whole(plate);
        foreach (var (a, b, cost) in _rules.Cuts(plate.W, plate.H, first, everyRip: true, plate.Raw))
        {
            best = Math.Max(best, this[a] + (b.W > 0 ? this[b] : 0) - cost);
        }

        return best;
    }

    /// <summary>The rectangle without a cut: a rest or a piece.</summary>
    private int Whole(Cell cell)
    {
        var best = _shape.Worth(cell.W, cell.H);
        for (var i = 0; cell.Raw == 0 && i < Net.Length; i++)
        {
            if (_rules.IsPiece(i, cell.W, cell.H, out _))
            {
                best = Math.Max(best, Net[i]);
            }
        }

        return best;
    }

    private void Row(int w, int raw)
    {
        var row = _rows[raw][w];
        var (height, kerf, held) = (_shape.SizeY, _shape.Kerf, _shape.Held);
        for (var h = 1; h <= height; h++)
        {
            row[h] = _shape.Worth(w, h);
        }

        for (var i = 0; raw == 0 && i < Net.Length; i++)
        {
            foreach (var (x, y) in _rectangles[i])
            {
                if (x == w && y <= height)
                {
                    row[y] = Math.Max(row[y], Net[i]);
                }
            }
        }

        if (w < _rules.LeastX)
        {
            return;
        }

        var top = Math.Min(height, _shape.Longest);
        var costs = _rules.Crosscuts(raw);
        for (int x = 1, rest = w - kerf - 1; rest >= x && rest >= held && rest >= _rules.LeastX; x++, rest--)
        {
            if (_rules.AtX[x] || _rules.AtX[rest])
            {
                foreach (var (touching, touched) in CutRules.Touching(raw, 1))
                {
                    Join(row, _rows[touching][x], _rows[touched][rest], costs, _rules.LeastY, top);
                }
            }
        }

        for (var (x, end) = (Math.Max(w - kerf, Math.Max(held, _rules.LeastX)), w - _rules.LeastDust((raw & 1) != 0)); x <= end; x++)
        {
            Shift(row, _rows[raw & ~1][x], costs, _rules.LeastY, top);
        }

        if (w <= _shape.Longest)
        {
            Rips(row, _rows[raw & ~2][w], _rules.Rips(raw)[w], _rules.LeastDust((raw & 2) != 0));
        }
    }

    /// <summary>row[h] = max(row[h], one[h] + other[h] − costs[h]).</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Join(int[] row, int[] one, int[] other, int[] costs, int from, int to)
    {
        var lanes = Vector<int>.Count;
        ref var r = ref MemoryMarshal.GetArrayDataReference(row);
        ref var a = ref MemoryMarshal.GetArrayDataReference(one);
        ref var b = ref MemoryMarshal.GetArrayDataReference(other);
        ref var c = ref MemoryMarshal.GetArrayDataReference(costs);
        var h = from;
        for (; h + lanes <= to + 1; h += lanes)
        {
            var at = (nuint)h;
            var sum = Vector.LoadUnsafe(ref a, at) + Vector.LoadUnsafe(ref b, at) - Vector.LoadUnsafe(ref c, at);
            Vector.StoreUnsafe(Vector.Max(Vector.LoadUnsafe(ref r, at), sum), ref r, at);
        }

        for (; h <= to; h++)
        {
            row[h] = Math.Max(row[h], one[h] + other[h] - costs[h]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Shift(int[] row, int[] one, int[] costs, int from, int to)
    {
        for (var h = from; h <= to; h++)
        {
            row[h] = Math.Max(row[h], one[h] - costs[h]);
        }
    }

    /// <summary>Cuts along the other axis inside one row: each final cell is pushed to all that it can be the greater child of.</summary>
    /// <param name="inner">The row of the rectangles that do not touch a staying edge along these cuts; the same where there is none.</param>
    /// <param name="least">Least extent of dust.</param>
    private void Rips(int[] row, int[] inner, int cost, int least)
    {
        var (height, kerf) = (_shape.SizeY, _shape.Kerf);
        for (var h = Math.Max(_rules.LeastY, _shape.Held); h <= height - least; h++)
        {
            var own = inner[h] - cost;
            for (var dust = Math.Min(kerf, height - h); dust >= least; dust--)
            {
                row[h + dust] = Math.Max(row[h + dust], own);
            }

            var last = Math.Min(h, height - kerf - h);
            Push(row, row, own, h + kerf, last);
            if (!ReferenceEquals(row, inner))
            {
                Push(row, inner, row[h] - cost, h + kerf, last);
            }
        }
    }

    /// <summary>to[shift + y] = max(to[shift + y], from[y] + own).</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Push(int[] to, int[] from, int own, int shift, int last)
    {
        var lanes = Vector<int>.Count;
        ref var r = ref MemoryMarshal.GetArrayDataReference(to);
        ref var f = ref MemoryMarshal.GetArrayDataReference(from);
        var vector = new Vector<int>(own);
        var y = 1;
        for (; y + lanes <= last + 1; y += lanes)
        {
            var at = (nuint)(shift + y);
            Vector.StoreUnsafe(Vector.Max(Vector.LoadUnsafe(ref r, at), Vector.LoadUnsafe(ref f, (nuint)y) + vector), ref r, at);
        }

        for (; y <= last; y++)
        {
            to[shift + y] = Math.Max(to[shift + y], from[y] + own);
        }
    }
}
