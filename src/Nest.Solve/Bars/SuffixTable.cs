namespace Nest.Solve.Bars;

/// <summary>Upper bounds on what items i, i+1, … can still add within a remaining capacity: the completion bound of the searches that
/// list layouts one by one.</summary>
/// <remarks>
/// Bounded knapsack by layers from the last item to the first. When the capacity is too large for a table, weights are rounded down
/// to a coarser grid: Σ⌊w/q⌋ ≤ ⌊c/q⌋ follows from Σ w ≤ c, so the table stays an upper bound. Complexity O(n·C/q) by a sliding
/// window maximum per residue class, or binary splitting.
/// </remarks>
internal sealed class SuffixTable
{
    private readonly long[][] layer;
    private readonly long grid;

    /// <summary>Values at or below zero add nothing.</summary>
    /// <param name="order">Items in the order in which the search decides them.</param>
    /// <param name="weight">Weights by item.</param>
    /// <param name="copies">Most copies by item.</param>
    /// <param name="value">Values by item.</param>
    /// <param name="capacity">Largest capacity asked for.</param>
    /// <param name="cells">Most cells in all.</param>
    public SuffixTable(int[] order, long[] weight, int[] copies, long[] value, long capacity, long cells)
    {
        grid = Math.Max(1, (capacity / Math.Max(1, cells / (order.Length + 1))) + 1);
        if (capacity < cells / (order.Length + 1))
        {
            grid = 1;
        }

        int top = (int)(capacity / grid);
        layer = new long[order.Length + 1][];
        layer[order.Length] = new long[top + 1];
        for (int k = order.Length - 1; k >= 0; k--)
        {
            int i = order[k];
            long[] below = layer[k + 1];
            if (copies[i] <= 0 || value[i] <= 0 || weight[i] > capacity)
            {
                layer[k] = below;
                continue;
            }

            var now = (long[])below.Clone();
            layer[k] = now;
            int w = (int)(weight[i] / grid);
            long v = value[i];
            long most = Math.Min(copies[i], capacity / weight[i]);
            if (w == 0)
            {
                for (int c = 0; c <= top; c++)
                {
                    now[c] = below[c] + (v * most);
                }
            }
            else if (most >= top / w)
            {
                for (int c = w; c <= top; c++)
                {
                    now[c] = Math.Max(now[c], now[c - w] + v);
                }
            }
            else
            {
                long left = most;
                for (long take = 1; left > 0; take *= 2)
                {
                    long n = Math.Min(take, left);
                    left -= n;
                    long shift = n * w;
                    long gain = n * v;
                    for (long c = top; c >= shift; c--)
                    {
                        long candidate = now[c - shift] + gain;
                        if (candidate > now[c])
                        {
                            now[c] = candidate;
                        }
                    }
                }
            }
        }

        Steps = (long)(order.Length + 1) * (top + 1);
    }

    public long Steps { get; }

    /// <summary>Most that the items from position k of the order on can add within the capacity.</summary>
    public long At(int k, long capacity) => layer[k][capacity / grid];
}
