using Nest.Solve.Plates.Free;

namespace Nest.Solve.Plates.Bounds;

/// <summary>Bounds from values of pieces and multipliers of weights, in whole numbers whatever the floating-point duals were.</summary>
/// <remarks>
/// For weights u_j of a plate (at most 1 in all) and any multipliers λ_j ≥ 0 no layout is worth more than
/// Σ_j λ_j + Σ_i b_i·max(0, v_i − Σ_j λ_j u_ji), b_i copies at most. With these values Z_s of the plates, scaling all values by θ so
/// that no unlimited plate is worth more than it costs gives a bound on the plan's cost (Farley 1990), less the limited plates' excess.
/// Guarantee: bound, exact arithmetic. Complexity O(pairs · kinds).
/// </remarks>
internal static class WorthBound
{
    private const long Unit = 1 << 16;

    /// <summary>Most that a layout can be worth, in the values' own unit.</summary>
    public static Int128 Layout(ReadOnlySpan<long> values, ReadOnlySpan<int> copies, List<long[]> weights, ReadOnlySpan<long> multipliers)
    {
        Int128 sum = 0;
        for (var j = 0; j < multipliers.Length; j++)
        {
            sum += multipliers[j];
        }

        for (var i = 0; i < values.Length; i++)
        {
            Int128 covered = 0;
            for (var j = 0; j < multipliers.Length; j++)
            {
                covered += (Int128)multipliers[j] * weights[j][i];
            }

            sum += Int128.Max(0, values[i] - (covered / StockScales.One)) * copies[i];
        }

        return sum;
    }

    /// <summary>The cut on numbers of plates from values of the pieces alone.</summary>
    public static PlateCut? Cut(FreeModel model, double[] duals, List<long[]>[] weights, double[][] multipliers)
    {
        if (Values(duals) is not { } values)
        {
            return null;
        }

        var holds = new Int128[model.Stocks.Length];
        for (var s = 0; s < holds.Length; s++)
        {
            var taken = values.Select((v, k) => model.Allowed[s, k] ? v : 0).ToArray();
            holds[s] = Layout(taken, model.Demand, weights[s], Whole(multipliers[s]));
        }

        return new PlateCut(holds, Sum(model, values));
    }

    /// <summary>The cut by area.</summary>
    public static PlateCut Area(FreeModel model)
    {
        Int128 needs = 0;
        for (var k = 0; k < model.Kinds; k++)
        {
            needs += (Int128)model.SizeX[k] * model.SizeY[k] * model.Demand[k];
        }

        return new PlateCut([.. model.Stocks.Select(s => s.Area)], needs);
    }

    private static long[]? Values(double[] duals) => duals.Any(d => !double.IsFinite(d) || d > 1e12)
        ? null
        : [.. duals.Select(d => (long)Math.Floor(Math.Max(0, d) * Unit))];

    private static long[] Whole(double[] multipliers) => [.. multipliers.Select(m => (long)Math.Ceiling(Math.Min(m, 1e12) * Unit))];

    private static Int128 Sum(FreeModel model, long[] values)
    {
        Int128 sum = 0;
        for (var k = 0; k < values.Length; k++)
        {
            sum += (Int128)values[k] * model.Demand[k];
        }

        return sum;
    }

    /// <summary>Bound on the cost of any plan.</summary>
    public static long Of(FreeModel model, double[] duals, List<long[]>[] weights, double[][] multipliers)
    {
        if (Values(duals) is not { } values)
        {
            return 0;
        }

        var theta = (Int128)1 << 30;
        var best = new Int128[model.Stocks.Length];
        for (var s = 0; s < best.Length; s++)
        {
            var net = values.Select((v, k) => model.Allowed[s, k]
                ? (long)Int128.Max(0, v - ((Int128)model.PieceCost(s, k) * Unit)) : 0).ToArray();
            best[s] = Layout(net, model.Demand, weights[s], Whole(multipliers[s]));
            var cost = (Int128)model.Stocks[s].Cost * Unit;
            if (model.Stocks[s].Limit == int.MaxValue && best[s] > cost)
            {
                theta = Int128.Min(theta, (cost << 30) / best[s]);
            }
        }

        var bound = theta * Sum(model, values);
        for (var s = 0; s < best.Length; s++)
        {
            var over = (theta * best[s]) - (((Int128)model.Stocks[s].Cost * Unit) << 30);
            if (model.Stocks[s].Limit < int.MaxValue && over > 0)
            {
                bound -= over * model.Stocks[s].Limit;
            }
        }

        var unit = (Int128)Unit << 30;
        return bound <= 0 ? 0 : (long)((bound + unit - 1) / unit);
    }
}
