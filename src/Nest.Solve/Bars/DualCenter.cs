namespace Nest.Solve.Bars;

/// <summary>The duals that smoothing holds on to: the best so far, and the questions it asks of them.</summary>
internal sealed class DualCenter(BarModel model, int[] demand, int[] high)
{
    /// <summary>Null: none yet.</summary>
    public double[]? At { get; private set; }

    public void Clear() => At = null;

    /// <summary>The best duals so far, or the first ones.</summary>
    public void Move(double[] dual, bool best)
    {
        if (best || At is null)
        {
            At = (double[])dual.Clone();
        }
    }

    /// <summary>Before any duals are known: the least price per weight, a dual solution that is always valid.</summary>
    public void Start()
    {
        if (At is not null)
        {
            return;
        }

        double rate = double.PositiveInfinity;
        for (int s = 0; s < model.Stocks; s++)
        {
            if (high[s] > 0 && model.Capacity[s] > 0)
            {
                rate = Math.Min(rate, (double)model.LeastCost(s) / model.Capacity[s]);
            }
        }

        At = [.. model.Weight.Select(w => double.IsInfinity(rate) ? 0 : w * rate), .. new double[model.Groups]];
    }

    /// <summary>Whether the bound still grows in the direction of the real duals: then smoothing was too strong.</summary>
    /// <param name="objective">Value of the linear programme.</param>
    public bool Uphill(List<(BarPattern Pattern, long Value)> found, double[] dual, double objective)
    {
        if (found.Count == 0 || At is null)
        {
            return true;
        }

        BarPattern best = found[0].Pattern;
        double bars = best.Cost > 0 ? objective / best.Cost : 0;
        double slope = 0;
        for (int i = 0; i < model.Types; i++)
        {
            slope += demand[i] * (dual[i] - At[i]);
        }

        for (int k = 0; k < best.Items.Length; k++)
        {
            int i = best.Items[k];
            slope -= bars * best.Counts[k] * (dual[i] - At[i]);
        }

        return slope > 0;
    }
}
