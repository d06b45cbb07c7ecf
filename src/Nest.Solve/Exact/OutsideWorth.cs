using Nest.Core.Plans;

namespace Nest.Solve.Exact;

/// <summary>Outside worth O(w, h) of the rectangles of a plate: the most that the rest of the plate can be worth around one of this size, from the root down.</summary>
/// <remarks>A rectangle whose outside and inside worth (<see cref="WorthTable"/>) are together below a limit is in no layout that is worth the limit, so it is left
/// out. Filtering by inside and outside values: Clautiaux, Sadykov, Vanderbeck, Viaud 2018. Complexity: one step for each cut of the rectangles that stay.</remarks>
/// <param name="limit">Least worth of a layout that is looked for.</param>
internal sealed class OutsideWorth(WorthTable table, int limit)
{
    private const int Never = int.MinValue / 2;

    private readonly PlateShape _shape = table.Shape;
    private readonly CutRules _rules = table.Rules;

    /// <summary>A row with as many rectangles that stay as one of so many is passed on as a whole, as many at once as a vector has.</summary>
    private const int FewInRow = 8;

    /// <summary>Cells of a row's vector that take as long as a step.</summary>
    private const int CellsPerStep = 1600;

    private readonly int[]?[][] _outside = [.. Enumerable.Range(0, 4).Select(_ => new int[]?[table.Shape.SizeX + 1])];
    private readonly int[] _own = new int[table.Shape.SizeY + 1];
    private readonly int[] _nothing = new int[table.Shape.SizeY + 1];

    /// <summary>Rectangles that may be in such a layout, each after all that can be cut from it, with their outside worth.</summary>
    /// <param name="most">Steps that it may take; what is left of them afterwards.</param>
    /// <returns>Null where the steps or the time do not suffice.</returns>
    public List<(Cell Cell, int Outside)>? Alive(ref long most, Func<bool> ends)
    {
        foreach (var raw in _shape.Raw.Sets)
        {
            RowOf(raw, _shape.SizeX)[_shape.SizeY] = -_shape.Raw.Trims[raw];
        }

        var alive = new List<(Cell, int)>();
        for (var w = _shape.SizeX; w >= 1; w--)
        {
            if (ends())
            {
                return null;
            }

            // A rip leaves other edges touched, never more: these rows come after.
            for (var raw = 3; raw >= 0; raw--)
            {
                if (_outside[raw][w] is { } row)
                {
                    most -= Row(row, w, raw, alive);
                    _outside[raw][w] = null;
                }
            }

            if (most < 0)
            {
                return null;
            }
        }

        alive.Reverse();
        return alive;
    }

    /// <summary>The direction that a rectangle's first cut has to have; null: either.</summary>
    private CutDirection? Only(int w, int h) => w == _shape.SizeX && h == _shape.SizeY ? _shape.FirstCut : null;

    private int[] RowOf(int raw, int w)
    {
        if (_outside[raw][w] is not { } row)
        {
            _outside[raw][w] = row = new int[_shape.SizeY + 1];
            Array.Fill(row, Never);
        }

        return row;
    }

    /// <summary>The rectangles of one width that stay, and what is outside of those that are cut from them; returns the steps that it took.</summary>
    private int Row(int[] row, int w, int raw, List<(Cell, int)> alive)
    {
        var from = alive.Count;
        Array.Fill(_own, Never);
        for (var h = _shape.SizeY; h >= 1; h--)
        {
            if (row[h] != Never && row[h] + table[new(w, h, raw)] >= limit)
            {
                alive.Add((new(w, h, raw), row[h]));
                if (_rules.MayHold(w, h))
                {
                    Rips(row, w, h, raw);
                    if (Only(w, h) != CutDirection.Rip && _rules.Crosscut(h, raw) is >= 0 and var cost)
                    {
                        _own[h] = row[h] - cost;
                    }
                }
            }
        }

        var number = alive.Count - from;
        if (number * FewInRow < _shape.SizeY)
        {
            for (var n = from; n < alive.Count; n++)
            {
                Crosscuts(w, alive[n].Item1.H, raw);
            }

            return 4 * number;
        }

        Crosscuts(w, raw);
        return (4 * number) + (w * _shape.SizeY / CellsPerStep);
    }

    /// <summary>Passes the outside worth of a rectangle on to what crosscuts leave of it.</summary>
    private void Crosscuts(int w, int h, int raw)
    {
        var own = _own[h];
        if (own == Never)
        {
            return;
        }

        var (kerf, held) = (_shape.Kerf, _shape.Held);
        foreach (var (touching, touched) in CutRules.Touching(raw, 1))
        {
            var (first, second) = (table.Columns(touching)[h], table.Columns(touched)[h]);
            for (int x = 1, rest = w - kerf - 1; x <= rest && rest >= held; x++, rest--)
            {
                if (own + first[x] + second[rest] >= limit && (_rules.AtX[x] || _rules.AtX[rest]))
                {
                    Raise(RowOf(touching, x), own + second[rest]);
                    Raise(RowOf(touched, rest), own + first[x]);
                }
            }
        }

        for (var (x, end) = (Math.Max(1, Math.Max(w - kerf, held)), w - _rules.LeastDust((raw & 1) != 0)); x <= end; x++)
        {
            Raise(RowOf(raw & ~1, x), own);
        }

        void Raise(int[] row, int worth) => row[h] = Math.Max(row[h], worth);
    }

    /// <summary>The same for all rectangles of one width.</summary>
    private void Crosscuts(int w, int raw)
    {
        var (kerf, held) = (_shape.Kerf, _shape.Held);
        foreach (var (touching, touched) in CutRules.Touching(raw, 1))
        {
            for (int x = 1, rest = w - kerf - 1; x <= rest && rest >= held; x++, rest--)
            {
                if (_rules.AtX[x] || _rules.AtX[rest])
                {
                    Pass(RowOf(touching, x), table.Rows(touched)[rest]);
                    Pass(RowOf(touched, rest), table.Rows(touching)[x]);
                }
            }
        }

        for (var (x, end) = (Math.Max(1, Math.Max(w - kerf, held)), w - _rules.LeastDust((raw & 1) != 0)); x <= end; x++)
        {
            Pass(RowOf(raw & ~1, x), _nothing);
        }

        void Pass(int[] to, int[] brother) => WorthTable.Join(to, _own, brother, _nothing, 1, _shape.SizeY);
    }

    /// <summary>Passes the outside worth of a rectangle on to what rips leave of it.</summary>
    private void Rips(int[] row, int w, int h, int raw)
    {
        if (Only(w, h) == CutDirection.Crosscut || _rules.Rip(w, raw) is not (>= 0 and var rip))
        {
            return;
        }

        var (kerf, held) = (_shape.Kerf, _shape.Held);
        var own = row[h] - rip;
        foreach (var (touching, touched) in CutRules.Touching(raw, 2))
        {
            var (first, second) = (table.Rows(touching)[w], table.Rows(touched)[w]);
            var (one, other) = (RowOf(touching, w), RowOf(touched, w));
            for (int y = 1, rest = h - kerf - 1; y <= rest && rest >= held; y++, rest--)
            {
                if (own + first[y] + second[rest] >= limit && (_rules.AtY[y] || _rules.AtY[rest]))
                {
                    one[y] = Math.Max(one[y], own + second[rest]);
                    other[rest] = Math.Max(other[rest], own + first[y]);
                }
            }
        }

        var (inner, whole) = (RowOf(raw & ~2, w), table.Rows(raw & ~2)[w]);
        for (var (y, end) = (Math.Max(1, Math.Max(h - kerf, held)), h - _rules.LeastDust((raw & 2) != 0)); y <= end; y++)
        {
            if (own + whole[y] >= limit)
            {
                inner[y] = Math.Max(inner[y], own);
            }
        }
    }
}
