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
        // Values: areas cut down to about 40 bits for the largest plate, and 59 for all pieces, rounded up; any values are valid.
        var stocks = Enumerable.Range(0, model.StockCount).Where(s => model.StockLimit[s] > 0).ToArray();
        var sizes = stocks.Select(s => (Int128)model.StockWidth[s] * model.StockHeight[s]).ToArray();
        var pieces = Sum(i => AreaBound.LeastPieceCost(model, i));
        var shift = 0;
        while (sizes.Max() >> shift >= (Int128)1 << 40 || Sum(i => Area(i, shift)) >= (Int128)1 << 59)
        {
            shift++;
        }

        long[] values = [.. Enumerable.Range(0, model.ItemCount).Select(i => (long)Area(i, shift))];
        var needs = (long)Sum(i => values[i]);

        // How much each plate holds at most.
        var all = sizes.Aggregate(0.0, (sum, size) => sum + (double)size);
        var holds = new long[stocks.Length];
        Parallel.For(0, stocks.Length, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads) }, n =>
        {
            var taken = values.Select((v, i) => model.NeverFits(stocks[n], i) ? 0 : v).ToArray();
            var table = ValueTables.Within(model, stocks[n], tableSteps * (double)sizes[n] / all, false);
            holds[n] = table.Fill(taken);
        });

        // The cheapest plates that hold all.
        var prices = stocks.Select(s => model.StockCost[s]).ToArray();
        var most = (needs / Math.Max(1, holds.Max())) + 2;
        var reach = (long)Int128.Min(long.MaxValue / 4, (Int128)most * Math.Max(1, prices.Max()));
        var step = Math.Max(steps.Divisor, (reach / MostSteps) + 1);
        step = (step + steps.Divisor - 1) / steps.Divisor * steps.Divisor;
        var filled = new long[(reach / step) + 2];
        for (var n = 0; n < stocks.Length; n++)
        {
            var cost = prices[n] / step;
            var left = Math.Min(model.StockLimit[stocks[n]], (needs / Math.Max(1, holds[n])) + 1);
            for (long count = 1; left > 0; count *= 2)
            {
                var now = Math.Min(count, left);
                left -= now;
                if ((Int128)now * cost < filled.Length)
                {
                    Raise(filled, (int)(now * cost), (long)Int128.Min((Int128)holds[n] * now, needs), needs);
                }
            }
        }

        var at = 0;
        while (at < filled.Length && filled[at] < needs)
        {
            at++;
        }

        return at >= filled.Length ? 0 : (long)Int128.Min((Int128)at * step + pieces, long.MaxValue / 4);

        Int128 Area(int i, int cut) => ((Int128)model.Width[i] * model.Height[i] + (((Int128)1 << cut) - 1)) >> cut;

        Int128 Sum(Func<int, Int128> each) => Enumerable.Range(0, model.ItemCount).Aggregate(Int128.Zero, (sum, i) => sum + (each(i) * model.Demand[i]));
    }

    /// <summary>filled[c] = max(filled[c], filled[c − by] + more), at most the needs: more than is needed counts as enough.</summary>
    private static void Raise(long[] filled, int by, long more, long needs)
    {
        for (var c = filled.Length - 1; c >= by; c--)
        {
            filled[c] = Math.Max(filled[c], Math.Min(needs, filled[c - by] + more));
        }
    }
}
