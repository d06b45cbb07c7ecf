namespace Nest.Solve.Bars;

/// <summary>Stocks for which one table serves: they differ only in length, price and leftover value.</summary>
/// <param name="Order">Types of pieces that may be cut from them, those below the shortest that the vise holds first.</param>
/// <param name="IsLong">Of each type: whether the vise holds it.</param>
/// <param name="NeedLong">Whether a layout needs a piece that the vise holds, or a leftover.</param>
internal sealed record PricingGroup(List<int> Stocks, int[] Order, bool[] IsLong, bool NeedLong)
{
    /// <summary>Where all values are small.</summary>
    public KnapsackTable<int> Narrow { get; } = new();

    public KnapsackTable<long> Wide { get; } = new();

    public static IReadOnlyList<PricingGroup> Of(BarModel model)
    {
        var groups = new List<PricingGroup>();
        for (int s = 0; s < model.Stocks; s++)
        {
            Place(model, groups, s);
        }

        return groups;
    }

    private static void Place(BarModel model, List<PricingGroup> groups, int s)
    {
        BarStock stock = model.Stock(s);
        foreach (PricingGroup g in groups)
        {
            int other = g.Stocks[0];
            if (model.Stock(other).ShortestHeld != stock.ShortestHeld || model.MostPieces[s] != model.MostPieces[other])
            {
                continue;
            }

            bool same = true;
            for (int i = 0; i < model.Types && same; i++)
            {
                same = model.PieceCost(s, i) == model.PieceCost(other, i) || model.Weight[i] > model.Capacity[s];
            }

            if (same)
            {
                g.Stocks.Add(s);
                return;
            }
        }

        bool needLong = stock.ShortestHeld > 0 && model.Length.Any(l => l < stock.ShortestHeld);
        bool[] isLong = [.. model.Length.Select(l => l >= stock.ShortestHeld)];
        int[] order = [.. Enumerable.Range(0, model.Types).Where(i => model.PieceCost(s, i) != BarProblem.Forbidden).OrderBy(i => isLong[i])];
        groups.Add(new PricingGroup([s], order, isLong, needLong));
    }
}
