namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Fills strips of a plate densely with the copies that are left.</summary>
/// <remarks>
/// Problem: on a strip of given breadth, max Σ v over columns beside each other whose lengths sum to at most the strip's length, each
/// kind at most as often as it is left (the second stage of Gilmore and Gomory 1965, with stacked columns as a third). Method: bounded
/// knapsack by dynamic programming over a grid of the length, limits by binary splitting; columns that share a kind may exceed it
/// together, what is too many is dropped and the rest of the length filled anew. Columns that leave more than a given share of the
/// breadth free are not considered. Complexity: O(columns · log(copies) · grid). Heuristic; every strip is within the copies left.
/// </remarks>
internal sealed class StripMaker
{
    private const int MostPoints = 4096;
    private const int MostColumns = 48;

    /// <summary>Least share of the breadth that a column fills.</summary>
    private const double LeastFill = 0.88;

    /// <summary>Two kinds are stacked where their lengths differ by less than this share.</summary>
    private const double SameLength = 0.05;

    private readonly ThroughModel _model;
    private readonly long _length;
    private readonly long _unit;
    private readonly int _points;
    private readonly bool _stacks;
    private readonly bool _uneven;
    private readonly bool _unlike;
    private readonly (int Item, bool Turned, long Along, long Across)[] _ways;
    private readonly double[] _best;
    private readonly List<ulong[]> _taken = [];
    private readonly List<(StripColumn Column, double Value, double Density)> _columns = [];

    /// <param name="direction">Direction of the cuts between strips: <see cref="CutSheet.Along"/> for strips along X.</param>
    public StripMaker(ThroughModel model, int stock, byte direction)
    {
        _model = model;
        var along = direction == CutSheet.Along;
        _length = along ? model.StockWidth[stock] : model.StockHeight[stock];
        Room = along ? model.StockHeight[stock] : model.StockWidth[stock];
        _unit = Math.Max(1, (_length + MostPoints - 1) / MostPoints);
        _points = (int)(_length / _unit);
        _best = new double[_points + 1];

        // A piece narrower than its strip needs a third stage or a trimming cut, a stack a third, unlike lengths in a stack one more.
        _stacks = model.Stages >= 3;
        _uneven = model.Stages >= 3 || (model.Stages == 2 && model.Trimming);
        _unlike = model.Stages >= 4 || (model.Stages == 3 && model.Trimming);
        var ways = new List<(int, bool, long, long)>();
        for (var i = 0; i < model.ItemCount; i++)
        {
            for (var turn = 0; turn < (model.Turns[i] ? 2 : 1); turn++)
            {
                var (w, h) = turn == 0 ? (model.Width[i], model.Height[i]) : (model.Height[i], model.Width[i]);
                var (a, b) = along ? (w, h) : (h, w);
                if (a <= _length && b <= Room && model.Fits[stock, i])
                {
                    ways.Add((i, turn == 1, a, b));
                }
            }
        }

        _ways = [.. ways.OrderBy(w => w.Item4).ThenBy(w => w.Item1).ThenBy(w => w.Item2)];
        Breadths = [.. _ways.Select(w => w.Across).Distinct()];
    }

    /// <summary>Size of the plate across the strips, kerf included.</summary>
    public long Room { get; }

    /// <summary>Breadths that a strip may have, rising.</summary>
    public long[] Breadths { get; }

    /// <summary>Work done so far in units of roughly a microsecond.</summary>
    public long Work { get; private set; }

    /// <summary>The best strip found of this breadth; null where nothing is left for it.</summary>
    public Strip? Make(long breadth, double[] values, ReadOnlySpan<int> left)
    {
        var copies = left.ToArray();
        var columns = new List<(StripColumn, int)>();
        var value = 0.0;
        var free = _points;
        for (var round = 0; round < 3; round++)
        {
            Consider(breadth, values, copies);
            if (_columns.Count == 0 || !Fill(free, copies, columns, ref free, ref value))
            {
                break;
            }
        }

        if (columns.Count == 0)
        {
            return null;
        }

        var counts = new SortedDictionary<int, int>();
        for (var i = 0; i < copies.Length; i++)
        {
            if (copies[i] < left[i])
            {
                counts.Add(i, left[i] - copies[i]);
            }
        }

        return new Strip(breadth, value, columns, [.. counts.Select(c => (c.Key, c.Value))]);
    }

    /// <summary>Columns worth considering for a breadth, the densest first.</summary>
    private void Consider(long breadth, double[] values, int[] left)
    {
        _columns.Clear();
        foreach (var (item, turned, along, across) in _ways)
        {
            if (across > breadth)
            {
                break;
            }

            if (left[item] == 0)
            {
                continue;
            }

            var stack = _stacks ? (int)Math.Min(breadth / across, left[item]) : 1;
            var filled = stack * across / (double)breadth;
            if (filled >= LeastFill && (_uneven || filled == 1))
            {
                Add(new StripColumn(item, turned, stack, -1, false, along), stack * values[item], along);
            }
        }

        if (_stacks)
        {
            Pairs(breadth, values, left);
        }

        _columns.Sort((a, b) => a.Density != b.Density ? b.Density.CompareTo(a.Density)
            : a.Column.Item != b.Column.Item ? a.Column.Item.CompareTo(b.Column.Item) : a.Column.Other.CompareTo(b.Column.Other));
        if (_columns.Count > MostColumns)
        {
            _columns.RemoveRange(MostColumns, _columns.Count - MostColumns);
        }

        void Add(StripColumn column, double value, long along) => _columns.Add((column, value, value / along));
    }

    /// <summary>Two kinds on top of each other that fill the breadth almost, of almost one length.</summary>
    private void Pairs(long breadth, double[] values, int[] left)
    {
        var high = _ways.Length - 1;
        for (var n = 0; n < _ways.Length && _ways[n].Across * 2 <= breadth; n++)
        {
            var a = _ways[n];
            if (left[a.Item] == 0)
            {
                continue;
            }

            while (high >= 0 && _ways[high].Across + a.Across > breadth)
            {
                high--;
            }

            for (var m = high; m > n && _ways[m].Across + a.Across >= breadth * 0.96; m--)
            {
                var b = _ways[m];
                if (left[b.Item] == 0 || b.Item == a.Item || Math.Abs(a.Along - b.Along) > (_unlike ? SameLength : 0) * Math.Max(a.Along, b.Along))
                {
                    continue;
                }

                var length = Math.Max(a.Along, b.Along);
                var value = values[a.Item] + values[b.Item];
                _columns.Add((new StripColumn(a.Item, a.Turned, 1, b.Item, b.Turned, length), value, value / length));
            }
        }
    }

    /// <summary>Knapsack over the free length; takes what it chose as far as copies are left.</summary>
    private bool Fill(int room, int[] copies, List<(StripColumn, int)> columns, ref int free, ref double value)
    {
        var best = _best.AsSpan(0, room + 1);
        best.Clear();
        var entries = new List<(int Column, int Times, int Size, double Value)>();
        for (var c = 0; c < _columns.Count; c++)
        {
            var column = _columns[c].Column;
            var size = (int)((column.Length + _unit - 1) / _unit);
            var most = Math.Min(room / size, copies[column.Item] / column.Stack);
            most = column.Other < 0 ? most : Math.Min(most, copies[column.Other]);
            for (var times = 1; most > 0; times *= 2)
            {
                var now = Math.Min(times, most);
                most -= now;
                entries.Add((c, now, size * now, _columns[c].Value * now));
            }
        }

        for (var e = 0; e < entries.Count; e++)
        {
            if (_taken.Count == e)
            {
                _taken.Add(new ulong[(_points / 64) + 1]);
            }

            var bits = _taken[e];
            Array.Clear(bits);
            var (_, _, size, worth) = entries[e];
            for (var c = room; c >= size; c--)
            {
                var with = best[c - size] + worth;
                if (with > best[c])
                {
                    best[c] = with;
                    bits[c >> 6] |= 1UL << (c & 63);
                }
            }
        }

        Work += 2 + ((long)entries.Count * room / 700);
        var any = false;
        var at = room;
        for (var e = entries.Count - 1; e >= 0; e--)
        {
            if ((_taken[e][at >> 6] >> (at & 63) & 1) == 0)
            {
                continue;
            }

            at -= entries[e].Size;
            var (column, worth, _) = _columns[entries[e].Column];
            var times = Math.Min(entries[e].Times, copies[column.Item] / column.Stack);
            times = column.Other < 0 ? times : Math.Min(times, copies[column.Other]);
            if (times == 0)
            {
                continue;
            }

            copies[column.Item] -= times * column.Stack;
            if (column.Other >= 0)
            {
                copies[column.Other] -= times;
            }

            columns.Add((column, times));
            value += times * worth;
            free -= times * (int)((column.Length + _unit - 1) / _unit);
            any = true;
        }

        return any;
    }
}
