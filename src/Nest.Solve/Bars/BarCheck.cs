using System.Collections.Immutable;

namespace Nest.Solve.Bars;

/// <summary>Recomputes a plan from the problem alone: the rules of <see cref="BarProblem"/>, counted in whole numbers.</summary>
internal static class BarCheck
{
    /// <summary>The exact cost, or null with the first broken rule named.</summary>
    public static long? Cost(BarProblem problem, ImmutableArray<BarLayout> layouts, out string fault)
    {
        fault = string.Empty;
        var made = new long[problem.Items.Length];
        var used = new long[problem.Stocks.Length];
        long cost = 0;
        foreach (BarLayout layout in layouts)
        {
            BarStock stock = problem.Stocks[layout.Stock];
            long length = 0;
            long pieces = 0;
            long longest = 0;
            long extra = 0;
            for (int i = 0; i < layout.Counts.Length; i++)
            {
                int a = layout.Counts[i];
                if (a == 0)
                {
                    continue;
                }

                long each = problem.PieceCost is { } table ? table[layout.Stock, i] : 0;
                if (each == BarProblem.Forbidden)
                {
                    fault = "a piece comes from a stock that it must not come from";
                    return null;
                }

                extra += a * each;
                length += a * problem.Items[i].Length;
                pieces += a;
                longest = Math.Max(longest, problem.Items[i].Length);
                made[i] += (long)a * layout.Count;
            }

            long leftover = Math.Max(0, stock.Length - length - (pieces * problem.Kerf));
            if (pieces == 0 || layout.Count <= 0)
            {
                fault = "an empty layout";
            }
            else if (length + (problem.Kerf * (pieces - 1)) > stock.Length)
            {
                fault = "a bar is too short for its layout";
            }
            else if (pieces > (stock.MostPieces ?? int.MaxValue))
            {
                fault = "too many pieces in a bar";
            }
            else if (stock.ShortestHeld > 0 && longest < stock.ShortestHeld && leftover < stock.ShortestHeld)
            {
                fault = "nothing long enough to hold at the last cut";
            }

            if (fault.Length > 0)
            {
                return null;
            }

            used[layout.Stock] += layout.Count;
            cost += layout.Count * (stock.Cost + extra - stock.Leftover.Of(leftover));
        }

        for (int i = 0; i < made.Length; i++)
        {
            if (made[i] < problem.Items[i].Demand)
            {
                fault = "demand not met";
                return null;
            }
        }

        for (int s = 0; s < used.Length; s++)
        {
            if (used[s] > (problem.Stocks[s].Limit ?? int.MaxValue))
            {
                fault = "more bars than there are";
                return null;
            }
        }

        return cost;
    }
}
