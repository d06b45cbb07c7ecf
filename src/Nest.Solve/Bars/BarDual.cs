namespace Nest.Solve.Bars;

/// <summary>Whole-number duals with everything that makes them a proof.</summary>
/// <remarks>
/// Given: π ≥ 0 in units of cost / S; for each group g of leftovers a price κ_g, of either sign, for each bar that leaves a kept one; for each
/// stock s a number V_s ≥ Σ π_i a_i + κ_g − S·(cost − Cost_s) for all its layouts (κ_g where the layout leaves a kept leftover of g).
/// The reduced cost of a layout is r(p) = S·cost(p) − Σ π_i a_ip − κ_g (where p leaves a kept leftover of g). It is at least
/// base_s = S·Cost_s − V_s. Every plan with exact demand costs S·cost = Σ π_i d_i + Σ_g κ_g k_g + Σ_p r(p) x_p. So it costs at least
/// Scaled := Σ π_i d_i + the least of Σ_s base_s·n_s + Σ_g κ_g·k_g over the ranges of n_s (bars of a stock) and k_g (bars with a kept leftover).
/// What a layout adds to that sum beyond the bound tells whether it can belong to a plan within a target cost (reduced-cost fixing;
/// de Lima, Iori and Miyazawa 2023 use it on arcs). All in integers.
/// </remarks>
internal sealed class BarDual
{
    private readonly BarModel model;
    private readonly Int128[] surcharge;
    private readonly Int128[] keptSurcharge;

    /// <param name="model">The problem.</param>
    /// <param name="dual">Values of the pieces, then prices of kept leftovers by group; times the scale.</param>
    /// <param name="scale">S.</param>
    /// <param name="best">V by stock.</param>
    /// <param name="demand">Pieces wanted.</param>
    /// <param name="low">Least number in each range.</param>
    /// <param name="high">Most.</param>
    public BarDual(BarModel model, long[] dual, long scale, long[] best, int[] demand, int[] low, int[] high)
    {
        this.model = model;
        Dual = dual;
        Scale = scale;
        Best = (long[])best.Clone();
        surcharge = new Int128[model.Stocks];
        keptSurcharge = new Int128[model.Groups];
        Int128 sum = 0;
        for (int i = 0; i < model.Types; i++)
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

        for (int g = 0; g < model.Groups; g++)
        {
            long price = dual[model.Types + g];
            int s = model.Stocks + g;
            sum += (Int128)price * (price >= 0 ? low[s] : high[s]);
            keptSurcharge[g] = price >= 0 && low[s] == 0 ? 0 : -(Int128)price;
        }

        Scaled = sum;
    }

    /// <summary>Values of the pieces, then prices of kept leftovers, times <see cref="Scale"/>.</summary>
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

        if (p.Group >= 0)
        {
            reduced += keptSurcharge[p.Group];
        }

        return reduced + surcharge[p.Stock];
    }

    /// <summary>Least value (as the pricing counts it) that a layout of this stock needs to belong to a plan within the target.</summary>
    /// <param name="stock">The stock.</param>
    /// <param name="group">Group of kept leftovers that the layout counts in, or -1.</param>
    /// <param name="target">Cost of the plan at most.</param>
    public Int128 LeastValue(int stock, int group, long target) =>
        ((Int128)Scale * model.Stock(stock).Cost) + surcharge[stock] + (group < 0 ? 0 : keptSurcharge[group]) - Gap(target);
}
