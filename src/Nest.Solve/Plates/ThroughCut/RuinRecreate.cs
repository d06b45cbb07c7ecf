namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Goal-driven ruin and recreate on sheets of through-cuts.</summary>
/// <remarks>
/// Problem: a plan cheaper than the best one. Method: a budget just below the best cost is set; sheets that fit into it are kept, pieces
/// that don't fit are missing. Each step empties a sheet or some subtrees, puts missing pieces back at their best spots in a random
/// order, and is kept by late acceptance on the missing area; when nothing is missing a cheaper plan is found and the budget falls.
/// Literature: Gardeyn and Wauters, goal-driven ruin and recreate for guillotine bin packing (EJOR 2022); Christiaens and Vanden
/// Berghe, slack induction (2020); Burke and Bykov, late acceptance (2017). Heuristic, no guarantee. A step costs O(pieces moved × sheets).
/// </remarks>
internal sealed class RuinRecreate
{
    private const int History = 300;

    /// <summary>Weight of the squared rests beside the missing area. Measured on 33 hard bin-packing instances at equal work: 0 gave
    /// 596 plates, 0.1 gave 595, 0.4 gave 594.</summary>
    private const double RestWeight = 0.2;

    private readonly double _plate;
    private double _objective;

    private readonly ThroughModel _model;
    private double[] _history = new double[History];
    private int[] _limits;
    private int _slots = History;
    private readonly Stack<CutSheet> _spare = new();
    private readonly List<int> _taken = [];
    private readonly List<int> _order = [];
    private readonly double[] _keys;
    private readonly int[] _failed;
    private readonly int[] _stockUsed;
    private readonly int[] _trialUsed;
    private readonly int[] _missing;
    private readonly int[] _trialMissing;
    private readonly List<CutSheet> _created = [];
    private readonly List<CutSheet> _dropped = [];
    private List<CutSheet> _sheets = [];
    private List<CutSheet> _trial = [];
    private List<bool> _mine = [];
    private double _missingWeight;
    private double _trialWeight;
    private long _cost;
    private long _trialCost;
    private RandomSource _random;
    private int _step;
    private int _stamp;

    public RuinRecreate(ThroughModel model, int seed)
    {
        _model = model;
        _plate = Enumerable.Range(0, model.StockCount).Max(s => (double)model.StockWidth[s] * model.StockHeight[s]);
        _random = new RandomSource(seed);
        _keys = new double[model.ItemCount];
        _failed = new int[model.ItemCount];
        _missing = new int[model.ItemCount];
        _trialMissing = new int[model.ItemCount];
        _limits = model.StockLimit;
        _stockUsed = new int[model.StockCount];
        _trialUsed = new int[model.StockCount];
    }

    /// <summary>Most that the next plan may cost.</summary>
    public long Budget { get; private set; }

    /// <summary>Sheets of the current state, for a pool of patterns.</summary>
    public IReadOnlyList<CutSheet> Current => _sheets;

    public long Steps { get; private set; }

    /// <summary>Work done so far in steps of roughly a microsecond.</summary>
    public long Work { get; private set; }

    public double MissingWeight => _missingWeight;

    /// <summary>Copies of each item that have no place.</summary>
    public ReadOnlySpan<int> Missing => _missing;

    /// <summary>Starts from a plan; what is above the budget is taken apart, emptiest sheets first.</summary>
    /// <param name="part">What to cut and from which plates, where the search is for a part of the job only; null: the whole job.</param>
    public void Start(IEnumerable<CutSheet> plan, long budget, PartOfJob? part = null)
    {
        Budget = budget;
        _limits = part?.Plates ?? _model.StockLimit;
        _slots = part?.Memory ?? History;
        if (_history.Length < _slots)
        {
            _history = new double[_slots];
        }

        _step = 0;
        _sheets = [.. plan.Select(sheet => sheet.Clone())];
        Array.Clear(_stockUsed);
        Array.Copy(part?.Demand ?? _model.Demand, _missing, _missing.Length);
        _cost = 0;
        foreach (var sheet in _sheets)
        {
            _stockUsed[sheet.Stock]++;
            _cost += CutPlan.SheetCost(_model, sheet);
            sheet.AddCounts(_missing, -1);
        }

        RemoveSurplus();
        while (_cost > Budget && _sheets.Count > 0)
        {
            // The emptiest for their price, with some chance, so that repeated starts from one plan differ.
            var worst = 0;
            var least = double.MaxValue;
            for (var s = 0; s < _sheets.Count; s++)
            {
                var density = Density(_sheets[s]) * (0.8 + (0.4 * _random.Real()));
                if (density < least)
                {
                    (least, worst) = (density, s);
                }
            }

            var sheet = _sheets[worst];
            _cost -= CutPlan.SheetCost(_model, sheet);
            _stockUsed[sheet.Stock]--;
            sheet.AddCounts(_missing);
            _sheets.RemoveAt(worst);
        }

        _missingWeight = 0;
        for (var i = 0; i < _missing.Length; i++)
        {
            _missingWeight += _missing[i] * _model.Area[i];
        }

        _objective = Objective(_missingWeight, _sheets);
        Array.Fill(_history, _missingWeight > 0 ? _objective : double.MaxValue);
    }

    /// <summary>Missing area less a small share of the squared rests: of two states with the same pieces missing the one with its free
    /// area in fewer pieces is better.</summary>
    private double Objective(double missing, List<CutSheet> sheets)
    {
        var squares = 0.0;
        foreach (var sheet in sheets)
        {
            squares += sheet.RestSquares;
        }

        return missing - (RestWeight * squares / _plate);
    }

    /// <summary>Puts everything missing in place by one sorting rule, opening sheets as needed; true when nothing is missing.</summary>
    public bool Construct(int rule)
    {
        Begin();
        Recreate(rule, 0);
        Accept();
        return NothingMissing();
    }

    /// <summary>One step; true when nothing is missing: <see cref="Current"/> is then a plan within the budget.</summary>
    public bool Step()
    {
        Steps++;
        Work += 2;
        Begin();
        Ruin();
        Recreate(_random.Below(10), 0.2);
        var slot = _step % _slots;
        _step++;
        var now = Objective(_trialWeight, _trial);
        if (_trialWeight <= 0 || now <= _history[slot] || now <= _objective)
        {
            Accept();
            _objective = now;
        }
        else
        {
            Reject();
        }

        if (_objective < _history[slot])
        {
            _history[slot] = _objective;
        }

        return _missingWeight <= 0 && NothingMissing();
    }

    private double Density(CutSheet sheet) => sheet.Filled / Math.Max(1, _model.StockCost[sheet.Stock]);

    /// <summary>Whether all pieces are placed.</summary>
    public bool Complete => NothingMissing();

    private bool NothingMissing()
    {
        foreach (var count in _missing)
        {
            if (count > 0)
            {
                return false;
            }
        }

        return true;
    }

    private void RemoveSurplus()
    {
        var items = new List<int>();
        foreach (var sheet in _sheets)
        {
            for (var n = 0; n < sheet.Nodes.Length; n++)
            {
                var item = sheet.Nodes[n].Item;
                if (item >= 0 && _missing[item] < 0)
                {
                    _missing[item]++;
                    _cost -= _model.CostOf(sheet.Stock, item);
                    sheet.Take(_model, n, items);
                }
            }
        }
    }

    private void Begin()
    {
        _trial.Clear();
        _trial.AddRange(_sheets);
        _mine.Clear();
        for (var s = 0; s < _sheets.Count; s++)
        {
            _mine.Add(false);
        }

        _created.Clear();
        _dropped.Clear();
        _taken.Clear();
        Array.Copy(_missing, _trialMissing, _missing.Length);
        Array.Copy(_stockUsed, _trialUsed, _stockUsed.Length);
        _trialWeight = _missingWeight;
        _trialCost = _cost;
    }

    private void Accept()
    {
        foreach (var sheet in _dropped)
        {
            _spare.Push(sheet);
        }

        (_sheets, _trial) = (_trial, _sheets);
        Array.Copy(_trialMissing, _missing, _missing.Length);
        Array.Copy(_trialUsed, _stockUsed, _stockUsed.Length);
        _missingWeight = _trialWeight;
        _cost = _trialCost;
    }

    private void Reject()
    {
        foreach (var sheet in _created)
        {
            _spare.Push(sheet);
        }
    }

    private CutSheet Copy(CutSheet sheet)
    {
        if (_spare.TryPop(out var copy))
        {
            copy.CopyFrom(sheet);
        }
        else
        {
            copy = sheet.Clone();
        }

        _created.Add(copy);
        return copy;
    }

    private CutSheet Own(int index)
    {
        if (!_mine[index])
        {
            _dropped.Add(_trial[index]);
            _trial[index] = Copy(_trial[index]);
            _mine[index] = true;
        }

        return _trial[index];
    }

    private void Ruin()
    {
        if (_trial.Count == 0)
        {
            return;
        }

        var kind = _random.Below(10);
        if (kind < 3)
        {
            var sheets = 1 + _random.Below(Math.Min(3, _trial.Count));
            for (var r = 0; r < sheets && _trial.Count > 0; r++)
            {
                DropSheet(_random.Below(_trial.Count));
            }
        }
        else
        {
            var cuts = 1 + _random.Below(kind < 7 ? 4 : 10);
            for (var r = 0; r < cuts && _trial.Count > 0; r++)
            {
                TakeSome(_random.Below(_trial.Count));
            }
        }
    }

    private void DropSheet(int index)
    {
        var sheet = _trial[index];
        _trialCost -= _model.StockCost[sheet.Stock];
        _trialUsed[sheet.Stock]--;
        var before = _taken.Count;
        foreach (ref readonly var node in sheet.Nodes)
        {
            if (node.Item >= 0)
            {
                _taken.Add(node.Item);
            }
        }

        Count(sheet.Stock, before);
        if (!_mine[index])
        {
            _dropped.Add(sheet);
        }

        _trial[index] = _trial[^1];
        _mine[index] = _mine[^1];
        _trial.RemoveAt(_trial.Count - 1);
        _mine.RemoveAt(_mine.Count - 1);
    }

    private void TakeSome(int index)
    {
        var sheet = Own(index);
        if (sheet.Pieces == 0)
        {
            return;
        }

        var node = -1;
        for (var tries = 0; tries < 8; tries++)
        {
            var n = _random.Below(sheet.Nodes.Length);
            var kind = sheet.Nodes[n].Item;
            if (kind >= 0 || (kind == SheetNode.Split && !sheet.Nodes[n].Region))
            {
                node = n;
                break;
            }
        }

        if (node < 0)
        {
            return;
        }

        // Upwards by chance: larger parts of the tree make larger holes.
        while (!sheet.Nodes[node].Region && !sheet.Nodes[sheet.Nodes[node].Parent].Region && _random.Below(4) == 0)
        {
            node = sheet.Nodes[node].Parent;
        }

        var before = _taken.Count;
        if (!sheet.Nodes[node].Region)
        {
            // Brothers with it: in a set of parallel cuts their order is free, so their room joins.
            for (var more = _random.Below(3); more > 0; more--)
            {
                var brother = sheet.Nodes[sheet.Nodes[node].Parent].FirstChild;
                for (var skip = _random.Below(4); skip > 0 && brother >= 0; skip--)
                {
                    brother = sheet.Nodes[brother].Next;
                }

                if (brother >= 0 && brother != node && (sheet.Nodes[brother].Item is >= 0 or SheetNode.Split) && !sheet.Nodes[brother].Region)
                {
                    sheet.Take(_model, brother, _taken);
                }
            }
        }

        sheet.Take(_model, node, _taken);
        Count(sheet.Stock, before);
        if (sheet.Pieces == 0)
        {
            DropSheet(index);
        }
    }

    private void Count(int stock, int from)
    {
        for (var t = from; t < _taken.Count; t++)
        {
            var item = _taken[t];
            _trialMissing[item]++;
            _trialWeight += _model.Area[item];
            if (_model.HasPieceCost)
            {
                _trialCost -= _model.CostOf(stock, item);
            }
        }
    }

    private void Recreate(int rule, double noise)
    {
        _stamp++;
        _order.Clear();
        for (var i = 0; i < _trialMissing.Length; i++)
        {
            if (_trialMissing[i] == 0)
            {
                continue;
            }

            _keys[i] = rule switch
            {
                < 4 => _model.Area[i],
                < 6 => Math.Max(_model.Width[i], _model.Height[i]),
                6 => _model.Width[i],
                7 => _model.Height[i],
                8 => Math.Min(_model.Width[i], _model.Height[i]),
                _ => 1,
            };
            _keys[i] *= 1 + ((rule == 9 ? 1 : noise) * _random.Real());
            _order.Add(i);
        }

        _order.Sort((a, b) => _keys[a] != _keys[b] ? _keys[b].CompareTo(_keys[a]) : a.CompareTo(b));
        foreach (var item in _order)
        {
            while (_trialMissing[item] > 0 && PutOne(item))
            {
            }
        }

        if (NearlyZero(_trialWeight))
        {
            _trialWeight = 0;
            for (var i = 0; i < _trialMissing.Length; i++)
            {
                _trialWeight += _trialMissing[i] * _model.Area[i];
            }
        }
    }

    /// <summary>Sums of areas drift by rounding; near zero they are summed anew.</summary>
    private static bool NearlyZero(double weight) => weight < 1;

    private bool PutOne(int item)
    {
        var model = _model;
        Work += 1 + (_trial.Count / 16);
        var area = model.Area[item];
        var best = new Spot(-1, 0, double.NegativeInfinity);
        var at = -1;
        var turned = false;
        if (_failed[item] != _stamp)
        {
            for (var s = 0; s < _trial.Count; s++)
            {
                var sheet = _trial[s];
                if (sheet.LargestRest < area || !model.Fits[sheet.Stock, item] || _random.Below(64) == 0)
                {
                    continue;
                }

                if (model.HasPieceCost && _trialCost + model.CostOf(sheet.Stock, item) > Budget)
                {
                    continue;
                }

                if (sheet.BestSpot(model, model.Width[item], model.Height[item], out var spot) && spot.Score > best.Score)
                {
                    (best, at, turned) = (spot, s, false);
                }

                if (model.Turns[item] && sheet.BestSpot(model, model.Height[item], model.Width[item], out spot) && spot.Score > best.Score)
                {
                    (best, at, turned) = (spot, s, true);
                }
            }
        }

        if (at < 0)
        {
            _failed[item] = _stamp;
            at = OpenSheet(item);
            if (at < 0)
            {
                return false;
            }

            Array.Clear(_failed);
            return PutOn(at, item);
        }

        Own(at).Put(model, best, item, turned);
        Placed(_trial[at].Stock, item);
        return true;
    }

    private bool PutOn(int at, int item)
    {
        var sheet = _trial[at];
        var plain = sheet.BestSpot(_model, _model.Width[item], _model.Height[item], out var a);
        var b = default(Spot);
        var turned = _model.Turns[item] && sheet.BestSpot(_model, _model.Height[item], _model.Width[item], out b);
        if (!plain && !turned)
        {
            return false;
        }

        var turn = turned && (!plain || (b.Score == a.Score ? _random.Below(2) == 0 : b.Score > a.Score));
        Own(at).Put(_model, turn ? b : a, item, turn);
        Placed(sheet.Stock, item);
        return true;
    }

    private void Placed(int stock, int item)
    {
        _trialMissing[item]--;
        _trialWeight -= _model.Area[item];
        if (_model.HasPieceCost)
        {
            _trialCost += _model.CostOf(stock, item);
        }
    }

    private int OpenSheet(int item)
    {
        var chosen = -1;
        var bestKey = double.MaxValue;
        var greedy = _random.Below(2) == 0;
        for (var s = 0; s < _model.StockCount; s++)
        {
            if (!_model.Fits[s, item] || _trialUsed[s] >= _limits[s]
                || _trialCost + _model.StockCost[s] + _model.CostOf(s, item) > Budget)
            {
                continue;
            }

            var key = greedy ? (double)_model.StockCost[s] / ((double)_model.StockWidth[s] * _model.StockHeight[s]) : _random.Real();
            if (key < bestKey)
            {
                (bestKey, chosen) = (key, s);
            }
        }

        if (chosen < 0)
        {
            return -1;
        }

        // With keep-outs there are several blanks; one that holds the piece is drawn at random.
        var blanks = _model.Blank[chosen];
        var from = _random.Below(blanks.Length);
        for (var b = 0; b < blanks.Length; b++)
        {
            var blank = blanks[(from + b) % blanks.Length];
            if (blank.BestSpot(_model, _model.Width[item], _model.Height[item], out _)
                || (_model.Turns[item] && blank.BestSpot(_model, _model.Height[item], _model.Width[item], out _)))
            {
                _trial.Add(Copy(blank));
                _mine.Add(true);
                _trialUsed[chosen]++;
                _trialCost += _model.StockCost[chosen];
                return _trial.Count - 1;
            }
        }

        return -1;
    }
}
