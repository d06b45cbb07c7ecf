using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>All loads of a plate, within the demand, whose worth is at most a gap below the best.</summary>
/// <remarks>
/// A rectangle whose outside worth (<see cref="OutsideWorth"/>) and best worth are together below best − gap is in no such layout. Over the rest, from the smallest up, partial loads
/// (pieces cut from the rectangle, with the most that they are worth) are joined cut by cut; one with O + worth below the limit, or with more
/// pieces than are wanted, is left out. Every layout within the gap has all its rectangles and partial loads within it, so none is lost;
/// per load the best worth is kept. With raw edges that may stay a rectangle is known by its size and the edges that it touches
/// (<see cref="RawEdges"/>), and the whole plate stands once for each set of edges, its trims taken off. A load is one number (<see cref="PackedLoads"/>).
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
    private readonly PackedLoads _packed;
    private readonly int _limit;
    private readonly LoadSums _sums = new();
    private long _most;

    private LoadLabels(WorthTable table, PackedLoads packed, int limit, long most)
    {
        (_table, _shape, _rules, _packed, _limit, _most) = (table, table.Shape, table.Rules, packed, limit, most);
        _labels = [.. Enumerable.Range(0, 4).Select(_ => new Label[]?[]?[_shape.SizeX + 1])];
    }

    private static readonly Comparer<Label> Order =
        Comparer<Label>.Create(static (a, b) => a.Worth != b.Worth ? b.Worth.CompareTo(a.Worth) : a.Load.CompareTo(b.Load));

    private readonly record struct Label(ulong Load, int Worth);

    /// <returns>Null when there are too many, or too many kinds for one number.</returns>
    public static LoadLabels? Of(WorthTable table, int best, ReadOnlySpan<int> demand, long gap, long most, Func<bool> ends)
    {
        if (PackedLoads.Of(demand, kind => table.Shape.Pieces[kind].SizeX > 0) is not { } packed)
        {
            return null;
        }

        var labels = new LoadLabels(table, packed, (int)Math.Max(Never, best - gap), most);
        return labels.Fill(ends) ? labels : null;
    }

    /// <summary>The loads with at least one piece.</summary>
    public IEnumerable<(ImmutableArray<int> Counts, int Worth)> Loads() =>
        Roots().Where(entry => entry.Label.Load != 0).GroupBy(entry => entry.Label.Load)
            .Select(group => (_packed.Counts(group.Key), group.Max(entry => entry.Label.Worth - _shape.Raw.Trims[entry.Raw])));

    /// <summary>A layout with this load, at its worth.</summary>
    public PlateNode TreeOf(ReadOnlySpan<int> counts)
    {
        var load = _packed.Of(counts);
        var (raw, label) = Roots().Where(entry => entry.Label.Load == load).MaxBy(entry => entry.Label.Worth - _shape.Raw.Trims[entry.Raw]);
        return WorthTree.Placed(_shape, Node(new(_shape.SizeX, _shape.SizeY, raw), label, _shape.FirstCut));
    }

    private IEnumerable<(int Raw, Label Label)> Roots() =>
        _shape.Raw.Sets.SelectMany(raw => (At(new(_shape.SizeX, _shape.SizeY, raw)) ?? []).Select(label => (raw, label)));

    private Label[]? At(Cell cell) => _labels[cell.Raw][cell.W]?[cell.H];

    private bool Fill(Func<bool> ends)
    {
        if (new OutsideWorth(_table, _limit).Alive(ref _most, ends) is not { } alive)
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
            if (_rules.IsPiece(i, w, h, out _) && _packed.Has(i))
            {
                Offer(_packed.One(i), _table.Net[i], least);
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

        var (top, packed) = (second[0].Worth, _packed);
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
                if (packed.IsWithin(load))
                {
                    Offer(load, own + b.Worth, least);
                }
            }
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
            if (_rules.IsPiece(i, cell.W, cell.H, out var turned) && _packed.Has(i) && label == new Label(_packed.One(i), _table.Net[i]))
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
