namespace Nest.Solve.Bars;

/// <summary>The best bound that whole-number duals have given, for a demand and ranges of bars that belong to the master.</summary>
/// <remarks>See <see cref="BarMaster"/>: a Lagrangian bound, or with shrunk duals Farley's (1990). Integers only.</remarks>
internal sealed class SafeBound(BarModel model, BarPricing pricing, int[] demand, int[] low, int[] high)
{
    /// <summary>Best bound so far, in whole cost units, not rounded by granularity.</summary>
    public long Value { get; private set; }

    /// <summary>The duals that give it.</summary>
    public BarDual? Best { get; private set; }

    /// <summary>The duals considered last.</summary>
    public BarDual? Last { get; private set; }

    /// <summary>Demand or ranges have changed.</summary>
    public void Clear() => (Value, Best, Last) = (0, null, null);

    /// <summary>Bound of the duals that were priced just now.</summary>
    /// <returns>Whether they, or the shrunk ones, are the best.</returns>
    public bool Consider(long[] whole, long scale)
    {
        var plain = new BarDual(model, whole, scale, pricing.Best, demand, low, high);

        // Farley: shrink the duals until no layout on a stock without a limit of its own prices out.
        long num = 1;
        long den = 1;
        bool shrink = false;
        for (int s = 0; s < model.Stocks; s++)
        {
            long over = pricing.Best[s] - (scale * model.Stock(s).Cost);
            long least = scale * model.LeastCost(s);
            if (over > 0 && model.Stock(s).Limit is null && least > 0 && high[s] > 0)
            {
                if (!shrink || (Int128)least * den < (Int128)num * (least + over))
                {
                    num = least;
                    den = least + over;
                }

                shrink = true;
            }
        }

        if (shrink)
        {
            var smaller = new long[whole.Length];
            for (int i = 0; i < whole.Length; i++)
            {
                // Towards less than nothing: no layout may gain by the rounding.
                Int128 product = (Int128)whole[i] * num;
                smaller[i] = (long)(product >= 0 ? product / den : -((-product + den - 1) / den));
            }

            var best = (long[])pricing.Best.Clone();
            for (int s = 0; s < model.Stocks; s++)
            {
                if (model.Stock(s).Limit is null && model.LeastCost(s) > 0)
                {
                    best[s] = Math.Min(best[s], scale * model.Stock(s).Cost);
                }
                else if (model.GroupOf[s] >= 0)
                {
                    // The price of kept leftovers may be below zero. Brought nearer to zero it makes layouts worth more, but never more than
                    // the empty bar.
                    best[s] = Math.Max(best[s], scale * model.LeftoverValue(s, 0));
                }
            }

            var farley = new BarDual(model, smaller, scale, best, demand, low, high);
            if (farley.Scaled > plain.Scaled)
            {
                return Keep(farley);
            }
        }

        return Keep(plain);
    }

    private bool Keep(BarDual found)
    {
        Last = found;
        if (Best is not null && found.Scaled * Best.Scale <= Best.Scaled * found.Scale)
        {
            return false;
        }

        Best = found;
        Value = Math.Max(Value, found.Bound);
        return true;
    }
}
