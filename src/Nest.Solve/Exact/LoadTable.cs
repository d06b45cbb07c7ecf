using System.Collections.Immutable;
using System.Numerics;
using System.Runtime.InteropServices;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>The best layout of every load of a plate, where the demand allows few loads: no values of blanks are needed.</summary>
/// <remarks>
/// T(w, h, a): the most that a rectangle from which exactly the pieces a are cut is worth beside them (rests less cuts and facing). It is a rest
/// (a = 0), a piece (a = one), or one cut with the load shared between the children. Exact on the grid, as <see cref="WorthTable"/> is, and
/// demand is obeyed. A rest without pieces is never cut. With raw edges that may stay there is such a table for each set of them
/// (<see cref="RawEdges"/>), and the plate is worth the most of all sets.
/// O(∏ (d + 1)(d + 2)/2 · X · Y · (X + Y) / 4), less where few positions are reachable, 2.5 times that with one raw edge and 6 times with two;
/// 4 bytes a rectangle, load and table.
/// </remarks>
internal sealed class LoadTable
{
    private const int Never = Grain.Never;

    /// <summary>Below this no layout is meant: sums with <see cref="Never"/> stay below it, and those of layouts above (<see cref="PlateShape.Money"/>).</summary>
    private const int Impossible = -500_000_000;

    private readonly CutRules _rules;
    private readonly PlateShape _shape;
    private readonly int[][]?[][] _rows;
    private readonly int[][] _counts;
    private readonly (int A, int B)[][] _shares;
    private readonly int[] _root;
    private readonly int[] _steps;

    /// <param name="everyRow">Also rectangles as wide as no cut at the usual positions leaves them.</param>
    public LoadTable(CutRules rules, bool everyRow = false)
    {
        (_rules, _shape) = (rules, rules.Shape);
        (_counts, _shares) = LoadShares.Of(_shape);
        _steps = LoadShares.StepsOf(_shape);
        _rows = [.. Enumerable.Range(0, 4).Select(_ => new int[][]?[_shape.SizeX + 1])];
        var reachable = rules.Reachable();
        for (var w = 1; w <= _shape.SizeX; w++)
        {
            foreach (var raw in everyRow || reachable[w] ? _shape.Raw.Sets : [])
            {
                _rows[raw][w] = Row(w, raw);
            }
        }

        _root = [.. _counts.Select((_, load) => Root(load))];
    }

    /// <summary>How many pairs of loads make a load, summed: what one table costs beside a <see cref="WorthTable"/>.</summary>
    public static double Factor(PlateShape shape) => shape.Pieces.Aggregate(1.0, (product, piece) =>
        product * (piece.SizeX == 0 ? 1 : (piece.Demand + 1) * (piece.Demand + 2) / 2.0));

    /// <summary>Steps of the table; infinite where the numbers would be too large for it.</summary>
    public static double StepsOf(PlateShape shape) =>
        shape.Money <= PlateShape.MoneyLimit
            ? shape.Steps * Factor(shape) * shape.Raw.Tables : double.PositiveInfinity;

    /// <summary>Loads with at least one piece that the plate holds.</summary>
    public IEnumerable<(ImmutableArray<int> Counts, int Worth)> Loads() =>
        Enumerable.Range(1, _counts.Length - 1).Where(load => _root[load] > Impossible).Select(load => (_counts[load].ToImmutableArray(), _root[load]));

    /// <summary>Number of a load.</summary>
    public int IndexOf(ReadOnlySpan<int> counts) => LoadShares.IndexOf(_steps, counts);

    /// <summary>The most that a rectangle that touches no raw edge is worth beside a load of this number; far below zero where it does not hold it.</summary>
    public int Most(int w, int h, int load) => At(new(w, h, 0), load);

    /// <summary>A layout with this load, at its worth.</summary>
    public PlateNode TreeOf(ReadOnlySpan<int> counts)
    {
        var load = IndexOf(counts);
        var raw = _shape.Raw.Sets.First(raw => Root(load, raw) == _root[load]);
        return WorthTree.Placed(_shape, Node(new(_shape.SizeX, _shape.SizeY, raw), load, _root[load] + _shape.Raw.Trims[raw], _shape.FirstCut));
    }

    private int At(Cell cell, int load) => load == 0 ? _shape.Worth(cell.W, cell.H) : _rows[cell.Raw][cell.W]![load][cell.H];

    private int Whole(Cell cell, int load)
    {
        if (load == 0)
        {
            return _shape.Worth(cell.W, cell.H);
        }

        for (var k = 0; cell.Raw == 0 && k < _shape.Pieces.Length; k++)
        {
            if (_counts[load][k] == 1 && _counts[load].Sum() == 1 && _rules.IsPiece(k, cell.W, cell.H, out _))
            {
                return -_shape.Pieces[k].Facing;
            }
        }

        return Never;
    }

    private int Root(int load) => _shape.Raw.Sets.Max(raw => Root(load, raw));

    private int Root(int load, int raw)
    {
        var cell = new Cell(_shape.SizeX, _shape.SizeY, raw);
        var best = Never;
        if (_shape.FirstCut is not { } first || load == 0)
        {
            best = Math.Max(best, At(cell, load));
        }
        else
        {
            best = Whole(cell, load);
            foreach (var (one, other, cost) in _rules.Cuts(cell.W, cell.H, first, raw: raw))
            {
                foreach (var (a, b) in other.W == 0 ? [(load, 0)] : _shares[load])
                {
                    best = Math.Max(best, At(one, a) + (other.W == 0 ? 0 : At(other, b)) - cost);
                }
            }
        }

        return best - _shape.Raw.Trims[raw];
    }

    private int[][] Row(int w, int raw)
    {
        var (height, kerf, held) = (_shape.SizeY, _shape.Kerf, _shape.Held);
        var rows = new int[_counts.Length][];
        for (var load = 0; load < rows.Length; load++)
        {
            var row = rows[load] = new int[height + 1];
            Array.Fill(row, Never);
        }

        for (var h = 1; h <= height; h++)
        {
            rows[0][h] = _shape.Worth(w, h);
        }

        for (var k = 0; raw == 0 && k < _shape.Pieces.Length; k++)
        {
            var single = Array.FindIndex(_counts, counts => counts[k] == 1 && counts.Sum() == 1);
            foreach (var (_, y) in _shape.Pieces[k].Rectangles().Where(size => size.X == w && size.Y <= height))
            {
                rows[single][y] = -_shape.Pieces[k].Facing;
            }
        }

        if (w < _rules.LeastX)
        {
            return rows;
        }

        var top = Math.Min(height, _shape.Longest);
        var costs = _rules.Crosscuts(raw);
        for (int x = 1, rest = w - kerf - 1; x <= rest && rest >= held && rest >= _rules.LeastX; x++, rest--)
        {
            if (_rules.AtX[x] || _rules.AtX[rest])
            {
                foreach (var (touching, touched) in CutRules.Touching(raw, 1))
                {
                    var (one, other) = (_rows[touching][x]!, _rows[touched][rest]!);
                    for (var load = 1; load < rows.Length; load++)
                    {
                        foreach (var (a, b) in _shares[load])
                        {
                            if (a == 0 || x >= _rules.LeastX)
                            {
                                WorthTable.Join(rows[load], one[a], other[b], costs, _rules.LeastY, top);
                            }
                        }
                    }
                }
            }
        }

        for (var x = Math.Max(1, Math.Max(w - kerf, held)); x < w; x++)
        {
            var inner = _rows[raw & ~1][x]!;
            for (var load = 1; load < rows.Length; load++)
            {
                for (var h = _rules.LeastY; h <= top; h++)
                {
                    rows[load][h] = Math.Max(rows[load][h], inner[load][h] - costs[h]);
                }
            }
        }

        if (w <= _shape.Longest)
        {
            Rips(rows, (raw & 2) == 0 ? rows : _rows[raw & ~2][w]!, _rules.Rips(raw)[w]);
        }

        return rows;
    }

    /// <summary>Cuts along Y: each final cell is pushed to all that it can be the greater child of.</summary>
    /// <param name="inner">The rows of rectangles that do not touch a staying edge along these cuts; the same where there is none.</param>
    private void Rips(int[][] rows, int[][] inner, int cost)
    {
        var (height, kerf) = (_shape.SizeY, _shape.Kerf);
        for (var h = Math.Max(Math.Max(1, _rules.LeastY), _shape.Held); h < height; h++)
        {
            for (var sum = 1; sum < rows.Length; sum++)
            {
                if (inner[sum][h] > Impossible)
                {
                    for (var dust = Math.Min(kerf, height - h); dust >= 1; dust--)
                    {
                        rows[sum][h + dust] = Math.Max(rows[sum][h + dust], inner[sum][h] - cost);
                    }
                }

                foreach (var (a, b) in _shares[sum])
                {
                    Pair(rows[sum], rows[a][h] - cost, inner[b], h);
                    if (!ReferenceEquals(rows, inner))
                    {
                        Pair(rows[sum], inner[a][h] - cost, rows[b], h);
                    }
                }
            }
        }

        void Pair(int[] to, int own, int[] from, int h)
        {
            var last = Math.Min(h, height - kerf - h);
            if (own <= Impossible)
            {
                return;
            }

            if (_rules.AtY[h])
            {
                WorthTable.Push(to, from, own, h + kerf, last);
                return;
            }

            for (var y = 1; y <= last; y++)
            {
                if (_rules.AtY[y])
                {
                    to[h + kerf + y] = Math.Max(to[h + kerf + y], from[y] + own);
                }
            }
        }
    }

    private PlateNode Node(Cell cell, int load, int worth, CutDirection? only)
    {
        if (load == 0)
        {
            return WorthTree.Leaf(_shape, cell, -1, false);
        }

        for (var k = 0; cell.Raw == 0 && k < _shape.Pieces.Length; k++)
        {
            if (_counts[load][k] == 1 && _counts[load].Sum() == 1 && _rules.IsPiece(k, cell.W, cell.H, out var turned))
            {
                return WorthTree.Leaf(_shape, cell, k, turned);
            }
        }

        foreach (var (one, other, cost) in _rules.Cuts(cell.W, cell.H, only, raw: cell.Raw))
        {
            foreach (var (a, b) in other.W == 0 ? [(load, 0)] : _shares[load])
            {
                if (At(one, a) + (other.W == 0 ? 0 : At(other, b)) - cost == worth)
                {
                    return WorthTree.Split(
                        _shape, cell, one, other, Node(one, a, At(one, a), null), other.W == 0 ? null : Node(other, b, At(other, b), null));
                }
            }
        }

        throw new InvalidOperationException("A load is not there that was listed.");
    }
}
