namespace Nest.Solve.Bars;

/// <summary>Whole-number duals with everything that makes them a proof.</summary>
/// <remarks>
/// With π ≥ 0 in units of cost / S and V_s ≥ max over layouts of s of Σ π_i a_i − S·(cost − Cost_s), the reduced cost
/// r(p) = S·cost(p) − Σ π_i a_ip is at least base_s = S·Cost_s − V_s, and every plan with exact demand satisfies
/// S·cost = Σ π_i d_i + Σ_p r(p) x_p ≥ Scaled := Σ π_i d_i + Σ_s base_s·(lo_s where base_s ≥ 0, else hi_s).
/// What a layout adds to that sum beyond the bound tells whether it can belong to a plan within a target cost (reduced-cost fixing;
/// de Lima, Iori and Miyazawa 2023 use it on arcs). All in integers.
/// </remarks>
internal sealed class BarDual
{
    private readonly BarModel model;
    private readonly Int128[] surcharge;

    public BarDual(BarModel model, long[] dual, long scale, long[] best, int[] demand, int[] low, int[] high)
    {
        this.model = model;
        Dual = dual;
        Scale = scale;
        Best = (long[])best.Clone();
        surcharge = new Int128[model.Stocks];
        Int128 sum = 0;
        for (int i = 0; i < dual.Length; i++)
        {
            sum += (Int128)dual[i] * demand[i];
        }

        for (int s = 0; s < model.Stocks; s++)
        {
            Int128 least = ((Int128)scale * model.Stock(s).Cost) - best[s];
            sum += least * (least >= 0 ? low[s] : high[s]);

            // The first bar of a stock that the bound did not count adds its whole reduced cost, others what exceeds the least.
            surcharge[s] = least >= 0 && low[s] == 0 ? 0 : -least;
        }

        Scaled = sum;
    }

    /// <summary>Values of the pieces, times <see cref="Scale"/>.</summary>
    public long[] Dual { get; }

    public long Scale { get; }

    /// <summary>Upper bounds V_s.</summary>
    public long[] Best { get; }

    /// <summary>The bound times the scale.</summary>
    public Int128 Scaled { get; }

    /// <summary>The bound in cost units, rounded up.</summary>
    public long Bound => Scaled <= 0 ? 0 : (long)((Scaled + Scale - 1) / Scale);

    /// <summary>How much a plan within the target may exceed the bound, times the scale.</summary>
    public Int128 Gap(long target) => ((Int128)target * Scale) - Scaled;

    /// <summary>What one bar of this layout adds beyond the bound at least, times the scale.</summary>
    public Int128 Excess(BarPattern p)
    {
        Int128 reduced = (Int128)Scale * p.Cost;
        for (int k = 0; k < p.Items.Length; k++)
        {
            reduced -= (Int128)p.Counts[k] * Dual[p.Items[k]];
        }

        return reduced + surcharge[p.Stock];
    }

    /// <summary>Least value (as the pricing counts it) that a layout of this stock needs to belong to a plan within the target.</summary>
    public Int128 LeastValue(int stock, long target) =>
        ((Int128)Scale * model.Stock(stock).Cost) + surcharge[stock] - Gap(target);
}
