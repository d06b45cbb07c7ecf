namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Sheets of a plan and a changed copy of it beside them, which is taken over or dropped.</summary>
/// <remarks>Sheets are copied only when they are changed, and copies are used again. Beginning, taking over and dropping cost
/// O(sheets + items).</remarks>
internal sealed class TrialPlan(ThroughModel model)
{
    private readonly Stack<CutSheet> _spare = new();
    private readonly List<CutSheet> _created = [];
    private readonly List<CutSheet> _dropped = [];
    private readonly List<bool> _mine = [];
    private readonly List<int> _taken = [];
    private readonly int[] _missing = new int[model.ItemCount];
    private readonly int[] _used = new int[model.StockCount];
    private List<CutSheet> _sheets = [];
    private List<CutSheet> _trial = [];
    private long _cost;

    /// <summary>The plan as it was taken over last.</summary>
    public List<CutSheet> Sheets => _sheets;

    /// <summary>The changed copy.</summary>
    public List<CutSheet> Trial => _trial;

    /// <summary>Copies of each item that have no place in the plan.</summary>
    public int[] Missing => _missing;

    /// <summary>The same in the changed copy, with the number of plates of each stock, the cost, and the area that has no place.</summary>
    public int[] TrialMissing { get; } = new int[model.ItemCount];
    public int[] TrialUsed { get; } = new int[model.StockCount];
    public long TrialCost { get; private set; }
    public double TrialWeight { get; private set; }

    /// <summary>Area without a place in the plan.</summary>
    public double MissingWeight { get; private set; }

    /// <summary>Items taken out of the changed copy so far.</summary>
    public List<int> Taken => _taken;

    /// <summary>Whether all pieces have a place.</summary>
    public bool Complete => Array.TrueForAll(_missing, count => count <= 0);

    /// <summary>Starts from a plan; surplus is taken out, and what is above the budget is taken apart, emptiest sheets first.</summary>
    public void Start(IEnumerable<CutSheet> plan, int[] demand, long budget, ref RandomSource random)
    {
        _sheets = [.. plan.Select(sheet => sheet.Clone())];
        Array.Clear(_used);
        Array.Copy(demand, _missing, _missing.Length);
        _cost = 0;
        foreach (var sheet in _sheets)
        {
            _used[sheet.Stock]++;
            _cost += CutPlan.SheetCost(model, sheet);
            sheet.AddCounts(_missing, -1);
        }

        RemoveSurplus();
        while (_cost > budget && _sheets.Count > 0)
        {
            // The emptiest for their price, with some chance, so that repeated starts from one plan differ.
            var worst = 0;
            var least = double.MaxValue;
            for (var s = 0; s < _sheets.Count; s++)
            {
                var density = _sheets[s].Filled / Math.Max(1, model.StockCost[_sheets[s].Stock]) * (0.8 + (0.4 * random.Real()));
                if (density < least)
                {
                    (least, worst) = (density, s);
                }
            }

            var sheet = _sheets[worst];
            _cost -= CutPlan.SheetCost(model, sheet);
            _used[sheet.Stock]--;
            sheet.AddCounts(_missing);
            _sheets.RemoveAt(worst);
        }

        MissingWeight = Area(_missing);
    }

    /// <summary>The changed copy becomes equal to the plan.</summary>
    public void Begin()
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
        Array.Copy(_missing, TrialMissing, _missing.Length);
        Array.Copy(_used, TrialUsed, _used.Length);
        TrialWeight = MissingWeight;
        TrialCost = _cost;
    }

    /// <summary>The changed copy becomes the plan.</summary>
    public void Accept()
    {
        foreach (var sheet in _dropped)
        {
            _spare.Push(sheet);
        }

        (_sheets, _trial) = (_trial, _sheets);
        Array.Copy(TrialMissing, _missing, _missing.Length);
        Array.Copy(TrialUsed, _used, _used.Length);
        MissingWeight = TrialWeight;
        _cost = TrialCost;
    }

    /// <summary>Drops the changed copy.</summary>
    public void Reject()
    {
        foreach (var sheet in _created)
        {
            _spare.Push(sheet);
        }
    }

    /// <summary>A sheet of the changed copy that may be changed.</summary>
    public CutSheet Own(int index)
    {
        if (!_mine[index])
        {
            _dropped.Add(_trial[index]);
            _trial[index] = Copy(_trial[index]);
            _mine[index] = true;
        }

        return _trial[index];
    }

    /// <summary>Adds an empty plate to the changed copy; returns its index.</summary>
    public int Open(CutSheet blank)
    {
        _trial.Add(Copy(blank));
        _mine.Add(true);
        TrialUsed[blank.Stock]++;
        TrialCost += model.StockCost[blank.Stock];
        return _trial.Count - 1;
    }

    /// <summary>Takes a whole sheet out of the changed copy.</summary>
    public void Drop(int index)
    {
        var sheet = _trial[index];
        TrialCost -= model.StockCost[sheet.Stock];
        TrialUsed[sheet.Stock]--;
        var before = _taken.Count;
        foreach (ref readonly var node in sheet.Nodes)
        {
            if (node.Item >= 0)
            {
                _taken.Add(node.Item);
            }
        }

        TookOut(sheet.Stock, before);
        if (!_mine[index])
        {
            _dropped.Add(sheet);
        }

        _trial[index] = _trial[^1];
        _mine[index] = _mine[^1];
        _trial.RemoveAt(_trial.Count - 1);
        _mine.RemoveAt(_mine.Count - 1);
    }

    /// <summary>Counts items taken out of a sheet, from an index of <see cref="Taken"/> on.</summary>
    public void TookOut(int stock, int from)
    {
        for (var t = from; t < _taken.Count; t++)
        {
            var item = _taken[t];
            TrialMissing[item]++;
            TrialWeight += model.Area[item];
            if (model.HasPieceCost)
            {
                TrialCost -= model.CostOf(stock, item);
            }
        }
    }

    /// <summary>Counts an item put on a sheet.</summary>
    public void PutOn(int stock, int item)
    {
        TrialMissing[item]--;
        TrialWeight -= model.Area[item];
        if (model.HasPieceCost)
        {
            TrialCost += model.CostOf(stock, item);
        }
    }

    /// <summary>Sums of areas drift by rounding; near zero they are summed anew.</summary>
    public void SumAnew()
    {
        if (TrialWeight < 1)
        {
            TrialWeight = Area(TrialMissing);
        }
    }

    private double Area(int[] counts)
    {
        var area = 0.0;
        for (var i = 0; i < counts.Length; i++)
        {
            area += counts[i] * model.Area[i];
        }

        return area;
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
                    _cost -= model.CostOf(sheet.Stock, item);
                    sheet.Take(model, n, items);
                }
            }
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
}
