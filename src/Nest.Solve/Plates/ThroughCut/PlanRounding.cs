namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Whole plans from the linear programme: columns are taken as often as their rounded values say, what is then missing is
/// filled sheet by sheet at the programme's own values (sequential value heuristic).</summary>
internal static class PlanRounding
{
    /// <param name="shift">Added before rounding down: 0 takes only what is surely used, more takes more.</param>
    /// <returns>Sheets; may fall short where limited plates or the share of the limits are used up, and may hold surplus.</returns>
    public static List<CutSheet> Round(
        ThroughModel model, BoundedColumns columns, double shift, SearchBudget budget, double until, int steps)
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

        // Only plates that the programme uses are tried, others where those are used up.
        var wanted = new bool[model.StockCount];
        for (var n = 0; n < columns.Columns.Count; n++)
        {
            wanted[columns.Columns[n].Stock] |= values[n] > 1e-6;
        }

        var worth = columns.Duals.Select((d, i) => d + (1e-6 * model.Area[i])).ToArray();
        while (left.Any(count => count > 0) && budget.Used < until && !budget.Out)
        {
            var others = !Enumerable.Range(0, model.StockCount).Any(s => wanted[s] && used[s] < model.StockLimit[s]);
            CutSheet? best = null;
            var rate = 0.0;
            for (var s = 0; s < model.StockCount; s++)
            {
                if (used[s] >= model.StockLimit[s] || (!wanted[s] && !others))
                {
                    continue;
                }

                var stock = s;
                var net = worth.Select((d, i) => model.Fits[stock, i] ? Math.Max(1e-9, d - model.CostOf(stock, i)) : 0).ToArray();
                columns.Fill(s, net, left, 3, steps, budget, (sheet, value) =>
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
                if (others)
                {
                    break;
                }

                Array.Clear(wanted); // what is left fits none of these
                continue;
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
