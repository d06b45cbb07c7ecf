namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Lower bound that buys whole plates and knows how densely each can be filled at all.</summary>
/// <remarks>
/// With v_i the area of a piece (with kerf) and U_s the most of it that any through-cut layout of plate s holds
/// (<see cref="GuillotineTable"/>: any number of copies, any depth), every plan has Σ U_s n_s ≥ Σ d_i v_i, 0 ≤ n_s ≤ limit_s; the
/// cheapest such choice of plates, plus each piece at its least piece cost, is a bound. Bounded knapsack by dynamic programming over
/// cost steps, rounded down where there would be too many. Whole numbers only. Guarantee: bound. Complexity: that of the tables.
/// </remarks>
internal static class FleetBound
{
    private const int MostSteps = 300_000;

    /// <param name="tableSteps">Steps that all tables together may take; about half a nanosecond each.</param>
    public static long Cost(ThroughModel model, CostSteps steps, double tableSteps, int threads)
    {
        // Values: areas cut down to about 40 bits for the largest plate, rounded up; any values are valid.
        var stocks = Enumerable.Range(0, model.StockCount).Where(s => model.StockLimit[s] > 0).ToArray();
        var sizes = stocks.Select(s => (Int128)model.StockWidth[s] * model.StockHeight[s]).ToArray();
        var shift = 0;
        while (sizes.Max() >> shift >= (Int128)1 << 40)
        {
            shift++;
        }

        var values = new long[model.ItemCount];
        Int128 needs = 0;
        Int128 pieces = 0;
        for (var i = 0; i < values.Length; i++)
        {
            var area = (Int128)model.Width[i] * model.Height[i];
            values[i] = (long)((area + (((Int128)1 << shift) - 1)) >> shift);
            needs += (Int128)values[i] * model.Demand[i];
            pieces += (Int128)AreaBound.LeastPieceCost(model, i) * model.Demand[i];
        }

        // How much each plate holds at most.
        var all = sizes.Aggregate(0.0, (sum, size) => sum + (double)size);
        var holds = new Int128[stocks.Length];
        Parallel.For(0, stocks.Length, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads) }, n =>
        {
            var taken = values.Select((v, i) => model.NeverFits(stocks[n], i) ? 0 : v).ToArray();
            var table = ValueTables.Within(model, stocks[n], tableSteps * (double)sizes[n] / all, false);
            holds[n] = table.Fill(taken);
        });

        // The cheapest plates that hold all.
        var prices = stocks.Select(s => model.StockCost[s]).ToArray();
        var most = needs / Int128.Max(1, holds.Max()) + 2;
        var reach = (long)Int128.Min(long.MaxValue / 4, most * Math.Max(1, prices.Max()));
        var step = Math.Max(steps.Divisor, (reach / MostSteps) + 1);
        step = (step + steps.Divisor - 1) / steps.Divisor * steps.Divisor;
        var filled = new Int128[(reach / step) + 2];
        for (var n = 0; n < stocks.Length; n++)
        {
            var cost = (int)(prices[n] / step);
            var left = (long)Int128.Min(model.StockLimit[stocks[n]], (needs / Int128.Max(1, holds[n])) + 1);
            for (long count = 1; left > 0; count *= 2)
            {
                var now = Math.Min(count, left);
                left -= now;
                var by = now * cost;
                for (var c = filled.Length - 1; c >= by; c--)
                {
                    filled[c] = Int128.Max(filled[c], filled[c - by] + (holds[n] * now));
                }
            }
        }

        var at = 0;
        while (at < filled.Length && filled[at] < needs)
        {
            at++;
        }

        return at >= filled.Length ? 0 : (long)Int128.Min((Int128)at * step + pieces, long.MaxValue / 4);
    }
}
