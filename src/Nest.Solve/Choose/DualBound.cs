using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A lower bound on a component's cost from values of its blanks, in whole numbers only.</summary>
/// <remarks>
/// Problem: min Σ c_p x_p, Σ a_ip x_p ≥ d_i, Σ_{p on s} x_p ≤ L_s, where c_p ≥ C_s + Σ a_ip·k_si − v_p and v_p is the value of a
/// bar's leftover (0 on plates).
/// Method: with Z_s ≥ max_p Σ (π_i − k_si) a_ip + v_p proven by pricing, θ·Σ d_i π_i − Σ_s L_s·max(0, θZ_s + (1−θ)V_s − C_s) is a
/// bound for every 0 ≤ θ ≤ 1 for which unlimited stocks have θZ_s + (1−θ)V_s ≤ C_s (V_s: value of the whole bar as leftover; for
/// k ≥ 0 the best value at θπ is at most that mixture). Farley (1990), with the Lagrangian share of limited stocks.
/// Guarantee: bound; no floating point. Complexity O(items + stocks).
/// </remarks>
internal static class DualBound
{
    private const long Steps = 1 << 30;

    /// <returns>The bound, and per stock what a plan that uses it costs beyond the bound at least (rounded down; for dropping stocks).</returns>
    /// <param name="values">π in money units × <see cref="IStockPricer.Scale"/>.</param>
    /// <param name="best">Z_s in the same unit, per stock.</param>
    public static (Bound Bound, long[] Reserve) Of(Component component, ReadOnlySpan<long> values, ReadOnlySpan<int> demand, ReadOnlySpan<long> best)
    {
        Int128 worth = 0;
        for (var i = 0; i < values.Length; i++)
        {
            worth += (Int128)values[i] * demand[i];
        }

        // θ as a whole number of 2^-30.
        Int128 theta = Steps;
        for (var s = 0; s < component.Stocks.Length; s++)
        {
            if (component.Stocks[s].Stock.Available is not null)
            {
                continue;
            }

            var room = Cost(component, s) - Leftover(component, s);
            var need = best[s] - Leftover(component, s);
            if (need > room)
            {
                theta = Int128.Min(theta, room <= 0 ? 0 : room * Steps / need);
            }
        }

        var bound = theta * worth;
        for (var s = 0; s < component.Stocks.Length; s++)
        {
            if (component.Stocks[s].Stock.Available is not { } available)
            {
                continue;
            }

            var over = (theta * best[s]) + ((Steps - theta) * Leftover(component, s)) - (Steps * Cost(component, s));
            if (over > 0)
            {
                bound -= over * available;
            }
        }

        var unit = (Int128)Steps * IStockPricer.Scale;
        var reserve = new long[component.Stocks.Length];
        for (var s = 0; s < reserve.Length; s++)
        {
            var room = (Steps * Cost(component, s)) - (theta * best[s]) - ((Steps - theta) * Leftover(component, s));
            reserve[s] = room <= 0 || bound <= 0 ? 0 : (long)(room / unit);
        }

        // Whole costs: rounded up, also below zero.
        var whole = bound <= 0 ? bound / unit : (bound + unit - 1) / unit;
        return (whole < long.MinValue >> 2 ? Bound.None : Bound.Of(Money.FromUnits((long)whole), Methods.ColumnGeneration, BoundScope.Component)
            .Less(component.LowerCosts.Roundings(demand)), reserve);
    }

    private static Int128 Cost(Component component, int s) => (Int128)component.LowerCosts.Stock[s] * IStockPricer.Scale;

    private static Int128 Leftover(Component component, int s) => component.Stocks[s].IsBar
        ? (Int128)component.Stocks[s].Worth.Keep.Units * IStockPricer.Scale
        : 0;
}
