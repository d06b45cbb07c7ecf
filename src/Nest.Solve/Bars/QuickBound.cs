namespace Nest.Solve.Bars;

/// <summary>Bounds without a linear programme: material, and dual feasible functions for a single stock.</summary>
/// <remarks>
/// Problem: a lower bound on cost. Methods: least price per weight (less the leftover's worth, which the price per weight always
/// exceeds); for one stock of plain cost the functions u(k) and the one of Martello and Toth's L2 in the form of Fekete and Schepers
/// (2001): u_k(x) = x where (k+1)x is whole, else ⌊(k+1)x⌋/k; and pieces above a half less those below a threshold.
/// Complexity O(n·k + n²). Guarantee: lower bound in exact integers.
/// </remarks>
internal static class QuickBound
{
    public static long Of(BarModel model)
    {
        if (model.Stocks != 1 || !model.PlainCost)
        {
            return Material(model);
        }

        long capacity = model.Capacity[0];
        long bars = 1;
        for (long k = 1; k <= 100; k++)
        {
            // Σ u_k(w/C) in units of 1/(k·C).
            Int128 sum = 0;
            for (int i = 0; i < model.Types; i++)
            {
                Int128 scaled = (Int128)(k + 1) * model.Weight[i];
                Int128 value = scaled % capacity == 0 ? (Int128)k * model.Weight[i] : scaled / capacity * capacity;
                sum += value * model.Demand[i];
            }

            bars = Math.Max(bars, Ceiling(sum, (Int128)k * capacity));
        }

        foreach (long small in model.Weight.Where(w => 2 * w <= capacity).Append(0).Distinct())
        {
            // Pieces above C − small fill a bar, those below small count nothing.
            Int128 sum = 0;
            for (int i = 0; i < model.Types; i++)
            {
                long w = model.Weight[i];
                sum += (Int128)model.Demand[i] * (w > capacity - small ? capacity : w >= small ? w : 0);
            }

            bars = Math.Max(bars, Ceiling(sum, capacity));
        }

        return bars * model.Stock(0).Cost;
    }

    private static long Material(BarModel model)
    {
        // Some stock gives weight at the least price per weight; a layout costs at least Cost − rate·leftover.
        Int128 bestNum = -1;
        Int128 bestDen = 1;
        for (int s = 0; s < model.Stocks; s++)
        {
            if (model.MostBars[s] == 0 || model.Capacity[s] == 0)
            {
                continue;
            }

            Int128 num = model.LeastCost(s);
            Int128 den = model.Capacity[s];
            if (bestNum < 0 || num * bestDen < bestNum * den)
            {
                (bestNum, bestDen) = (num, den);
            }
        }

        Int128 weight = 0;
        for (int i = 0; i < model.Types; i++)
        {
            weight += (Int128)model.Demand[i] * model.Weight[i];
        }

        return bestNum <= 0 ? 0 : Ceiling(weight * bestNum, bestDen);
    }

    private static long Ceiling(Int128 a, Int128 b) => (long)((a + b - 1) / b);
}
