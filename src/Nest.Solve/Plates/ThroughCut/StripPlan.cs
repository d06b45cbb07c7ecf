namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Sheets for a job of many pieces: plate after plate is filled with dense strips until few pieces are left.</summary>
/// <remarks>Method: sequential value heuristic. Large pieces are worth a little more than their area, so that the small ones, which fill
/// anything, remain for the end; each plate is the best of all stocks and both directions by value for its cost, and its gaps are filled
/// by <see cref="SheetFiller"/>. Heuristic: every sheet obeys the saw; pieces are left for the caller.</remarks>
internal sealed class StripPlan
{
    private readonly ThroughModel _model;
    private readonly (int Stock, StripPlate Plate)[] _plates;
    private readonly SheetFiller[] _fillers;

    public StripPlan(ThroughModel model, int seed)
    {
        _model = model;
        var rates = Enumerable.Range(0, model.StockCount).Where(s => model.StockLimit[s] > 0)
            .Select(s => (Stock: s, Rate: model.StockCost[s] / ((double)model.StockWidth[s] * model.StockHeight[s]))).ToArray();
        var least = rates.Length == 0 ? 0 : rates.Min(r => r.Rate);

        // A plate dearer by the area than the densest filling could make good is not tried.
        _plates = [.. rates.Where(r => r.Rate <= least * 1.02 && model.Problem.Stocks[r.Stock].KeepOuts.IsDefaultOrEmpty)
            .SelectMany(r => new[] { CutSheet.Along, CutSheet.Across }
                .Where(d => model.First < 0 || model.First == d).Select(d => (r.Stock, new StripPlate(model, r.Stock, d))))];
        _fillers = [.. Enumerable.Range(0, model.StockCount).Select(s => new SheetFiller(model, s, seed + (31 * s)))];
    }

    /// <param name="values">Value of each piece.</param>
    /// <param name="rest">Area that is left for the caller.</param>
    public List<CutSheet> Build(double[] values, double rest, SearchBudget budget, double until)
    {
        var left = (int[])_model.Demand.Clone();
        var used = new int[_model.StockCount];
        var sheets = new List<CutSheet>();
        foreach (var (_, plate) in _plates)
        {
            plate.Value(values);
        }

        while (Area(left) > rest && budget.Used < until)
        {
            CutSheet? best = null;
            var rate = 0.0;
            foreach (var (stock, plate) in _plates)
            {
                if (used[stock] >= _model.StockLimit[stock])
                {
                    continue;
                }

                var work = plate.Work;
                var filled = plate.Fill(left);
                budget.Add(plate.Work - work);
                if (filled is not { } found)
                {
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
                break;
            }

            best = Filled(best, values, left, budget);
            sheets.Add(best);
            used[best.Stock]++;
            best.AddCounts(left, -1);
        }

        return sheets;
    }

    /// <summary>The sheet with its gaps filled.</summary>
    private CutSheet Filled(CutSheet sheet, double[] values, int[] left, SearchBudget budget)
    {
        const int Steps = 100;
        var best = sheet;
        var most = 0.0;
        _fillers[sheet.Stock].Search(values, left, Steps, (found, value) =>
        {
            if (value > most)
            {
                (most, best) = (value, found.Clone());
            }
        }, sheet);
        budget.Add(Steps * 12L);
        return best;
    }

    private double Cost(CutSheet sheet) => Math.Max(1, CutPlan.SheetCost(_model, sheet));

    private double Area(int[] left) => left.Select((count, item) => count * _model.Area[item]).Sum();
}
