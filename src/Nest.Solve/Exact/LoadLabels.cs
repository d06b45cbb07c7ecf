using System.Collections.Immutable;
using System.Numerics;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>All loads of a plate, within the demand, whose worth is at most a gap below the best.</summary>
/// <remarks>
/// Outside worth O(w, h): the most that the rest of the plate can be worth around a rectangle of this size, from the root down. A rectangle
/// with O + F below best − gap is in no such layout (F: <see cref="WorthTable"/>). Over the rest, from the smallest up, partial loads
/// (pieces cut from the rectangle, with the most that they are worth) are joined cut by cut; one with O + worth below the limit, or with more
/// pieces than are wanted, is left out. Every layout within the gap has all its rectangles and partial loads within it, so none is lost;
/// per load the best worth is kept. With raw edges that may stay a rectangle is known by its size and the edges that it touches
/// (<see cref="RawEdges"/>), and the whole plate stands once for each set of edges, its trims taken off. (Filtering by inside and outside values: Clautiaux, Sadykov, Vanderbeck, Viaud 2018.)
/// A load is one 64-bit number with a guard bit beside each count: a sum is within the demand when demand + guards − sum keeps all guards.
/// Complexity: grows with the gap, a factor of 10 to 50 for twice the gap; cut off by the number of joins.
/// </remarks>
internal sealed class LoadLabels
{
    private const int Never = int.MinValue / 2;

    /// <summary>Rectangles between two looks at the clock.</summary>
    private const int CellsBetween = 500;

    private readonly WorthTable _table;
    private readonly PlateShape _shape;
    private readonly CutRules _rules;
    private readonly Label[]?[]?[][] _labels;
    private readonly int[] _bits;
    private readonly ulong _guards;
    private readonly ulong _demand;
    private readonly int _limit;
    private readonly LoadSums _sums = new();
    private long _most;

    private LoadLabels(WorthTable table, int[] bits, ulong demand, ulong guards, int limit, long most)
    {
        (_table, _shape, _rules, _bits, _demand, _guards, _limit, _most) = (table, table.Shape, table.Rules, bits, demand, guards, limit, most);
        _labels = [.. Enumerable.Range(0, 4).Select(_ => new Label[]?[]?[_shape.SizeX + 1])];
    }

    private static readonly Comparer<Label> Order =
        Comparer<Label>.Create(static (a, b) => a.Worth != b.Worth ? b.Worth.CompareTo(a.Worth) : a.Load.CompareTo(b.Load));

    private readonly record struct Label(ulong Load, int Worth);

    /// <returns>Null when there are too many, or too many kinds for one number.</returns>
    public static LoadLabels? Of(WorthTable table, int best, ReadOnlySpan<int> demand, long gap, long most, Func<bool> ends)
    {
        var bits = new int[demand.Length + 1];
        ulong packed = 0;
        ulong guards = 0;
        for (var k = 0; k < demand.Length; k++)
        {
            var wide = table.Shape.Pieces[k].SizeX == 0 ? 0 : 32 - BitOperations.LeadingZeroCount((uint)demand[k]);
            bits[k + 1] = bits[k] + (wide == 0 ? 0 : wide + 1);
            if (bits[k + 1] > 64)
            {
                return null;
            }

            if (wide > 0)
            {
                packed |= (ulong)demand[k] << bits[k];
                guards |= 1UL << (bits[k] + wide);
            }
        }

        var labels = new LoadLabels(table, bits, packed, guards, (int)Math.Max(Never, best - gap), most);
        return labels.Fill(ends) ? labels : null;
    }

    /// <summary>The loads with at least one piece.</summary>
    public IEnumerable<(ImmutableArray<int> Counts, int Worth)> Loads() =>
        Roots().Where(entry => entry.Label.Load != 0).GroupBy(entry => entry.Label.Load)
            .Select(group => (Unpack(group.Key), group.Max(entry => entry.Label.Worth - _shape.Raw.Trims[entry.Raw])));

    /// <summary>A layout with this load, at its worth.</summary>
    public PlateNode TreeOf(ReadOnlySpan<int> counts)
    {
        ulong load = 0;
        for (var k = 0; k < counts.Length; k++)
        {
            load |= counts[k] == 0 ? 0 : (ulong)counts[k] << _bits[k];
        }

        var (raw, label) = Roots().Where(entry => entry.Label.Load == load).MaxBy(entry => entry.Label.Worth - _shape.Raw.Trims[entry.Raw]);
        return WorthTree.Placed(_shape, Node(new(_shape.SizeX, _shape.SizeY, raw), label, _shape.FirstCut));
    }

    private IEnumerable<(int Raw, Label Label)> Roots() =>
        _shape.Raw.Sets.SelectMany(raw => (At(new(_shape.SizeX, _shape.SizeY, raw)) ?? []).Select(label => (raw, label)));

    private Label[]? At(Cell cell) => _labels[cell.Raw][cell.W]?[cell.H];

    private ImmutableArray<int> Unpack(ulong load)
    {
        var counts = ImmutableArray.CreateBuilder<int>(_bits.Length - 1);
        for (var k = 0; k + 1 < _bits.Length; k++)
        {
            var wide = _bits[k + 1] - _bits[k];
            counts.Add(wide == 0 ? 0 : (int)((load >> _bits[k]) & ((1UL << wide) - 1)));
        }

        return counts.ToImmutable();
    }

    private bool Fill(Func<bool> ends)
    {
        if (Alive(ends) is not { } alive)
        {
            return false;
        }

        var cells = 0;
        foreach (var (cell, outside) in alive)
        {
            _sums.Clear();
            if (!Join(cell, _limit - outside) || (++cells % CellsBetween == 0 && ends()))
            {
                return false;
            }

            if (_sums.Count > 0)
            {
                var own = new Label[_sums.Count];
                var at = 0;
                foreach (var (load, worth) in _sums.Entries())
                {
                    own[at++] = new(load, worth);
                }

                Array.Sort(own, Order);
                (_labels[cell.Raw][cell.W] ??= new Label[]?[_shape.SizeY + 1])[cell.H] = own;
            }
        }

        return true;
    }

    private void Offer(ulong load, int worth, int least)
    {
        if (worth >= least)
        {
            _sums.Offer(load, worth);
        }
    }

    /// <summary>Partial loads of one rectangle that are worth at least this much; false when the joins are used up.</summary>
    private bool Join(Cell cell, int least)
    {
        var (w, h, raw) = (cell.W, cell.H, cell.Raw);
        Offer(0, _shape.Worth(w, h), least);
        for (var i = 0; raw == 0 && i < _table.Net.Length; i++)
        {
            if (_rules.IsPiece(i, w, h, out _) && _bits[i + 1] > _bits[i])
            {
                Offer(1UL << _bits[i], _table.Net[i], least);
            }
        }

        if (!_rules.MayHold(w, h))
        {
            return true;
        }

        var (kerf, held) = (_shape.Kerf, _shape.Held);
        var only = w == _shape.SizeX && h == _shape.SizeY ? _shape.FirstCut : null;
        if (only != CutDirection.Rip && _rules.Crosscut(h, raw) is >= 0 and var crosscut)
        {
            foreach (var (touching, touched) in CutRules.Touching(raw, 1))
            {
                var (first, second) = (_labels[touching], _labels[touched]);
                var (greater, smaller) = (_table.Columns(touching)[h], _table.Columns(touched)[h]);
                for (int x = 1, rest = w - kerf - 1; x <= rest && rest >= held && rest >= _rules.LeastX; x++, rest--)
                {
                    if (greater[rest] + smaller[x] - crosscut >= least && (_rules.AtX[x] || _rules.AtX[rest]))
                    {
                        Pair(first[rest]?[h], second[x]?[h], crosscut, least);
                    }
                }
            }

            for (var x = Math.Max(1, Math.Max(w - kerf, held)); x < w; x++)
            {
                One(At(new(x, h, raw & ~1)), crosscut, least);
            }
        }

        if (only != CutDirection.Crosscut && _rules.Rip(w, raw) is >= 0 and var rip)
        {
            foreach (var (touching, touched) in CutRules.Touching(raw, 2))
            {
                if (_labels[touching][w] is { } first && _labels[touched][w] is { } second)
                {
                    var (greater, smaller) = (_table.Rows(touching)[w], _table.Rows(touched)[w]);
                    for (int y = 1, rest = h - kerf - 1; y <= rest && rest >= held && rest >= _rules.LeastY; y++, rest--)
                    {
                        if (greater[rest] + smaller[y] - rip >= least && (_rules.AtY[y] || _rules.AtY[rest]))
                        {
                            Pair(first[rest], second[y], rip, least);
                        }
                    }
                }
            }

            for (var y = Math.Max(1, Math.Max(h - kerf, held)); y < h; y++)
            {
                One(At(new(w, y, raw & ~2)), rip, least);
            }
        }

        return _most >= 0;
    }

    /// <summary>A cut whose rest is dust.</summary>
    private void One(Label[]? labels, int cost, int least)
    {
        foreach (var label in labels ?? [])
        {
            if (label.Worth - cost < least)
            {
                break;
            }

            Offer(label.Load, label.Worth - cost, least);
        }
    }

    private void Pair(Label[]? first, Label[]? second, int cost, int least)
    {
        if (first is null || second is null)
        {
            return;
        }

        var top = second[0].Worth;
        foreach (var a in first)
        {
            var own = a.Worth - cost;
            if (own + top < least)
            {
                break;
            }

            foreach (var b in second)
            {
                if (own + b.Worth < least)
                {
                    break;
                }

                _most--;
                var load = a.Load + b.Load;
                if (((_demand + _guards - load) & _guards) == _guards)
                {
                    Offer(load, own + b.Worth, least);
                }
            }
        }
    }

    /// <summary>Rectangles that may be in a layout within the gap, each after all that can be cut from it, with their outside worth.</summary>
    private List<(Cell Cell, int Outside)>? Alive(Func<bool> ends)
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
                    if (outside[raw][w] is not { } row || row[h] is var own && (own == Never || own + _table[new(w, h, raw)] < _limit))
                    {
                        continue;
                    }

                    alive.Add((new(w, h, raw), row[h]));
                    if (_rules.MayHold(w, h))
                    {
                        _most -= 4;
                        Descend(outside, new(w, h, raw), row[h]);
                    }
                }
            }

            if (_most < 0)
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
            var least = _limit - own + crosscut;
            foreach (var (touching, touched) in CutRules.Touching(raw, 1))
            {
                var (first, second) = (_table.Columns(touching)[h], _table.Columns(touched)[h]);
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

            var whole = _table.Rows(raw & ~1);
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
            var least = _limit - own + rip;
            foreach (var (touching, touched) in CutRules.Touching(raw, 2))
            {
                var (first, second) = (_table.Rows(touching)[w], _table.Rows(touched)[w]);
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

            var whole = _table.Rows(raw & ~2)[w];
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

    private PlateNode Node(Cell cell, Label label, CutDirection? only)
    {
        if (label.Load == 0 && _shape.Worth(cell.W, cell.H) == label.Worth)
        {
            return WorthTree.Leaf(_shape, cell, -1, false);
        }

        for (var i = 0; cell.Raw == 0 && i < _table.Net.Length; i++)
        {
            if (_rules.IsPiece(i, cell.W, cell.H, out var turned) && _bits[i + 1] > _bits[i] && label == new Label(1UL << _bits[i], _table.Net[i]))
            {
                return WorthTree.Leaf(_shape, cell, i, turned);
            }
        }

        foreach (var (one, other, cost) in _rules.Cuts(cell.W, cell.H, only, raw: cell.Raw))
        {
            if (Parts(At(one), other.W == 0 ? null : At(other), other.W == 0, cost, label) is var (first, second))
            {
                return WorthTree.Split(_shape, cell, one, other, Node(one, first, null), other.W == 0 ? null : Node(other, second, null));
            }
        }

        throw new InvalidOperationException("A load is not there that was listed.");
    }

    /// <summary>The two partial loads that a cut makes this load of; null: it does not. O(n log n) for n labels of each.</summary>
    private static (Label First, Label Second)? Parts(Label[]? first, Label[]? second, bool dust, int cost, Label label)
    {
        if (first is null || (second is null && !dust))
        {
            return null;
        }

        var whole = label.Worth + cost;
        if (dust)
        {
            var only = label with { Worth = whole };
            return Array.BinarySearch(first, only, Order) >= 0 ? (only, default) : null;
        }

        foreach (var a in first)
        {
            if (a.Worth + second![0].Worth < whole)
            {
                break;
            }

            // A load that is no part of it leaves a number that no label has.
            if (a.Load <= label.Load && new Label(label.Load - a.Load, whole - a.Worth) is var b && Array.BinarySearch(second, b, Order) >= 0)
            {
                return (a, b);
            }
        }

        return null;
    }
}
