namespace Nest.Solve.Bars;

/// <summary>First plans at once: bar by bar, each the best bar for its price by one rule of filling.</summary>
/// <remarks>
/// Problem: the whole bar problem. Methods: longest piece that fits (first-fit decreasing seen bar by bar), and sequential value
/// correction: knapsack fill with values that rise for pieces that ended in poor bars (Mukhacheva and others 2000; Belov and Scheithauer
/// 2007). Complexity: one fill per bar. Guarantee: none (heuristic); may find nothing when stock is limited.
/// </remarks>
internal sealed class BarGreedy(BarModel model, BarPricing pricing, WorkMeter meter)
{
    /// <summary>Longest piece first.</summary>
    public BarPlan? Longest() => Build(static (g, rest, bars) => g.FillLongest(rest, bars), stoppable: false);

    /// <summary>Sequential value correction for some rounds; each better plan is handed over.</summary>
    public void ValueCorrection(int rounds, int seed, Action<BarPlan> found)
    {
        var random = new Random(seed);
        double[] worth = [.. model.Weight.Select(w => Math.Pow(w, 1.02))];
        double top = Enumerable.Range(0, model.Stocks).Max(s => (double)model.Capacity[s]);
        for (int round = 0; round < rounds && !meter.Stop; round++)
        {
            double[] present = worth;
            BarPlan? plan = Build((g, rest, bars) =>
            {
                BarPattern? p = g.FillKnapsack(rest, bars, present, top);
                if (p is not null)
                {
                    double ratio = (double)model.Capacity[p.Stock] / p.Used;
                    double w = 1.0 / (1 + random.NextDouble() + (p.Pieces * 0.1));
                    for (int k = 0; k < p.Items.Length; k++)
                    {
                        int i = p.Items[k];
                        double target = Math.Pow(model.Weight[i], 1.02) * ratio;
                        present[i] = ((1 - w) * present[i]) + (w * target * (0.98 + (0.04 * random.NextDouble())));
                    }
                }

                return p;
            }, stoppable: true);
            if (plan is not null)
            {
                found(plan);
            }
        }
    }

    private BarPlan? Build(Func<BarGreedy, int[], int[], BarPattern?> fill, bool stoppable)
    {
        int[] rest = [.. model.Demand];
        int[] bars = [.. model.MostBars];
        int left = model.Pieces;
        var plan = new List<(BarPattern, int)>();
        while (left > 0)
        {
            if (stoppable && meter.Stop)
            {
                return null;
            }

            if (fill(this, rest, bars) is not { } p)
            {
                return null;
            }

            int times = bars[p.Stock];
            for (int k = 0; k < p.Items.Length; k++)
            {
                times = Math.Min(times, rest[p.Items[k]] / p.Counts[k]);
            }

            bars[p.Stock] -= times;
            left -= times * p.Pieces;
            for (int k = 0; k < p.Items.Length; k++)
            {
                rest[p.Items[k]] -= times * p.Counts[k];
            }

            plan.Add((p, times));
        }

        return BarPlan.Exact(model, plan);
    }

    private BarPattern? FillLongest(int[] rest, int[] bars)
    {
        BarPattern? best = null;
        double least = double.PositiveInfinity;
        for (int s = 0; s < model.Stocks; s++)
        {
            if (bars[s] <= 0)
            {
                continue;
            }

            BarPattern? p = FillOne(s, rest, model.Capacity[s]);
            if (p is null && model.Stock(s).ShortestHeld > 0)
            {
                long held = model.Stock(s).Length - model.Stock(s).ShortestHeld;
                p = held > 0 ? FillOne(s, rest, Math.Min(model.Capacity[s], held / model.Unit)) : null;
            }

            if (p is not null)
            {
                double ratio = (p.Cost + 1e-9) / p.Used;
                if (ratio < least || (ratio == least && p.Used > best!.Used))
                {
                    (least, best) = (ratio, p);
                }
            }
        }

        meter.Steps(model.Types * 4L * model.Stocks);
        return best;
    }

    private BarPattern? FillOne(int s, int[] rest, long room)
    {
        var counts = new int[model.Types];
        int pieces = model.MostPieces[s];
        for (int i = 0; i < model.Types && pieces > 0; i++)
        {
            if (rest[i] > 0 && model.MostCopies[s][i] > 0 && model.Weight[i] <= room)
            {
                int n = (int)Math.Min(Math.Min(rest[i], pieces), room / model.Weight[i]);
                counts[i] = n;
                pieces -= n;
                room -= n * model.Weight[i];
            }
        }

        return BarPattern.Make(model, s, counts);
    }

    private BarPattern? FillKnapsack(int[] rest, int[] bars, double[] worth, double top)
    {
        var dual = new long[model.Types];
        double most = 0;
        for (int i = 0; i < model.Types; i++)
        {
            most = Math.Max(most, worth[i] / model.Weight[i]);
        }

        // Values far above any price: the fill decides, not the cost of the bar.
        double factor = Math.Pow(2, 28) / (most * top);
        for (int i = 0; i < model.Types; i++)
        {
            dual[i] = Math.Max(1, (long)(worth[i] * factor));
        }

        var found = new List<(BarPattern Pattern, long Value)>();
        if (model.Problem.PieceCost is not null)
        {
            // Only what is forbidden matters here: model.PieceCost enters with scale 0 except where forbidden.
            for (int i = 0; i < model.Types; i++)
            {
                dual[i] = rest[i] > 0 ? dual[i] : 0;
            }
        }

        pricing.Price(dual, 0, rest, 1, s => bars[s] > 0, found, meter);
        BarPattern? best = null;
        double least = double.PositiveInfinity;
        foreach ((BarPattern p, long value) in found)
        {
            double ratio = (p.Cost + 1e-9) / Math.Max(1, value);
            if (ratio < least)
            {
                (least, best) = (ratio, p);
            }
        }

        return best;
    }
}
