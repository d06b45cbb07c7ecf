using Nest.Solve.Plates.Free;

namespace Nest.Solve.Plates.Bounds;

/// <summary>Cuts on the numbers of plates from dual feasible functions.</summary>
/// <remarks>
/// Method: with one kind of plate every pair of functions is tried and the strongest kept. With several, a piece's weight is the least
/// over the plates that take it of (plate's share κ_s) × (weight on that plate); pairs are improved plate by plate (coordinate ascent),
/// for shares by area and by cost and for every set of the larger plates (pieces that fit nowhere else). Guarantee: valid cuts.
/// </remarks>
internal static class ScaleCuts
{
    public static List<PlateCut> For(FreeModel model, FreeBudget budget)
    {
        var stocks = Enumerable.Range(0, model.Stocks.Length).Where(s => model.Stocks[s].Limit > 0).ToArray();
        var most = stocks.Length == 1 ? Math.Clamp(6000 / Math.Max(1, model.Kinds), 40, 400) : Math.Clamp(120 / stocks.Length, 16, 60);
        var scales = stocks.ToDictionary(s => s, s => new StockScales(model, s, most));
        var cuts = new List<PlateCut>();
        foreach (var shares in Shares(model, stocks))
        {
            cuts.Add(Area(model, stocks, scales, shares));
            if (!budget.Out)
            {
                cuts.Add(Ascend(model, stocks, scales, shares, budget));
            }
        }

        return cuts;
    }

    /// <summary>κ: by area, by cost, and by area with only the larger plates counting.</summary>
    private static IEnumerable<double[]> Shares(FreeModel model, int[] stocks)
    {
        var n = model.Stocks.Length;
        var most = stocks.Max(s => (double)model.Stocks[s].Area);
        var byArea = new double[n];
        foreach (var s in stocks)
        {
            byArea[s] = Math.Max(1e-6, (double)model.Stocks[s].Area / most);
        }

        yield return byArea;
        if (stocks.Length == 1)
        {
            yield break;
        }

        var dearest = stocks.Max(s => (double)model.Stocks[s].Cost);
        if (dearest > 0)
        {
            var byCost = new double[n];
            foreach (var s in stocks)
            {
                byCost[s] = model.Stocks[s].Cost / dearest;
            }

            yield return byCost;
        }

        foreach (var area in stocks.Select(s => byArea[s]).Distinct().Order().Take(12))
        {
            var part = new double[n];
            var any = false;
            foreach (var s in stocks.Where(s => byArea[s] > area))
            {
                part[s] = byArea[s];
                any = true;
            }

            if (any)
            {
                yield return part;
            }
        }
    }

    private static PlateCut Area(FreeModel model, int[] stocks, Dictionary<int, StockScales> scales, double[] shares)
    {
        var weights = stocks.Select(s => Scaled(model, s, scales[s], shares[s], 0, 0, scales[s].Modes[0])).ToArray();
        return Cut(model, stocks, shares, weights);
    }

    private static PlateCut Ascend(
        FreeModel model, int[] stocks, Dictionary<int, StockScales> scales, double[] shares, FreeBudget budget)
    {
        var weights = stocks.Select(s => Scaled(model, s, scales[s], shares[s], 0, 0, scales[s].Modes[0])).ToArray();
        var best = Cut(model, stocks, shares, weights);
        for (var round = 0; round < (stocks.Length == 1 ? 1 : 3); round++)
        {
            var before = best.Needs;
            for (var i = 0; i < stocks.Length && !budget.Out; i++)
            {
                var s = stocks[i];
                if (shares[s] == 0)
                {
                    continue;
                }

                var kept = weights[i];
                for (var x = 0; x < scales[s].Functions && !budget.Out; x++)
                {
                    for (var y = 0; y < scales[s].FunctionsY; y++)
                    {
                        foreach (var mode in scales[s].Modes)
                        {
                            weights[i] = Scaled(model, s, scales[s], shares[s], x, y, mode);
                            var cut = Cut(model, stocks, shares, weights);
                            if (cut.Needs > best.Needs)
                            {
                                (best, kept) = (cut, weights[i]);
                            }
                        }
                    }

                    budget.AddSteps(100L * model.Kinds * scales[s].FunctionsY);
                }

                weights[i] = kept;
            }

            if (best.Needs == before)
            {
                break;
            }
        }

        return best;
    }

    private static long[] Scaled(FreeModel model, int stock, StockScales scales, double share, int x, int y, int mode)
    {
        var weights = new long[model.Kinds];
        scales.Weights(x, y, mode, weights);
        var holds = Holds(share);
        for (var k = 0; k < weights.Length; k++)
        {
            weights[k] = model.Allowed[stock, k] ? (long)((Int128)weights[k] * holds / StockScales.One) : long.MaxValue;
        }

        return weights;
    }

    private static long Holds(double share) => (long)(share * StockScales.One);

    private static PlateCut Cut(FreeModel model, int[] stocks, double[] shares, long[][] weights)
    {
        Int128 needs = 0;
        for (var k = 0; k < model.Kinds; k++)
        {
            var least = long.MaxValue;
            for (var i = 0; i < stocks.Length; i++)
            {
                least = Math.Min(least, weights[i][k]);
            }

            needs += (Int128)least * model.Demand[k];
        }

        return new PlateCut([.. shares.Select(Holds)], needs);
    }
}
