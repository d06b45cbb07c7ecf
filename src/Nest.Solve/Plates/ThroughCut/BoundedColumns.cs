namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Column generation over layouts that never hold more of a piece than is wanted, priced by <see cref="SheetFiller"/>.</summary>
/// <remarks>Heuristic: gives the restricted master good columns and the rounding good values; bounds come from
/// <see cref="ColumnBound"/>.</remarks>
internal sealed class BoundedColumns : IDisposable
{
    private readonly ThroughModel _model;
    private readonly ColumnPool _pool;
    private readonly MasterLp _lp;
    private readonly SheetFiller[] _fillers;
    private readonly TableFiller?[] _tables;
    private readonly bool _many;
    private int _seen;

    public BoundedColumns(ThroughModel model, ColumnPool pool, int seed)
    {
        _model = model;
        _pool = pool;
        _lp = new MasterLp(model);
        // Patterns of the tables hold many equal pieces: they help where many are wanted.
        _many = model.Demand.Sum() >= 3 * model.ItemCount;
        _tables = new TableFiller?[model.StockCount];
        _fillers = [.. Enumerable.Range(0, model.StockCount).Select(s => new SheetFiller(model, s, seed + s))];
    }

    public double Value { get; private set; } = double.PositiveInfinity;

    public double[] Duals { get; private set; } = [];

    /// <summary>Columns in the linear programme and their values.</summary>
    public List<Column> Columns { get; } = [];

    public IReadOnlyList<double> Values => _lp.Values();

    /// <summary>Solves the linear programme and looks for better columns; false when none was found.</summary>
    public bool Round(SearchBudget budget, int steps)
    {
        for (; _seen < _pool.Columns.Count; _seen++)
        {
            var column = _pool.Columns[_seen];
            if (column.Counts.All(c => c.Count <= _model.Demand[c.Item]))
            {
                _lp.Add(column);
                Columns.Add(column);
            }
        }

        budget.Add(200 + (2 * Columns.Count));
        if (!_lp.Solve())
        {
            return false;
        }

        Value = _lp.Value;
        Duals = _lp.Duals();
        var most = Math.Max(1, _model.StockCost.Max());
        var found = false;
        for (var s = 0; s < _fillers.Length && !budget.Out; s++)
        {
            if (_model.StockLimit[s] == 0)
            {
                continue;
            }

            var stock = s;
            var net = Duals.Select((d, i) => _model.Fits[stock, i] ? d - _model.CostOf(stock, i) : 0).ToArray();
            var free = _lp.LimitDual(stock);
            Fill(s, net, _model.Demand, 3, steps, budget, (sheet, value) =>
            {
                if (value - free - _model.StockCost[stock] > 1e-6 * most)
                {
                    found |= _pool.Add(sheet);
                }
            });
        }

        return found;
    }

    /// <summary>Searches sheets of one stock by table and by filler.</summary>
    public void Fill(int stock, double[] values, int[] left, int rounds, int steps, SearchBudget budget, Action<CutSheet, double> found)
    {
        _fillers[stock].Search(values, left, steps, found);
        budget.Add(steps * 12L);
        if (_many)
        {
            var table = _tables[stock] ??= new TableFiller(_model, stock, _fillers[stock]);
            table.Search(values, left, rounds, steps / 4, found);
            budget.Add(table.Work(rounds, steps / 4));
        }
    }

    public void Dispose() => _lp.Dispose();
}
