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

    /// <summary>Rectangles that may be in such a layout, each after all that can be cut from it, with their outside worth.</summary>
    /// <param name="most">Steps that it may take; what is left of them afterwards.</param>
    /// <returns>Null where the steps or the time do not suffice.</returns>
    public List<(Cell Cell, int Outside)>? Alive(ref long most, Func<bool> ends)
    {
        int[]?[][] outside = [.. Enumerable.Range(0, 4).Select(_ => new int[]?[_shape.SizeX + 1])];
        foreach (var raw in _shape.Raw.Sets)
        {
            outside[raw][_shape.SizeX] = NewRow();
            outside[raw][_shape.SizeX]![_shape.SizeY] = -_shape.Raw.Trims[raw];
        }

        var alive = new List<(Cell, int)>();
        for (var w = _shape.SizeX; w >= 1; w--)
        {
            if (ends())
            {
                return null;
            }

            for (var h = _shape.SizeY; h >= 1; h--)
            {
                for (var raw = 3; raw >= 0; raw--)
                {
                    if (outside[raw][w] is not { } row || row[h] is var own && (own == Never || own + table[new(w, h, raw)] < limit))
                    {
                        continue;
                    }

                    alive.Add((new(w, h, raw), row[h]));
                    if (_rules.MayHold(w, h))
                    {
                        most -= 4;
                        Descend(outside, new(w, h, raw), row[h]);
                    }
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

    private int[] NewRow()
    {
        var row = new int[_shape.SizeY + 1];
        Array.Fill(row, Never);
        return row;
    }

    /// <summary>Passes the outside worth of a rectangle on to its children.</summary>
    private void Descend(int[]?[][] outside, Cell cell, int own)
    {
        var (w, h, raw) = (cell.W, cell.H, cell.Raw);
        var (kerf, held) = (_shape.Kerf, _shape.Held);
        var only = w == _shape.SizeX && h == _shape.SizeY ? _shape.FirstCut : null;
        if (only != CutDirection.Rip && _rules.Crosscut(h, raw) is >= 0 and var crosscut)
        {
            var least = limit - own + crosscut;
            foreach (var (touching, touched) in CutRules.Touching(raw, 1))
            {
                var (first, second) = (table.Columns(touching)[h], table.Columns(touched)[h]);
                for (int x = 1, rest = w - kerf - 1; x <= rest && rest >= held; x++, rest--)
                {
                    var (one, other) = (first[x], second[rest]);
                    if (one + other >= least && (_rules.AtX[x] || _rules.AtX[rest]))
                    {
                        Raise(touching, x, h, own + other - crosscut);
                        Raise(touched, rest, h, own + one - crosscut);
                    }
                }
            }

            var whole = table.Rows(raw & ~1);
            for (var x = Math.Max(1, Math.Max(w - kerf, held)); x < w; x++)
            {
                if (whole[x][h] >= least)
                {
                    Raise(raw & ~1, x, h, own - crosscut);
                }
            }
        }

        if (only != CutDirection.Crosscut && _rules.Rip(w, raw) is >= 0 and var rip)
        {
            var least = limit - own + rip;
            foreach (var (touching, touched) in CutRules.Touching(raw, 2))
            {
                var (first, second) = (table.Rows(touching)[w], table.Rows(touched)[w]);
                for (int y = 1, rest = h - kerf - 1; y <= rest && rest >= held; y++, rest--)
                {
                    var (one, other) = (first[y], second[rest]);
                    if (one + other >= least && (_rules.AtY[y] || _rules.AtY[rest]))
                    {
                        Raise(touching, w, y, own + other - rip);
                        Raise(touched, w, rest, own + one - rip);
                    }
                }
            }

            var whole = table.Rows(raw & ~2)[w];
            for (var y = Math.Max(1, Math.Max(h - kerf, held)); y < h; y++)
            {
                if (whole[y] >= least)
                {
                    Raise(raw & ~2, w, y, own - rip);
                }
            }
        }

        void Raise(int touching, int cw, int ch, int worth)
        {
            var row = outside[touching][cw] ??= NewRow();
            row[ch] = Math.Max(row[ch], worth);
        }
    }
}
