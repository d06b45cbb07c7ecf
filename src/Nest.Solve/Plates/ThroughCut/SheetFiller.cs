namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Fills one plate with pieces of high value, each item at most so often.</summary>
/// <remarks>
/// Problem: constrained guillotine knapsack on one plate under all rules of the saw. Method: ruin and recreate on a single sheet with
/// late acceptance on the value; pieces are offered by value per area to a random power. Anytime heuristic, no guarantee.
/// </remarks>
internal sealed class SheetFiller
{
    private const int History = 50;

    private readonly ThroughModel _model;
    private readonly int _stock;
    private readonly int[] _left;
    private readonly double[] _keys;
    private readonly int[] _order;
    private readonly double[] _history = new double[History];
    private readonly List<int> _taken = [];
    private readonly CutSheet _current;
    private readonly CutSheet _trial;
    private RandomSource _random;

    public SheetFiller(ThroughModel model, int stock, int seed)
    {
        _model = model;
        _stock = stock;
        _random = new RandomSource(seed);
        _left = new int[model.ItemCount];
        _keys = new double[model.ItemCount];
        _order = new int[model.ItemCount];
        _current = model.Blank[stock][0].Clone();
        _trial = _current.Clone();
    }

    /// <summary>Searches for sheets of high value; <paramref name="found"/> sees each sheet at least as good as all before it, and is
    /// to copy what it keeps.</summary>
    public void Search(double[] values, ReadOnlySpan<int> most, int steps, Action<CutSheet, double> found, CutSheet? start = null)
    {
        most.CopyTo(_left);
        var blanks = _model.Blank[_stock];
        _current.CopyFrom(start ?? blanks[_random.Below(blanks.Length)]);
        var value = 0.0;
        foreach (ref readonly var node in _current.Nodes)
        {
            if (node.Item >= 0)
            {
                value += values[node.Item];
                _left[node.Item]--;
            }
        }

        var best = value;
        if (value > 0)
        {
            found(_current, value);
        }

        Array.Fill(_history, value);
        for (var step = 0; step < steps; step++)
        {
            _trial.CopyFrom(_current);
            _taken.Clear();
            Ruin(start is null);
            var now = value;
            foreach (var item in _taken)
            {
                now -= values[item];
                _left[item]++;
            }

            var from = _taken.Count;
            now += Recreate(values);
            var slot = step % History;
            if (now >= _history[slot] || now >= value)
            {
                value = now;
                _current.CopyFrom(_trial);
                if (value >= best * 0.999 && value > 0)
                {
                    best = Math.Max(best, value);
                    found(_current, value);
                }
            }
            else
            {
                for (var t = 0; t < _taken.Count; t++)
                {
                    _left[_taken[t]] += t < from ? -1 : 1;
                }
            }

            _history[slot] = Math.Max(_history[slot], value);
        }
    }

    private void Ruin(bool afresh)
    {
        if (afresh && _random.Below(20) == 0)
        {
            // Afresh, perhaps round the keep-outs in another way.
            foreach (ref readonly var node in _trial.Nodes)
            {
                if (node.Item >= 0)
                {
                    _taken.Add(node.Item);
                }
            }

            var blanks = _model.Blank[_stock];
            _trial.CopyFrom(blanks[_random.Below(blanks.Length)]);
            return;
        }

        for (var cuts = 1 + _random.Below(4); cuts > 0 && _trial.Pieces > 0; cuts--)
        {
            for (var tries = 0; tries < 8; tries++)
            {
                var n = _random.Below(_trial.Nodes.Length);
                var kind = _trial.Nodes[n].Item;
                if (kind >= 0 || (kind == SheetNode.Split && !_trial.Nodes[n].Region))
                {
                    _trial.Take(_model, n, _taken);
                    break;
                }
            }
        }
    }

    /// <summary>Offers every item with copies left in a random order of value; returns the value put in and lists it in _taken.</summary>
    private double Recreate(double[] values)
    {
        var power = 0.6 + (0.6 * _random.Real());
        var count = 0;
        for (var i = 0; i < _left.Length; i++)
        {
            if (_left[i] > 0 && values[i] > 0 && _model.Fits[_stock, i])
            {
                _keys[i] = values[i] / Math.Pow(_model.Area[i], power) * (0.7 + (0.6 * _random.Real()));
                _order[count++] = i;
            }
        }

        var order = _order.AsSpan(0, count);
        order.Sort((a, b) => _keys[a] != _keys[b] ? _keys[b].CompareTo(_keys[a]) : a.CompareTo(b));
        var sum = 0.0;
        foreach (var item in order)
        {
            while (_left[item] > 0 && _trial.LargestRest >= _model.Area[item])
            {
                var plain = _trial.BestSpot(_model, _model.Width[item], _model.Height[item], out var a);
                var b = default(Spot);
                var turned = _model.Turns[item] && _trial.BestSpot(_model, _model.Height[item], _model.Width[item], out b);
                if (!plain && !turned)
                {
                    break;
                }

                var turn = turned && (!plain || b.Score > a.Score);
                _trial.Put(_model, turn ? b : a, item, turn);
                _left[item]--;
                _taken.Add(item);
                sum += values[item];
            }
        }

        return sum;
    }
}
