using System.Numerics;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Most value of through-cut pieces on one plate with any number of copies and any depth of cuts.</summary>
/// <remarks>
/// Problem: F(x, y) = max of a piece that fits, F(x₁, y) + F(x − x₁, y), F(x, y₁) + F(x, y − y₁). Literature: unbounded
/// two-dimensional guillotine knapsack, Gilmore and Gomory 1966, Beasley 1985, Herz' normal patterns.
/// Method: rows only at the normal patterns of one side, dense columns along the other; a row is the vectorised maximum over pairs of
/// earlier rows, then one unbounded knapsack along it. Complexity: O(|X|²·H/lanes). Exact on unit grids, else an upper bound, see
/// <see cref="ValueGrid"/>. A valid relaxation for every way of through-cutting.
/// </remarks>
internal sealed class GuillotineTable(ValueGrid grid) : IValueTable
{
    private readonly int _height = grid.Height;
    private readonly int[] _points = grid.Points;
    private readonly int[] _pointAt = grid.PointAt;
    private int[][] _rows = [];

    public bool Exact => grid.Exact;

    public double Steps => (double)_points.Length * _points.Length * (_height + 1) / 4 / Vector<int>.Count;

    public long Fill(ReadOnlySpan<long> values)
    {
        var tiny = grid.Scale(values);
        if (_rows.Length == 0)
        {
            _rows = [.. _points.Select(_ => new int[grid.RowLength])];
        }

        FillRows();
        return checked((_rows[^1][_height] * grid.Divisor) + tiny);
    }

    public GuillotineCut Pattern() => Pattern(_points.Length - 1, _height);

    private void FillRows()
    {
        foreach (var row in _rows)
        {
            Array.Clear(row);
        }

        foreach (var way in grid.Ways)
        {
            ref var cell = ref _rows[_pointAt[way.Width]][way.Height];
            cell = Math.Max(cell, grid.Values[way.Item]);
        }

        var made = new int[grid.RowLength];
        for (var i = 0; i < _points.Length; i++)
        {
            var row = _rows[i];
            if (i > 0)
            {
                VectorRows.Raise(row, _rows[i - 1]);
            }

            for (var y = 1; y <= _height; y++)
            {
                row[y] = Math.Max(row[y], row[y - 1]);
            }

            for (var a = 1; a <= i && 2 * _points[a] <= _points[i]; a++)
            {
                VectorRows.RaiseBySum(row, _rows[a], _rows[_pointAt[_points[i] - _points[a]]]);
            }

            VectorRows.Knapsack(row, made, _height);
            Array.Copy(made, row, _height + 1);
        }
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
        foreach (var way in grid.Ways)
        {
            if (grid.Values[way.Item] == value && way.Width == width && way.Height == y)
            {
                return grid.Piece(way);
            }
        }

        for (var a = 1; 2 * _points[a] <= width; a++)
        {
            var b = _pointAt[width - _points[a]];
            if (_rows[a][y] + _rows[b][y] == value)
            {
                return grid.Join(CutSheet.Across, Pattern(a, y), Pattern(b, y));
            }
        }

        for (var c = 1; 2 * c <= y; c++)
        {
            if (_rows[i][c] + _rows[i][y - c] == value)
            {
                return grid.Join(CutSheet.Along, Pattern(i, c), Pattern(i, y - c));
            }
        }

        throw new InvalidOperationException("The table holds a value that no cut explains.");
    }
}
