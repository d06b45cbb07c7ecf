namespace Nest.Solve.Bars;

/// <summary>How finely duals are rounded to whole numbers.</summary>
internal static class DualScale
{
    /// <summary>A power of two such that all sums stay far from overflow: coarse ones allow the narrow table.</summary>
    public static long Of(BarModel model, double[] dual, int[] demand, bool fine)
    {
        double largest = 1;
        for (int g = model.Types; g < dual.Length; g++)
        {
            largest = Math.Max(largest, Math.Abs(dual[g]));
        }

        for (int s = 0; s < model.Stocks; s++)
        {
            double density = 0;
            for (int i = 0; i < model.Types; i++)
            {
                density = Math.Max(density, demand[i] > 0 ? dual[i] / model.Weight[i] : 0);
                largest = Math.Max(largest, dual[i]);
            }

            largest = Math.Max(largest, Math.Max(density * model.Capacity[s] * 1.02, model.Stock(s).Cost));
        }

        double room = (fine ? Math.Pow(2, 50) : Math.Pow(2, 28.9)) / largest;
        if (!fine && room < 1 << 8)
        {
            room = Math.Pow(2, 50) / largest;
        }

        return 1L << Math.Max(0, (int)Math.Floor(Math.Log2(Math.Max(1, room))));
    }
}
