using System.Numerics;
using System.Runtime.InteropServices;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Most value of through-cut pieces on one plate with any number of copies and any depth of cuts.</summary>
/// <remarks>
/// Problem: F(x, y) = max of a piece that fits, F(x₁, y) + F(x − x₁, y), F(x, y₁) + F(x, y − y₁). Literature: unbounded
/// two-dimensional guillotine knapsack, Gilmore and Gomory 1966, Beasley 1985, Herz' normal patterns.
/// Method: rows only at the normal patterns of X (sums of piece lengths), columns dense in Y; a row is the vectorised maximum over
/// pairs of earlier rows, then one unbounded knapsack along Y in which only sizes not already made up of smaller ones are tried.
/// Complexity: O(|X|²·H/lanes). Exact on unit grids; where a side has more points than allowed, pieces are rounded down and the plate
/// is rounded down to a coarser grid (Σ⌊wᵢ/u⌋ ≤ ⌊W/u⌋ whenever Σ wᵢ ≤ W), so the answer is always a valid upper bound.
/// Values are scaled to 29 bits and rounded up, which keeps the bound valid as well; no floating point is involved.
/// </remarks>
internal sealed class GuillotineTable
{
    private const int MostBits = 29;

    private readonly ThroughModel _model;
    private readonly bool _roundUp;
    private readonly bool _swapped;
    private readonly int _height;
    private readonly int[] _points;
    private readonly int[] _pointAt;
    private readonly Way[] _ways;
    private int[][] _rows = [];
    private readonly int[] _values;
    private long _divisor = 1;

    /// <summary>One way an item may lie, on the grid.</summary>
    private readonly record struct Way(int Item, bool Turned, int Width, int Height);

    public GuillotineTable(ThroughModel model, int stock, int mostPoints, bool roundUp)
    {
        _model = model;
        _roundUp = roundUp;
        ItemCount = model.ItemCount;
        Width = model.StockWidth[stock];
        Height = model.StockHeight[stock];
        // A piece must not become nothing on the grid.
        UnitX = Math.Clamp((Width + mostPoints - 1) / mostPoints, 1, Math.Max(1, model.LeastWidth));
        UnitY = Math.Clamp((Height + mostPoints - 1) / mostPoints, 1, Math.Max(1, model.LeastHeight));
        var ways = new List<Way>();
        for (var i = 0; i < model.ItemCount; i++)
        {
            if (model.CostOf(stock, i) == PlateProblem.Forbidden)
            {
                continue;
            }

            Add(i, false, model.Width[i], model.Height[i]);
            if (model.Turns[i])
            {
                Add(i, true, model.Height[i], model.Width[i]);
            }
        }

        var xs = Patterns(ways.Select(w => w.Width), (int)(Width / UnitX));
        var ys = Patterns(ways.Select(w => w.Height), (int)(Height / UnitY));
        var plain = (double)xs.Length * xs.Length * (Height / UnitY);
        var swapped = (double)ys.Length * ys.Length * (Width / UnitX);
        _swapped = swapped < plain;
        _ways = _swapped ? [.. ways.Select(w => w with { Width = w.Height, Height = w.Width })] : [.. ways];
        _points = _swapped ? ys : xs;
        _height = (int)(_swapped ? Width / UnitX : Height / UnitY);
        var length = (int)(_swapped ? Height / UnitY : Width / UnitX);
        _pointAt = new int[length + 1];
        var at = 0;
        for (var x = 0; x <= length; x++)
        {
            while (at + 1 < _points.Length && _points[at + 1] <= x)
            {
                at++;
            }

            _pointAt[x] = at;
        }

        _values = new int[model.ItemCount];

        void Add(int item, bool turned, long width, long height)
        {
            var x = (int)((_roundUp ? width + UnitX - 1 : width) / UnitX);
            var y = (int)((_roundUp ? height + UnitY - 1 : height) / UnitY);
            if (width <= Width && height <= Height && x <= Width / UnitX && y <= Height / UnitY)
            {
                ways.Add(new Way(item, turned, x, y));
            }
        }
    }

    public int ItemCount { get; }
    public long Width { get; }
    public long Height { get; }
    public long UnitX { get; }
    public long UnitY { get; }

    /// <summary>Whether every size is on the grid exactly, so that the answer is exact and its pattern can be cut.</summary>
    public bool Exact => UnitX == 1 && UnitY == 1;

    /// <summary>Rough number of steps of one fill.</summary>
    public double Steps => (double)_points.Length * _points.Length * (_height + 1) / 4 / Vector<int>.Count;

    /// <summary>Fills the table; returns an upper bound on the value of every layout (exact value when <see cref="Exact"/> and the
    /// values needed no scaling).</summary>
    public long Fill(ReadOnlySpan<long> values)
    {
        if (_rows.Length == 0)
        {
            _rows = [.. _points.Select(_ => new int[_height + 1 + Vector<int>.Count])];
        }

        Scale(values);
        FillRows();
        return checked(_rows[^1][_height] * _divisor);
    }

    /// <summary>Whether the last fill needed no rounding of values.</summary>
    public bool Unscaled => _divisor == 1;

    /// <summary>Upper bound for a smaller rectangle in inflated sizes, for the values of the last fill.</summary>
    public long Bound(long width, long height)
    {
        if (width <= 0 || height <= 0)
        {
            return 0;
        }

        var (x, y) = _swapped ? (height / UnitY, width / UnitX) : (width / UnitX, height / UnitY);
        return checked(_rows[_pointAt[x]][y] * _divisor);
    }

    /// <summary>The pattern of the last fill as nested cuts; only when <see cref="Exact"/> or rounded up.</summary>
    public GuillotineCut Pattern() => Pattern(_points.Length - 1, _height);

    private void Scale(ReadOnlySpan<long> values)
    {
        // No layout is worth more than the densest piece everywhere; area on the grid, so that it bounds the table as well.
        double most = 1;
        foreach (var way in _ways)
        {
            if (values[way.Item] > 0)
            {
                var copies = (double)(_points[^1] / Math.Max(1, way.Width) + 1) * (_height / Math.Max(1, way.Height) + 1);
                var dense = (double)values[way.Item] / Math.Max(1, (double)way.Width * way.Height) * ((double)(_points[^1] + 1) * (_height + 1));
                most = Math.Max(most, Math.Max(dense, Math.Min(copies, 1) * values[way.Item]));
            }
        }

        _divisor = Math.Max(1, (long)Math.Ceiling(most / (1L << MostBits)));
        for (var i = 0; i < _values.Length; i++)
        {
            _values[i] = values[i] <= 0 ? 0 : (int)((values[i] + _divisor - 1) / _divisor);
        }
    }

    private void FillRows()
    {
        foreach (var row in _rows)
        {
            Array.Clear(row);
        }

        foreach (var way in _ways)
        {
            var value = _values[way.Item];
            if (value > 0)
            {
                ref var cell = ref _rows[_pointAt[way.Width]][way.Height];
                cell = Math.Max(cell, value);
            }
        }

        var made = new int[_height + 1 + Vector<int>.Count];
        for (var i = 0; i < _points.Length; i++)
        {
            var row = _rows[i];
            if (i > 0)
            {
                Raise(row, _rows[i - 1]);
            }

            for (var y = 1; y <= _height; y++)
            {
                row[y] = Math.Max(row[y], row[y - 1]);
            }

            for (var a = 1; a <= i && 2 * _points[a] <= _points[i]; a++)
            {
                RaiseBySum(row, _rows[a], _rows[_pointAt[_points[i] - _points[a]]]);
            }

            AlongY(row, made);
        }
    }

    private static void Raise(int[] row, int[] other)
    {
        var r = MemoryMarshal.Cast<int, Vector<int>>(row.AsSpan());
        var o = MemoryMarshal.Cast<int, Vector<int>>(other.AsSpan());
        for (var v = 0; v < r.Length; v++)
        {
            r[v] = Vector.Max(r[v], o[v]);
        }
    }

    private static void RaiseBySum(int[] row, int[] first, int[] second)
    {
        var r = MemoryMarshal.Cast<int, Vector<int>>(row.AsSpan());
        var a = MemoryMarshal.Cast<int, Vector<int>>(first.AsSpan());
        var b = MemoryMarshal.Cast<int, Vector<int>>(second.AsSpan());
        if (a.Length < r.Length || b.Length < r.Length)
        {
            return;
        }

        for (var v = 0; v < r.Length; v++)
        {
            r[v] = Vector.Max(r[v], a[v] + b[v]);
        }
    }

    /// <summary>Unbounded knapsack along Y; a size whose value smaller sizes already reach is left out.</summary>
    private void AlongY(int[] row, int[] made)
    {
        Array.Clear(made);
        var lanes = Vector<int>.Count;
        for (var size = 1; size <= _height; size++)
        {
            var value = row[size];
            if (value <= made[size])
            {
                continue;
            }

            var y = size;
            if (size >= lanes)
            {
                var add = new Vector<int>(value);
                for (; y + lanes <= made.Length; y += lanes)
                {
                    var sum = new Vector<int>(made, y - size) + add;
                    Vector.Max(new Vector<int>(made, y), sum).CopyTo(made, y);
                }
            }

            for (; y <= _height; y++)
            {
                made[y] = Math.Max(made[y], made[y - size] + value);
            }
        }

        Array.Copy(made, row, _height + 1);
    }

    private GuillotineCut Pattern(int i, int y)
    {
        var value = _rows[i][y];
        if (value == 0)
        {
            return GuillotineCut.Nothing;
        }

        // The smallest node with the same value: everything beyond it is waste.
        while (i > 0 && _rows[i - 1][y] == value)
        {
            i--;
        }

        while (y > 0 && _rows[i][y - 1] == value)
        {
            y--;
        }

        var width = _points[i];
        foreach (var way in _ways)
        {
            if (_values[way.Item] == value && way.Width == width && way.Height == y)
            {
                return GuillotineCut.Piece(_model, way.Item, way.Turned);
            }
        }

        for (var a = 1; 2 * _points[a] <= width; a++)
        {
            var b = _pointAt[width - _points[a]];
            if (_rows[a][y] + _rows[b][y] == value)
            {
                return Cut(CutSheet.Across, Pattern(a, y), Pattern(b, y));
            }
        }

        for (var c = 1; 2 * c <= y; c++)
        {
            if (_rows[i][c] + _rows[i][y - c] == value)
            {
                return Cut(CutSheet.Along, Pattern(i, c), Pattern(i, y - c));
            }
        }

        throw new InvalidOperationException("The table holds a value that no cut explains.");
    }

    /// <summary>Cut of two parts, in true inflated sizes: the parts shrink to what they hold.</summary>
    private GuillotineCut Cut(byte direction, GuillotineCut low, GuillotineCut high)
    {
        if (low.Pieces == 0 || high.Pieces == 0)
        {
            return low.Pieces == 0 ? high : low;
        }

        var across = (direction == CutSheet.Across) != _swapped;
        return across
            ? new GuillotineCut(-1, false, CutSheet.Across, low.Width, low.Width + high.Width, Math.Max(low.Height, high.Height), low, high)
            : new GuillotineCut(-1, false, CutSheet.Along, low.Height, Math.Max(low.Width, high.Width), low.Height + high.Height, low, high);
    }

    private static int[] Patterns(IEnumerable<int> sizes, int most)
    {
        var reached = new bool[most + 1];
        reached[0] = true;
        foreach (var size in sizes.Where(s => s > 0).Distinct())
        {
            for (var x = size; x <= most; x++)
            {
                reached[x] |= reached[x - size];
            }
        }

        return [.. Enumerable.Range(0, most + 1).Where(x => reached[x])];
    }
}
