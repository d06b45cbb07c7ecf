using System.Numerics;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Bound by area with kerf.</summary>
/// <remarks>Each piece with its kerf takes (w + k)(h + k) of a plate's (W + k)(H + k); plates are bought in fractions, the cheapest per
/// area first, limited ones up to their limit. Exact whole-number arithmetic. Valid for through-cuts and for free layouts with gap k.</remarks>
internal static class AreaBound
{
    /// <summary>Lower bound on cost; null: the plates' whole area is too small, so no plan exists.</summary>
    public static long? Cost(ThroughModel model)
    {
        BigInteger area = 0;
        BigInteger cost = 0;
        for (var i = 0; i < model.ItemCount; i++)
        {
            area += (BigInteger)model.Width[i] * model.Height[i] * model.Demand[i];
            cost += (BigInteger)LeastPieceCost(model, i) * model.Demand[i];
        }

        var order = Enumerable.Range(0, model.StockCount)
            .Select(s => (Stock: s, Area: (BigInteger)model.StockWidth[s] * model.StockHeight[s]))
            .ToList();
        order.Sort((a, b) =>
        {
            var byRate = (model.StockCost[a.Stock] * b.Area).CompareTo(model.StockCost[b.Stock] * a.Area);
            return byRate != 0 ? byRate : a.Stock.CompareTo(b.Stock);
        });
        foreach (var (stock, size) in order)
        {
            if (area <= 0)
            {
                break;
            }

            var most = model.StockLimit[stock] == int.MaxValue ? area : BigInteger.Min(area, size * model.StockLimit[stock]);
            cost += most == area
                ? BigInteger.Divide((most * model.StockCost[stock]) + size - 1, size)
                : model.StockCost[stock] * (BigInteger)model.StockLimit[stock];
            area -= most;
        }

        return area > 0 ? null : (long)cost;
    }

    /// <summary>Least that one piece costs beside its plate.</summary>
    internal static long LeastPieceCost(ThroughModel model, int item)
    {
        var least = long.MaxValue;
        for (var s = 0; s < model.StockCount; s++)
        {
            if (!model.NeverFits(s, item))
            {
                least = Math.Min(least, model.CostOf(s, item));
            }
        }

        return least == long.MaxValue ? 0 : least;
    }
}
