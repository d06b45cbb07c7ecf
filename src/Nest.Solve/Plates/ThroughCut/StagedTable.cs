using System.Numerics;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Most value of through-cut pieces on one plate with any number of copies in at most k stages.</summary>
/// <remarks>
/// Problem: V_k(x, y), H_k(x, y) = most value with at most k stages, the first dividing X or Y: one-dimensional knapsacks over the strips
/// of the stage below, V_k over H_{k−1}(x₁, y), H_k over V_{k−1}(x, y₁); stage 0 is a piece of exactly this size, or with a trimming cut
/// a piece that fits. Literature: Gilmore and Gomory 1965. Complexity O(k·|X|²·H/lanes). Exact on unit grids for the stages alone (the
/// other rules of the saw and the numbers of copies are relaxed), else an upper bound, see <see cref="ValueGrid"/>.
/// </remarks>
internal sealed class StagedTable : IValueTable
{
    private readonly ThroughModel _model;
    private readonly ValueGrid _grid;

    /// <summary>[stage][point][y]: first cut divides the points' side (V) or the dense side (H).</summary>
    private int[][][] _v = [];
    private int[][][] _h = [];

    public StagedTable(ThroughModel model, ValueGrid grid)
    {
        _model = model;
        _grid = grid;
    }

    public bool Exact => _grid.Exact;

    public double Steps => 2.0 * _model.Stages * _grid.Points.Length * _grid.Points.Length * (_grid.Height + 1) / 2 / Vector<int>.Count;

    public long Fill(ReadOnlySpan<long> values)
    {
        var tiny = _grid.Scale(values);
        if (_v.Length == 0)
        {
            _v = Layers();
            _h = Layers();
        }

        Pieces(_v[0]);
        for (var i = 0; i < _v[0].Length; i++)
        {
            Array.Copy(_v[0][i], _h[0][i], _grid.RowLength);
        }

        for (var k = 1; k <= _model.Stages; k++)
        {
            Across(_h[k - 1], _v[k]);
            for (var i = 0; i < _h[k].Length; i++)
            {
                VectorRows.Knapsack(_v[k - 1][i], _h[k][i], _grid.Height);
            }
        }

        return checked((Root() * _grid.Divisor) + tiny);
    }

    public GuillotineCut Pattern()
    {
        var last = _grid.Points.Length - 1;
        return StartsAcross(out _)
            ? V(_model.Stages, last, _grid.Height)
            : H(_model.Stages, last, _grid.Height);
    }

    private long Root()
    {
        StartsAcross(out var value);
        return value;
    }

    private bool StartsAcross(out int value)
    {
        var k = _model.Stages;
        var v = _v[k][^1][_grid.Height];
        var h = _h[k][^1][_grid.Height];
        var first = _model.First < 0 ? -1 : _grid.Swapped ? 1 - _model.First : _model.First;
        var across = first == CutSheet.Across || (first < 0 && v >= h);
        value = across ? v : h;
        return across;
    }

    private int[][][] Layers() =>
        [.. Enumerable.Range(0, _model.Stages + 1).Select(_ => _grid.Points.Select(_ => new int[_grid.RowLength]).ToArray())];

    private void Pieces(int[][] rows)
    {
        foreach (var row in rows)
        {
            Array.Clear(row);
        }

        foreach (var way in _grid.Ways)
        {
            ref var cell = ref rows[_grid.PointAt[way.Width]][way.Height];
            cell = Math.Max(cell, _grid.Values[way.Item]);
        }

        if (!_model.Trimming)
        {
            return;
        }

        for (var i = 0; i < rows.Length; i++)
        {
            for (var y = 1; y <= _grid.Height; y++)
            {
                rows[i][y] = Math.Max(rows[i][y], rows[i][y - 1]);
            }

            if (i > 0)
            {
                VectorRows.Raise(rows[i], rows[i - 1]);
            }
        }
    }

    /// <summary>Knapsack along the points for all y at once.</summary>
    private void Across(int[][] strips, int[][] made)
    {
        for (var i = 0; i < made.Length; i++)
        {
            Array.Clear(made[i]);
            if (i > 0)
            {
                VectorRows.Raise(made[i], made[i - 1]);
            }

            for (var a = 1; a <= i; a++)
            {
                VectorRows.RaiseBySum(made[i], strips[a], made[_grid.PointAt[_grid.Points[i] - _grid.Points[a]]]);
            }
        }
    }

    private GuillotineCut V(int k, int i, int y)
    {
        var value = _v[k][i][y];
        if (value == 0)
        {
            return GuillotineCut.Nothing;
        }

        if (k == 0)
        {
            return Piece(i, y, value);
        }

        while (i > 0 && _v[k][i - 1][y] == value)
        {
            i--;
        }

        for (var a = 1; a <= i; a++)
        {
            var b = _grid.PointAt[_grid.Points[i] - _grid.Points[a]];
            if (_h[k - 1][a][y] > 0 && _h[k - 1][a][y] + _v[k][b][y] == value)
            {
                return _grid.Join(CutSheet.Across, H(k - 1, a, y), V(k, b, y));
            }
        }

        throw new InvalidOperationException("The table holds a value that no cut explains.");
    }

    private GuillotineCut H(int k, int i, int y)
    {
        var value = _h[k][i][y];
        if (value == 0)
        {
            return GuillotineCut.Nothing;
        }

        if (k == 0)
        {
            return Piece(i, y, value);
        }

        while (y > 0 && _h[k][i][y - 1] == value)
        {
            y--;
        }

        for (var c = 1; c <= y; c++)
        {
            if (_v[k - 1][i][c] > 0 && _v[k - 1][i][c] + _h[k][i][y - c] == value)
            {
                return _grid.Join(CutSheet.Along, V(k - 1, i, c), H(k, i, y - c));
            }
        }

        throw new InvalidOperationException("The table holds a value that no cut explains.");
    }

    private GuillotineCut Piece(int i, int y, int value)
    {
        foreach (var way in _grid.Ways)
        {
            if (_grid.Values[way.Item] == value && _grid.PointAt[way.Width] <= i && way.Height <= y
                && (_model.Trimming || (_grid.PointAt[way.Width] == i && way.Height == y)))
            {
                return _grid.Piece(way);
            }
        }

        throw new InvalidOperationException("The table holds a value that no piece explains.");
    }
}
