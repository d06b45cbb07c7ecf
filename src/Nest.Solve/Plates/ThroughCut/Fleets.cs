namespace Nest.Solve.Plates.ThroughCut;

/// <summary>How many plates of each stock, cheaper than a given cost: the largest area for every cost.</summary>
/// <remarks>
/// Problem: max Σ area_s n_s, Σ cost_s n_s ≤ c, 0 ≤ n_s ≤ limit_s, for all c below a given cost: bounded knapsack by dynamic
/// programming, limits by binary splitting. Costs are counted in whole steps, rounded up where there would be too many, so that no
/// fleet costs more than it says. Complexity O(stocks · log(limit) · steps). Areas are doubles: only a search is steered.
/// </remarks>
internal static class Fleets
{
    private const int MostSteps = 4000;

    /// <summary>The fleet with the most area for each cost below <paramref name="below"/>, without those that cost more and hold no
    /// more than another; cheapest first.</summary>
    public static List<(int[] Plates, long Cost, double Area)> Below(ThroughModel model, ReadOnlySpan<int> limits, long below, long divisor)
    {
        var step = Math.Max(divisor, (below + MostSteps - 1) / MostSteps);
        var most = (int)((below - 1) / step);
        var area = new double[most + 1];
        var parts = new List<(int Stock, int Count, int Cost, double Area)>();
        for (var s = 0; s < limits.Length; s++)
        {
            if (limits[s] <= 0 || model.StockCost[s] >= below)
            {
                continue;
            }

            var cost = Math.Max(1, (model.StockCost[s] + step - 1) / step);
            var left = (int)Math.Min(limits[s], most / cost);
            for (var count = 1; left > 0; count *= 2)
            {
                var now = Math.Min(count, left);
                parts.Add((s, now, (int)(cost * now), (double)model.StockWidth[s] * model.StockHeight[s] * now));
                left -= now;
            }
        }

        var taken = new System.Collections.BitArray[parts.Count];
        for (var p = 0; p < parts.Count; p++)
        {
            taken[p] = new(most + 1);
            for (var c = most; c >= parts[p].Cost; c--)
            {
                var with = area[c - parts[p].Cost] + parts[p].Area;
                if (with > area[c])
                {
                    area[c] = with;
                    taken[p][c] = true;
                }
            }
        }

        var fleets = new List<(int[], long, double)>();
        for (var c = 1; c <= most; c++)
        {
            if (area[c] <= area[c - 1])
            {
                continue;
            }

            var plates = new int[limits.Length];
            var at = c;
            long cost = 0;
            for (var p = parts.Count - 1; p >= 0; p--)
            {
                if (taken[p][at])
                {
                    plates[parts[p].Stock] += parts[p].Count;
                    cost += parts[p].Count * model.StockCost[parts[p].Stock];
                    at -= parts[p].Cost;
                }
            }

            fleets.Add((plates, cost, area[c]));
        }

        return fleets;
    }

    /// <summary>The plates of a choice, empty; where keep-outs allow several ways to cut round them, these take turns.</summary>
    public static IEnumerable<CutSheet> Empty(ThroughModel model, int[] plates)
    {
        for (var s = 0; s < plates.Length; s++)
        {
            for (var n = 0; n < plates[s]; n++)
            {
                yield return model.Blank[s][n % model.Blank[s].Length];
            }
        }
    }
}
