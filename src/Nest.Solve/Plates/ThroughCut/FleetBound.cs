using Google.OrTools.Sat;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Lower bound that buys whole plates and knows how densely each can be filled at all.</summary>
/// <remarks>
/// With v_i the area of a piece (with kerf) and U_s the most of it that any through-cut layout of plate s holds
/// (<see cref="GuillotineTable"/>: any number of copies, any depth), n_s plates of stock s hold A_s ≤ U_s n_s of it, and Σ A_s ≥ Σ d_i v_i.
/// Where pieces cost something, piece i costs at least ρ_s v_i + μ_i on each stock s that it comes from: the plan costs at least
/// Σ C_s n_s + Σ ρ_s A_s + Σ d_i μ_i. ρ_s is the least cost of a piece by its area, μ_i the least of what is left over the stocks: exact where
/// costs grow with the area. The least over n and A is a small model over whole numbers (CP-SAT), all of it rounded down. Guarantee: bound.
/// Complexity: that of the tables.
/// </remarks>
internal static class FleetBound
{
    /// <summary>Value of all pieces in bits: with these no sum of the model overflows.</summary>
    private const int Bits = 24;

    /// <summary>Parts of a unit of cost in which ρ is rounded, in bits at most; fewer where the costs are so large that they would overflow.</summary>
    private const int RateBits = 20;

    /// <summary>No cost of the model has more bits.</summary>
    private const int CostBits = 57;

    /// <summary>What the model may take, in CP-SAT's own time: tens of plates take a hundredth of it.</summary>
    private const double ModelTime = 0.3;

    /// <param name="tableSteps">Steps that all tables together may take; about half a nanosecond each.</param>
    public static long Cost(ThroughModel model, CostSteps steps, double tableSteps, int threads, CancellationToken cancel = default)
    {
        // Values: areas in whole numbers, rounded up; any values are valid.
        var items = Enumerable.Range(0, model.ItemCount).ToArray();
        var stocks = Enumerable.Range(0, model.StockCount).Where(s => model.StockLimit[s] > 0).ToArray();
        var shift = 0;
        while (Sum(i => Area(i, shift)) >= (Int128)1 << Bits)
        {
            shift++;
        }

        long[] values = [.. items.Select(i => (long)Area(i, shift))];
        var holds = Holds(model, stocks, values, tableSteps, threads);
        var needs = (long)Sum(i => values[i]);
        var dearest = stocks.Select((s, n) => (Int128)model.StockCost[s] * Counts(model, s, holds[n], needs)).Aggregate((Int128)1, (sum, cost) => sum + cost)
            + Sum(i => stocks.Where(s => !model.NeverFits(s, i)).Select(s => model.CostOf(s, i)).DefaultIfEmpty(0).Max());
        var bits = RateBits;
        while (bits > 0 && dearest << bits >= (Int128)1 << CostBits)
        {
            bits--;
        }

        var (rates, least) = PieceCosts(model, stocks, values, bits);
        var rest = Sum(i => least[i]);
        var plates = Plates(model, stocks, holds, rates, needs, model.HasPieceCost ? (1, bits) : (steps.Divisor, 0), cancel);
        return (long)Int128.Min(plates + rest, long.MaxValue / 4);

        Int128 Area(int i, int cut) => ((Int128)model.Width[i] * model.Height[i] + (((Int128)1 << cut) - 1)) >> cut;

        Int128 Sum(Func<int, Int128> each) => items.Aggregate(Int128.Zero, (sum, i) => sum + (each(i) * model.Demand[i]));
    }

    /// <summary>Most value that each plate holds.</summary>
    private static long[] Holds(ThroughModel model, int[] stocks, long[] values, double tableSteps, int threads)
    {
        // Small plates first: they need few steps, and what they leave is for the others.
        var tables = new IValueTable[stocks.Length];
        var left = tableSteps;
        var order = Enumerable.Range(0, stocks.Length).OrderBy(n => (Int128)model.StockWidth[stocks[n]] * model.StockHeight[stocks[n]]).ToArray();
        for (var at = 0; at < order.Length; at++)
        {
            tables[order[at]] = ValueTables.Within(model, stocks[order[at]], left / (order.Length - at), false);
            left -= tables[order[at]].Steps;
        }

        var holds = new long[stocks.Length];
        Parallel.For(0, stocks.Length, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads) }, n =>
        {
            long[] taken = [.. values.Select((v, i) => model.NeverFits(stocks[n], i) ? 0 : v)];
            holds[n] = tables[n].Fill(taken);
        });
        return holds;
    }

    /// <summary>More plates of a stock than hold all are in no plan.</summary>
    private static long Counts(ThroughModel model, int stock, long holds, long needs) =>
        holds <= 0 ? 0 : Math.Min(model.StockLimit[stock], (needs + holds - 1) / holds);

    /// <summary>ρ of each stock, in so many bits of a unit of cost for a unit of value, and μ of each piece.</summary>
    private static (long[] Rates, long[] Least) PieceCosts(ThroughModel model, int[] stocks, long[] values, int bits)
    {
        var rates = new long[stocks.Length];
        var least = new long[values.Length];
        if (!model.HasPieceCost)
        {
            return (rates, least);
        }

        Array.Fill(least, long.MaxValue);
        for (var n = 0; n < stocks.Length; n++)
        {
            var fitting = Enumerable.Range(0, values.Length).Where(i => !model.NeverFits(stocks[n], i)).ToArray();
            rates[n] = fitting.Length == 0 ? 0 : fitting.Min(i => (long)(((Int128)model.CostOf(stocks[n], i) << bits) / values[i]));
            foreach (var i in fitting)
            {
                least[i] = Math.Min(least[i], model.CostOf(stocks[n], i) - (long)((((Int128)rates[n] * values[i]) + (1L << bits) - 1) >> bits));
            }
        }

        return (rates, [.. least.Select(cost => cost == long.MaxValue ? 0 : Math.Max(0, cost))]);
    }

    /// <summary>The cheapest plates that hold all, with what pieces cost by their area.</summary>
    /// <param name="unit">Costs are counted in this many units, divided into so many bits.</param>
    private static long Plates(ThroughModel model, int[] stocks, long[] holds, long[] rates, long needs, (long Divisor, int Bits) unit, CancellationToken cancel)
    {
        var cp = new CpModel();
        var cost = LinearExpr.NewBuilder();
        var held = LinearExpr.NewBuilder();
        for (var n = 0; n < stocks.Length; n++)
        {
            if (holds[n] <= 0)
            {
                continue;
            }

            var count = cp.NewIntVar(0, Counts(model, stocks[n], holds[n], needs), "");
            var area = cp.NewIntVar(0, needs, "");
            cp.Add(area <= LinearExpr.Term(count, holds[n]));
            held.Add(area);
            cost.AddTerm(count, (model.StockCost[stocks[n]] / unit.Divisor) << unit.Bits);
            cost.AddTerm(area, rates[n]);
        }

        cp.Add(held >= needs);
        cp.Minimize(cost);
        if (CpSat.Bound(cp, ModelTime, double.PositiveInfinity, cancel).Bound is not (> 0 and var raw))
        {
            return 0;
        }

        // The objective is whole; CP-SAT reports it as a double. Rounded up to a whole step of cost.
        var bound = (long)Math.Floor((raw * (1 - 1e-14)) + 1e-6);
        return checked(((bound + (1L << unit.Bits) - 1) >> unit.Bits) * unit.Divisor);
    }
}
