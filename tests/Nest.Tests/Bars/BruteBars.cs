using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Tests.Bars;

/// <summary>Small bar problems solved by plain search over every layout and every state of demand and stock: written from the remarks
/// of <see cref="BarProblem"/> alone, sharing no code with the solver.</summary>
internal static class BruteBars
{
    /// <summary>All layouts of a stock, by counting up.</summary>
    public static List<(int[] Counts, long Cost)> Layouts(BarProblem problem, int s)
    {
        var result = new List<(int[], long)>();
        BarStock stock = problem.Stocks[s];
        int n = problem.Items.Length;
        var a = new int[n];
        while (true)
        {
            int at = 0;
            while (at < n && ++a[at] > problem.Items[at].Demand)
            {
                a[at++] = 0;
            }

            if (at == n)
            {
                return result;
            }

            if (Cost(problem, stock, s, a) is { } cost)
            {
                result.Add(((int[])a.Clone(), cost));
            }
        }
    }

    /// <summary>Least cost of the whole problem, or null when it cannot be cut.</summary>
    public static long? Solve(BarProblem problem)
    {
        var layouts = Enumerable.Range(0, problem.Stocks.Length).Select(s => Layouts(problem, s)).ToArray();
        var known = new Dictionary<string, long?>();
        return Best([.. problem.Items.Select(i => i.Demand)], [.. problem.Stocks.Select(s => s.Limit ?? 1_000_000)]);

        long? Best(int[] rest, int[] bars)
        {
            int first = Array.FindIndex(rest, r => r > 0);
            if (first < 0)
            {
                return 0;
            }

            string key = string.Join(',', rest) + ";" + string.Join(',', bars);
            if (known.TryGetValue(key, out long? value))
            {
                return value;
            }

            long? best = null;
            for (int s = 0; s < layouts.Length; s++)
            {
                if (bars[s] == 0)
                {
                    continue;
                }

                foreach ((int[] counts, long cost) in layouts[s])
                {
                    // The next bar cut is one that holds the first open piece; surplus pieces are never needed.
                    if (counts[first] == 0 || counts.Where((c, i) => c > rest[i]).Any())
                    {
                        continue;
                    }

                    int[] then = [.. rest.Select((r, i) => r - counts[i])];
                    int[] left = [.. bars];
                    left[s]--;
                    if (Best(then, left) is { } more && (best is null || more + cost < best))
                    {
                        best = more + cost;
                    }
                }
            }

            return known[key] = best;
        }
    }

    public static long? Cost(BarProblem problem, BarStock stock, int s, int[] counts)
    {
        long length = 0;
        long pieces = 0;
        long extra = 0;
        bool held = stock.ShortestHeld == 0;
        for (int i = 0; i < counts.Length; i++)
        {
            if (counts[i] == 0)
            {
                continue;
            }

            long each = problem.PieceCost?[s, i] ?? 0;
            if (each == BarProblem.Forbidden)
            {
                return null;
            }

            length += counts[i] * problem.Items[i].Length;
            pieces += counts[i];
            extra += each * counts[i];
            held |= problem.Items[i].Length >= stock.ShortestHeld;
        }

        long leftover = Math.Max(0, stock.Length - length - (pieces * problem.Kerf));
        held |= leftover >= stock.ShortestHeld;
        bool fits = pieces > 0 && length + (problem.Kerf * (pieces - 1)) <= stock.Length && pieces <= (stock.MostPieces ?? int.MaxValue);
        return fits && held ? stock.Cost + extra - stock.Leftover.Of(leftover) : null;
    }
}
