namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Sheets for a job of many pieces: plate after plate is filled with dense strips until few pieces are left.</summary>
/// <remarks>Method: sequential value heuristic. Large pieces are worth a little more than their area, so that the small ones, which fill
/// anything, remain for the end; each plate is the best of all stocks and both directions by value for its cost, and its gaps are filled
/// by <see cref="SheetFiller"/>. Heuristic: every sheet obeys the saw; pieces are left for the caller.</remarks>
internal sealed class StripPlan
{
    private readonly ThroughModel _model;
    /// <summary>Stocks and directions, each with its strips from the first time that it is tried: of many leftovers few ever are.</summary>
    private readonly (int Stock, byte Direction)[] _ways;
    private readonly StripPlate?[] _plates;

    /// <summary>Cost by the area of each stock.</summary>
    private readonly double[] _rate;
    private readonly SheetFiller?[] _fillers;
    private readonly int _seed;

    public StripPlan(ThroughModel model, int seed)
    {
        _model = model;
        _rate = [.. Enumerable.Range(0, model.StockCount).Select(s => model.StockCost[s] / ((double)model.StockWidth[s] * model.StockHeight[s]))];
        _ways = [.. Enumerable.Range(0, model.StockCount)
            .Where(s => model.StockLimit[s] > 0 && model.Problem.Stocks[s].KeepOuts.IsDefaultOrEmpty)
            .SelectMany(s => new[] { CutSheet.Along, CutSheet.Across }
                .Where(d => model.Stages >= 2 && (model.First < 0 || model.First == d)).Select(d => (s, d)))];
        _plates = new StripPlate?[_ways.Length];
        (_fillers, _seed) = (new SheetFiller?[model.StockCount], seed);
    }

    /// <summary>Work done so far in units of roughly a microsecond.</summary>
    public long Work { get; private set; }

    /// <param name="values">Value of each piece.</param>
    /// <param name="rest">Area that is left for the caller.</param>
    /// <param name="stop">Asked before each plate.</param>
    /// <param name="kept">Sheets that are filled already; the answer begins with them.</param>
    public List<CutSheet> Build(double[] values, double rest, Func<bool> stop, IReadOnlyList<CutSheet>? kept = null)
    {
        var left = (int[])_model.Demand.Clone();
        var used = new int[_model.StockCount];
        var sheets = new List<CutSheet>();
        foreach (var sheet in kept ?? [])
        {
            sheets.Add(sheet);
            used[sheet.Stock]++;
            sheet.AddCounts(left, -1);
        }

        foreach (var plate in _plates)
        {
            plate?.Value(values);
        }

        var closed = new bool[_ways.Length];
        while (Area(left) > rest && !stop())
        {
            CutSheet? best = null;
            var rate = 0.0;
            var open = Enumerable.Range(0, _ways.Length).Where(n => !closed[n] && used[_ways[n].Stock] < _model.StockLimit[_ways[n].Stock]).ToList();
            if (open.Count == 0)
            {
                break;
            }

            var least = open.Min(n => _rate[_ways[n].Stock]);
            foreach (var n in open)
            {
                var (stock, direction) = _ways[n];
                // A plate dearer by the area than the densest filling could make good is not tried.
                if (_rate[stock] > least * 1.02)
                {
                    continue;
                }

                if (_plates[n] is not { } plate)
                {
                    _plates[n] = plate = new StripPlate(_model, stock, direction);
                    plate.Value(values);
                }

                var work = plate.Work;
                var filled = plate.Fill(left);
                Work += plate.Work - work;
                if (filled is not { } found)
                {
                    closed[n] = true; // too small for what is left, or the saw can't
                    continue;
                }

                var now = found.Value / Cost(found.Sheet);
                if (now > rate)
                {
                    (rate, best) = (now, found.Sheet);
                }
            }

            if (best is null)
            {
                continue; // those of the least rate are closed now
            }

            best = Filled(best, values, left);
            sheets.Add(best);
            used[best.Stock]++;
            best.AddCounts(left, -1);
        }

        return sheets;
    }

    /// <summary>The sheet with its gaps filled.</summary>
    private CutSheet Filled(CutSheet sheet, double[] values, int[] left)
    {
        const int Steps = 100;
        var best = sheet;
        var most = 0.0;
        (_fillers[sheet.Stock] ??= new SheetFiller(_model, sheet.Stock, _seed + (31 * sheet.Stock))).Search(values, left, Steps, (found, value) =>
        {
            if (value > most)
            {
                (most, best) = (value, found.Clone());
            }
        }, sheet);
        Work += Steps * 12L;
        return best;
    }

    private double Cost(CutSheet sheet) => Math.Max(1, CutPlan.SheetCost(_model, sheet));

    private double Area(int[] left) => left.Select((count, item) => count * _model.Area[item]).Sum();
}
