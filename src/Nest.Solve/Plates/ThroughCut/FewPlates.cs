namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Choices of few plates that may hold all pieces of a model: to begin a search from, as steps from plate to plate rarely lead from one choice to another.</summary>
/// <remarks>All choices of up to <see cref="Ruin.FewSheets"/> plates whose area the pieces fill to no more than <see cref="Fullest"/>, but for those from which a plate could well be spared; the cheapest first, by price less what their
/// rests may be worth. O(stocks ^ plates) for the cheapest stocks only. Heuristic.</remarks>
internal static class FewPlates
{
    /// <summary>Share of the plates that pieces may fill.</summary>
    private const double Fullest = 0.97;

    /// <summary>Share of all plates but one that they fill at least: else that one could well be spared.</summary>
    private const double Emptiest = 0.8;

    /// <summary>Of what a rest would be worth in one piece.</summary>
    private const double RestShare = 0.8;

    /// <summary>Stocks from which choices are made, the cheapest by their area.</summary>
    private const int MostStocks = 12;

    /// <param name="most">Choices that are wanted.</param>
    /// <returns>By stock.</returns>
    public static List<int[]> Of(ThroughModel model, SheetCosts costs, int most)
    {
        var found = new List<(int[] Plates, double Cost)>();
        var pieces = Enumerable.Range(0, model.ItemCount).Sum(i => model.Demand[i] * model.Area[i]);
        int[] stocks = [.. Enumerable.Range(0, model.StockCount).Where(s => model.StockLimit[s] > 0).OrderBy(s => costs.PlateCost(s) / Area(s)).Take(MostStocks)];
        Add(0, new int[model.StockCount], 0);
        return [.. found.OrderBy(choice => choice.Cost).Select(choice => choice.Plates).Take(most)];

        void Add(int at, int[] plates, double area)
        {
            if (pieces <= Fullest * area)
            {
                if (Array.TrueForAll(stocks, s => plates[s] == 0 || pieces > Emptiest * (area - Area(s))) && Holds(plates))
                {
                    found.Add(([.. plates], Estimate(plates, area)));
                }

                return;
            }

            for (var n = at; n < stocks.Length && plates.Sum() < Ruin.FewSheets; n++)
            {
                if (plates[stocks[n]] < model.StockLimit[stocks[n]])
                {
                    plates[stocks[n]]++;
                    Add(n, plates, area + Area(stocks[n]));
                    plates[stocks[n]]--;
                }
            }
        }

        bool Holds(int[] plates) => Enumerable.Range(0, model.ItemCount).All(i => Array.Exists(stocks, s => plates[s] > 0 && model.Fits[s, i]));

        double Estimate(int[] plates, double area)
        {
            var (cost, keep) = (0.0, 0.0);
            foreach (var s in stocks)
            {
                cost += plates[s] * costs.PlateCost(s);
                keep = Math.Max(keep, plates[s] == 0 ? 0 : costs.KeepWorth(s));
            }

            for (var i = 0; i < model.ItemCount; i++)
            {
                cost += model.Demand[i] * stocks.Where(s => plates[s] > 0 && model.Fits[s, i]).Min(s => costs.PieceCost(s, i));
            }

            return cost - (RestShare * keep * (area - pieces));
        }

        double Area(int s) => (double)model.StockWidth[s] * model.StockHeight[s];
    }
}
