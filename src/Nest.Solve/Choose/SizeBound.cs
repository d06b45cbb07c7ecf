using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>The first bound of a component, there before any search: every blank pays at least its share of the cheapest stock by
/// size, and what sawing and facing it costs.</summary>
/// <remarks>
/// Values π_i = min_s (k_si + q_si + (C_s − P_s)·size_si ÷ room_s), rounded down, where a layout on stock s costs at least
/// C_s + Σ k_si a_i − v with v ≤ P_s − Σ q_si a_i (v, the value of what a bar leaves, is 0 on plates) and Σ size_si a_i ≤ room_s. So no
/// layout's blanks are worth more than it costs, and Σ d_i π_i is below every plan (the dual of the linear relaxation over sizes).
/// Where a bar left over whole would be worth more than it costs, there is no such bound. Guarantee: bound; whole numbers only.
/// Complexity O(items · stocks).
/// </remarks>
internal static class SizeBound
{
    public static Bound Of(Component component, ReadOnlySpan<int> demand)
    {
        if (Values(component) is not { } values)
        {
            return Bound.None;
        }

        Int128 sum = 0;
        for (var i = 0; i < demand.Length; i++)
        {
            sum += values[i] * demand[i];
        }

        return Bound.Of(Money.FromUnits((long)Int128.Min(sum, long.MaxValue >> 2)), Methods.Size, BoundScope.Component);
    }

    /// <summary>π of each blank, in money units, less what a piece may owe to roundings; null: there are no such values.</summary>
    /// <remarks>They hold for every demand, and for layouts with any of the blanks.</remarks>
    public static Int128[]? Values(Component component)
    {
        if (!component.LowerCosts.Valid)
        {
            return null;
        }

        var roundings = component.LowerCosts.Roundings([1]).Units;
        var values = new Int128[component.Items];
        for (var i = 0; i < values.Length; i++)
        {
            Int128? least = null;
            for (var s = 0; s < component.Stocks.Length; s++)
            {
                if (component.Fits[s, i] is null || component.Stocks[s].Stock.Available == 0)
                {
                    continue;
                }

                var (perStock, perPiece) = StockSize.LeftoverRate(component, s);
                var whole = component.LowerCosts.Stock[s] - perStock;
                if (whole < 0)
                {
                    return null;
                }

                var share = whole * StockSize.Of(component, s, i) / StockSize.Room(component, s);
                var value = component.LowerCosts.Piece[s, i] + perPiece(i) + share;
                least = least is { } before ? Int128.Min(before, value) : value;
            }

            // A blank that nothing serves is left out of every plan.
            values[i] = (least ?? 0) - roundings;
        }

        return values;
    }
}
