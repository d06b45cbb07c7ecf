using System.Collections.Immutable;
using System.Numerics;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>All loads of a plate, within the demand, whose worth is at most a gap below the best.</summary>
/// <remarks>
/// A rectangle whose outside worth (<see cref="OutsideWorth"/>) and best worth are together below best − gap is in no such layout. Over the rest, from the smallest up, partial loads
/// (pieces cut from the rectangle, with the most that they are worth) are joined cut by cut (<see cref="LoadJoiner"/>); one with O + worth below the limit, or with more
/// pieces than are wanted, is left out. Every layout within the gap has all its rectangles and partial loads within it, so none is lost;
/// per load the best worth is kept. With raw edges that may stay a rectangle is known by its size and the edges that it touches
/// (<see cref="RawEdges"/>), and the whole plate stands once for each set of edges, its trims taken off. A load is one number (<see cref="PackedLoads"/>).
/// What is cut from a rectangle is smaller in width + height, so all with the same sum can be looked at side by side.
/// Complexity: grows with the gap, a factor of 10 to 500 for twice the gap; cut off by the number of joins.
/// </remarks>
internal sealed class LoadLabels
{
    private const int Never = int.MinValue / 2;

    /// <summary>Rectangles that a thread takes at a time.</summary>
    private const int Chunk = 16;

    /// <summary>Most partial loads that are kept: a quarter of a gigabyte for a kind of plate.</summary>
    private const long MostKept = 10_000_000;

    private readonly WorthTable _table;
    private readonly PlateShape _shape;
    private readonly CutRules _rules;
    private readonly LoadLabel[]?[]?[][] _labels;
    private readonly PackedLoads _packed;
    private long _kept;
    private long _joins;

    private LoadLabels(WorthTable table, PackedLoads packed, int limit)
    {
        (_table, _shape, _rules, _packed, Limit) = (table, table.Shape, table.Rules, packed, limit);
        _labels = [.. Enumerable.Range(0, 4).Select(_ => new LoadLabel[]?[]?[_shape.SizeX + 1])];
    }

    /// <param name="joins">Pairs that were looked at, whether there is a list or not.</param>
    /// <returns>Null when there are too many, or too many kinds for one number.</returns>
    public static LoadLabels? Of(WorthTable table, int best, ReadOnlySpan<int> demand, long gap, ListLimits limits, out long joins)
    {
        var limit = (int)Math.Max(Never, best - gap);
        var left = limits.Joins;
        var alive = new OutsideWorth(table, limit).Alive(ref left, limits.Ends);
        joins = limits.Joins - left;
        if (alive is null || PackedLoads.Of(demand, InSome(table, alive)) is not { } packed)
        {
            return null;
        }

        var labels = new LoadLabels(table, packed, limit) { _joins = joins };
        var whole = labels.Fill(alive, limits);
        joins = labels._joins;
        return whole ? labels : null;
    }

    /// <summary>The kinds that are in some layout within the gap: of many kinds these are mostly few.</summary>
    private static Func<int, bool> InSome(WorthTable table, List<(Cell Cell, int Outside)> alive)
    {
        var pieces = table.Shape.Pieces;
        var sizes = pieces.SelectMany(piece => piece.Rectangles()).ToHashSet();
        sizes.IntersectWith([.. alive.Where(entry => entry.Cell.Raw == 0 && sizes.Contains((entry.Cell.W, entry.Cell.H))).Select(entry => (entry.Cell.W, entry.Cell.H))]);
        return kind => pieces[kind].Rectangles().Any(sizes.Contains);
    }

    /// <summary>Layouts that are worth less are not in them.</summary>
    public int Limit { get; }

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

    /// <summary>All partial loads that are part of a load, with the most that they are worth in each rectangle, in grains.</summary>
    public IEnumerable<(Cell Cell, ImmutableArray<int> Counts, int Worth)> PartsOf(ImmutableArray<int> counts)
    {
        var load = _packed.Of(counts.AsSpan());
        var known = new Dictionary<ulong, ImmutableArray<int>>();
        for (var raw = 0; raw < _labels.Length; raw++)
        {
            for (var w = 0; w < _labels[raw].Length; w++)
            {
                for (var h = 0; h < (_labels[raw][w]?.Length ?? 0); h++)
                {
                    foreach (var label in _labels[raw][w]![h] ?? [])
                    {
                        if (label.Load != 0 && _packed.IsPart(label.Load, load))
                        {
                            if (!known.TryGetValue(label.Load, out var part))
                            {
                                part = known[label.Load] = _packed.Counts(label.Load);
                            }

                            yield return (new(w, h, raw), part, label.Worth);
                        }
                    }
                }
            }
        }
    }

    private IEnumerable<(int Raw, LoadLabel Label)> Roots() =>
        _shape.Raw.Sets.SelectMany(raw => (At(new(_shape.SizeX, _shape.SizeY, raw)) ?? []).Select(label => (raw, label)));

    private LoadLabel[]? At(Cell cell) => _labels[cell.Raw][cell.W]?[cell.H];

    private bool Fill(List<(Cell Cell, int Outside)> alive, ListLimits limits)
    {
        var before = _joins;

        // What a thread reads is there before it begins.
        foreach (var cell in alive.Select(entry => entry.Cell))
        {
            _labels[cell.Raw][cell.W] ??= new LoadLabel[]?[_shape.SizeY + 1];
        }

        foreach (var raw in _shape.Raw.Sets.Append(0))
        {
            _ = _table.Columns(raw);
        }

        var joiners = Enumerable.Range(0, limits.Threads).Select(_ => new LoadJoiner(_table, _packed, _labels, limits.Ends)).ToArray();
        foreach (var level in Levels(alive))
        {
            var most = limits.Joins - _joins;
            foreach (var joiner in joiners)
            {
                joiner.Most = joiner.Joins + most;
            }

            Level(level, alive, joiners);
            _joins = before + joiners.Sum(joiner => joiner.Joins);
            if (_joins > limits.Joins || _kept > MostKept || limits.Ends())
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Rectangles of the same width + height and number of raw edges, the smallest first: by their place in the list.</summary>
    private static IEnumerable<int[]> Levels(List<(Cell Cell, int Outside)> alive) =>
        Enumerable.Range(0, alive.Count).GroupBy(n => (alive[n].Cell.W + alive[n].Cell.H, BitOperations.PopCount((uint)alive[n].Cell.Raw))).OrderBy(level => level.Key).Select(level => level.ToArray());

    private void Level(int[] level, List<(Cell Cell, int Outside)> alive, LoadJoiner[] joiners)
    {
        var next = 0;
        if (joiners.Length > 1 && level.Length > Chunk)
        {
            Parallel.ForEach(joiners, Work);
        }
        else
        {
            Work(joiners[0]);
        }

        void Work(LoadJoiner joiner)
        {
            for (var from = Interlocked.Add(ref next, Chunk) - Chunk; from < level.Length; from = Interlocked.Add(ref next, Chunk) - Chunk)
            {
                foreach (var n in level.Skip(from).Take(Chunk))
                {
                    var (cell, outside) = alive[n];
                    joiner.Join(cell, Limit - outside);
                    Keep(cell, joiner.Sums);
                }
            }
        }
    }

    private void Keep(Cell cell, LoadSums sums)
    {
        if (sums.Count == 0)
        {
            return;
        }

        var own = new LoadLabel[sums.Count];
        var at = 0;
        foreach (var entry in sums.Entries())
        {
            own[at++] = new(entry.Load, entry.Worth, entry.StripX, entry.StripY);
        }

        Array.Sort(own, LoadLabel.Order);
        _labels[cell.Raw][cell.W]![cell.H] = own;
        Interlocked.Add(ref _kept, own.Length);
    }

    private PlateNode Node(Cell cell, LoadLabel label, CutDirection? only)
    {
        if (label.Load == 0 && _shape.Worth(cell.W, cell.H) == label.Worth)
        {
            return WorthTree.Leaf(_shape, cell, -1, false);
        }

        for (var i = 0; cell.Raw == 0 && i < _table.Net.Length; i++)
        {
            if (_rules.IsPiece(i, cell.W, cell.H, out var turned) && _packed.Has(i) && label.Load == _packed.One(i) && label.Worth == _table.Net[i])
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
    private static (LoadLabel First, LoadLabel Second)? Parts(LoadLabel[]? first, LoadLabel[]? second, bool dust, int cost, LoadLabel label)
    {
        if (first is null || (second is null && !dust))
        {
            return null;
        }

        var whole = label.Worth + cost;
        if (dust)
        {
            var only = label with { Worth = whole };
            return Array.BinarySearch(first, only, LoadLabel.Order) >= 0 ? (only, default) : null;
        }

        foreach (var a in first)
        {
            if (a.Worth + second![0].Worth < whole)
            {
                break;
            }

            // A load that is no part of it leaves a number that no label has.
            if (a.Load <= label.Load && new LoadLabel(label.Load - a.Load, whole - a.Worth, 0, 0) is var b && Array.BinarySearch(second, b, LoadLabel.Order) >= 0)
            {
                return (a, b);
            }
        }

        return null;
    }
}
