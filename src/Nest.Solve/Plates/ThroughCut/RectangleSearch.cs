namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Exact search for the best through-cut layout with limited copies, by merging rectangles from below.</summary>
/// <remarks>
/// Problem: constrained two-dimensional guillotine knapsack. Method: best-first merging of built rectangles side by side or one above
/// the other (Viswanathan and Bagchi 1993; Cung, Hifi and Le Cun 2000), each with an upper bound: prices of the limits + its own
/// value − its pieces' prices + the most priced value outside it (<see cref="GuillotineTable.FillOutside"/>). Rectangles that cannot
/// beat the value in hand are dropped; of two with the same pieces the one inside the other stays. Complexity: exponential;
/// guarantee: exact when it ends within the limits, else a valid bound.
/// </remarks>
internal sealed class RectangleSearch
{
    private const int MostBuilt = 400_000;

    private readonly ThroughModel _model;
    private readonly GuillotineTable _table;
    private readonly long[] _values;
    private readonly long[] _prices;
    private readonly long _scale;
    private readonly SearchBudget _budget;
    private readonly long _priced;
    private readonly List<Built> _all = [];
    private readonly List<Built> _closed = [];
    private readonly PriorityQueue<int, (long, int)> _open = new();
    private readonly Dictionary<ulong, List<Built>> _same = [];
    private readonly ulong[] _hash;
    private long _value;
    private Built? _best;
    private bool _full;

    private sealed record Built(long Width, long Height, long Value, long Net, ushort[] Counts, ulong Key, Built? Low, Built? High, byte Direction, int Item, bool Turned)
    {
        public bool Dropped { get; set; }
    }

    public RectangleSearch(
        ThroughModel model, GuillotineTable table, long[] values, long[] prices, long scale, SearchBudget budget, long value)
    {
        _model = model;
        _table = table;
        _values = values;
        _prices = prices;
        _scale = scale;
        _budget = budget;
        _value = value;
        for (var i = 0; i < values.Length; i++)
        {
            _priced = checked(_priced + (prices[i] * model.Demand[i]));
        }

        var random = new RandomSource(7);
        _hash = [.. values.Select(_ => random.Next())];
    }

    /// <summary>No layout is worth more than this or the value in hand.</summary>
    public long Bound { get; private set; } = long.MaxValue;

    /// <summary>The best layout found that beats the value in hand; null: none.</summary>
    public GuillotineCut? Run()
    {
        for (var i = 0; i < _values.Length; i++)
        {
            Single(i, false);
            if (_model.Turns[i])
            {
                Single(i, true);
            }
        }

        Bound = _value;
        while (_open.TryDequeue(out var index, out var order))
        {
            var built = _all[index];
            var most = -order.Item1;
            if (most / _scale <= _value)
            {
                break;
            }

            if (_full || _budget.Out)
            {
                Bound = most / _scale;
                break;
            }

            if (built.Dropped)
            {
                continue;
            }

            _closed.Add(built);
            _budget.Add(_closed.Count / 50);
            for (var c = 0; c < _closed.Count; c++)
            {
                Merge(_closed[c], built);
            }
        }

        return _best is null ? null : Cut(_best);
    }

    private void Single(int item, bool turned)
    {
        var counts = new ushort[_values.Length];
        counts[item] = 1;
        var (width, height) = turned ? (_model.Height[item], _model.Width[item]) : (_model.Width[item], _model.Height[item]);
        if (width <= _model.StockWidth[0] && height <= _model.StockHeight[0] && _model.Demand[item] > 0)
        {
            Add(new Built(width, height, _values[item], (_values[item] * _scale) - _prices[item], counts, _hash[item], null, null, 0, item, turned));
        }
    }

    private void Merge(Built a, Built b)
    {
        if (a.Dropped)
        {
            return;
        }

        var across = a.Width + b.Width <= _model.StockWidth[0];
        var along = a.Height + b.Height <= _model.StockHeight[0];
        if (!across && !along)
        {
            return;
        }

        // Bounds first: they refuse nearly all pairs, cheaper than comparing the counts.
        var net = a.Net + b.Net;
        across = across && Bounded(a.Width + b.Width, Math.Max(a.Height, b.Height), net);
        along = along && Bounded(Math.Max(a.Width, b.Width), a.Height + b.Height, net);
        if ((!across && !along) || !Within(a.Counts, b.Counts))
        {
            return;
        }

        var counts = new ushort[a.Counts.Length];
        for (var i = 0; i < counts.Length; i++)
        {
            counts[i] = (ushort)(a.Counts[i] + b.Counts[i]);
        }

        var key = unchecked(a.Key + b.Key);
        if (across)
        {
            Add(new Built(a.Width + b.Width, Math.Max(a.Height, b.Height), a.Value + b.Value, net, counts, key, a, b, CutSheet.Across, -1, false));
        }

        if (along)
        {
            Add(new Built(Math.Max(a.Width, b.Width), a.Height + b.Height, a.Value + b.Value, net, counts, key, a, b, CutSheet.Along, -1, false));
        }
    }

    private bool Bounded(long width, long height, long net) =>
        _priced + net + _table.Outside(width, height) >= (_value + 1) * _scale;

    private bool Within(ushort[] a, ushort[] b)
    {
        for (var i = 0; i < a.Length; i++)
        {
            if (a[i] + b[i] > _model.Demand[i])
            {
                return false;
            }
        }

        return true;
    }

    private void Add(Built built)
    {
        var most = _priced + built.Net + _table.Outside(built.Width, built.Height);
        if (most < (_value + 1) * _scale)
        {
            return;
        }

        if (!_same.TryGetValue(built.Key, out var same))
        {
            _same.Add(built.Key, same = []);
        }

        foreach (var other in same)
        {
            if (other.Width <= built.Width && other.Height <= built.Height && other.Counts.AsSpan().SequenceEqual(built.Counts))
            {
                return;
            }
        }

        same.RemoveAll(other =>
        {
            var worse = built.Width <= other.Width && built.Height <= other.Height && other.Counts.AsSpan().SequenceEqual(built.Counts);
            other.Dropped |= worse;
            return worse;
        });
        same.Add(built);
        _open.Enqueue(_all.Count, (-most, -_all.Count));
        _all.Add(built);
        _full |= _all.Count >= MostBuilt;
        if (built.Value > _value)
        {
            (_value, _best) = (built.Value, built);
        }
    }

    private GuillotineCut Cut(Built built)
    {
        if (built.Item >= 0)
        {
            return GuillotineCut.Piece(_model, built.Item, built.Turned);
        }

        var low = Cut(built.Low!);
        var high = Cut(built.High!);
        return new GuillotineCut(
            -1, false, built.Direction, built.Direction == CutSheet.Across ? low.Width : low.Height, built.Width, built.Height, low, high);
    }
}
