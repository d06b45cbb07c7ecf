using Nest.Solve.Plates.Free;

namespace Nest.Solve.Plates.Bounds;

/// <summary>Lower bounds on the cost of a plate problem that hold for every free layout, and on sound plates for through-cuts too (around damage
/// these need no gap, free layouts do).</summary>
/// <remarks>
/// Method: one kind of plate without piece costs: the strongest pair of dual feasible functions, rounded up to whole plates; else the
/// relaxation of <see cref="ScaleMaster"/>. Guarantee: bound, proven in whole numbers.
/// </remarks>
public static class PlateBounds
{
    /// <summary>Answer when no plan can exist: a piece fits nowhere, or the plates' limits are too small.</summary>
    public const long Impossible = long.MaxValue;

    /// <summary>The best bound found.</summary>
    /// <param name="stopAt">Cost of a known plan: a bound that reaches it ends the search.</param>
    public static long Best(PlateProblem problem, long? stopAt, SolveLimits limits, CancellationToken cancel = default) =>
        Best(new FreeModel(problem), stopAt, new FreeBudget(limits, cancel)).Cost;

    /// <summary>The bound, and what each piece is worth in it (steers searches only).</summary>
    internal static (long Cost, double[] Worth) Best(FreeModel model, long? stopAt, FreeBudget budget)
    {
        var area = model.Area.ToArray();
        for (var k = 0; k < model.Kinds; k++)
        {
            if (!Enumerable.Range(0, model.Stocks.Length).Any(s => model.Allowed[s, k]))
            {
                return (Impossible, area);
            }
        }

        var stocks = model.Stocks.Where(s => s.Limit > 0).ToArray();
        return stocks.Length == 1 && model.Problem.PieceCost is null
            ? (Single(model, stocks[0], budget), area)
            : ScaleMaster.Solve(model, stopAt, budget);
    }

    private static long Single(FreeModel model, FreeStock stock, FreeBudget budget)
    {
        var scales = new StockScales(model, stock.Index, Math.Clamp(20_000 / Math.Max(1, model.Kinds), 40, 400));
        budget.AddSteps(scales.Steps);
        var weights = new long[model.Kinds];
        Int128 plates = 1;
        foreach (var (_, x, y, mode) in scales.Heaviest([.. model.Demand.Select(d => (double)d)], 10).Append((0, 0, 0, scales.Modes[0])))
        {
            scales.Weights(x, y, mode, weights);
            Int128 sum = 0;
            for (var k = 0; k < weights.Length; k++)
            {
                sum += (Int128)weights[k] * model.Demand[k];
            }

            plates = Int128.Max(plates, (sum + StockScales.One - 1) / StockScales.One);
        }

        return plates > stock.Limit ? Impossible : (long)Int128.Min(plates * stock.Cost, Impossible - 1);
    }
}
