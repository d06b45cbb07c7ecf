namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Whole plans from the linear programme: columns are taken as often as their rounded values say, what is then missing is
/// filled sheet by sheet at the programme's own values (sequential value heuristic).</summary>
internal static class PlanRounding
{
    /// <param name="shift">Added before rounding down: 0 takes only what is surely used, more takes more.</param>
    /// <returns>Sheets; may fall short where limited plates are used up, and may hold surplus.</returns>
    public static List<CutSheet> Round(
        ThroughModel model, BoundedColumns columns, double shift, SearchBudget budget, int steps)
    {
        var left = (int[])model.Demand.Clone();
        var used = new int[model.StockCount];
        var sheets = new List<CutSheet>();
        var values = columns.Values;
        foreach (var n in Enumerable.Range(0, columns.Columns.Count).Where(n => values[n] + shift >= 1).OrderByDescending(n => values[n]).ThenBy(n => n))
        {
            var column = columns.Columns[n];
            var times = Math.Min((int)(values[n] + shift), column.Counts.Min(c => left[c.Item] / c.Count));
            Take(column.Sheet, Math.Min(times, model.StockLimit[column.Stock] - used[column.Stock]));
        }

        var worth = columns.Duals.Select((d, i) => d + (1e-6 * model.Area[i])).ToArray();
        while (left.Any(count => count > 0) && !budget.Out)
        {
            CutSheet? best = null;
            var rate = 0.0;
            for (var s = 0; s < model.StockCount; s++)
            {
                if (used[s] >= model.StockLimit[s])
                {
                    continue;
                }

                var stock = s;
                var net = worth.Select((d, i) => model.Fits[stock, i] ? Math.Max(1e-9, d - model.CostOf(stock, i)) : 0).ToArray();
                columns.Fill(s, net, left, 4, steps, budget, (sheet, value) =>
                {
                    var now = value / Math.Max(1, model.StockCost[stock]);
                    if (now > rate)
                    {
                        rate = now;
                        best = sheet.Clone();
                    }
                });
            }

            if (best is null)
            {
                break;
            }

            var counts = new int[model.ItemCount];
            best.AddCounts(counts);
            var times = Enumerable.Range(0, counts.Length).Where(i => counts[i] > 0).Min(i => left[i] / counts[i]);
            Take(best, Math.Clamp(times, 1, model.StockLimit[best.Stock] - used[best.Stock]));
        }

        return sheets;

        void Take(CutSheet sheet, int times)
        {
            for (; times > 0; times--)
            {
                sheets.Add(sheet);
                used[sheet.Stock]++;
                sheet.AddCounts(left, -1);
            }
        }
    }
}
