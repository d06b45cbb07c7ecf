namespace Nest.Solve.Bars;

/// <summary>A further row of the master over a pool: a cut that every whole-number plan satisfies, or a branching decision.</summary>
/// <remarks>
/// Half: Σ_p ⌊½ Σ_{i∈S} a_ip⌋ x_p ≤ ⌊½ Σ_{i∈S} d_i⌋, a Chvátal-Gomory cut of rank one (subset-row cut; Jepsen et al. 2008).
/// Pair: number of bars that hold both i and j (or two of i). Single: number of bars cut by one layout.
/// </remarks>
internal sealed class PoolRow
{
    private readonly int[] items;
    private readonly BarPattern? single;
    private readonly bool half;

    private PoolRow(bool half, int[] items, BarPattern? single, RowSense sense, int rhs)
    {
        this.half = half;
        this.items = items;
        this.single = single;
        Sense = sense;
        Rhs = rhs;
    }

    public RowSense Sense { get; }

    public int Rhs { get; }

    /// <summary>Items that the row is about.</summary>
    public ReadOnlySpan<int> Items => items;

    public static PoolRow Half(int[] items, BarModel model) =>
        new(true, items, null, RowSense.AtMost, items.Sum(i => model.Demand[i]) / 2);

    public static PoolRow Pair(int i, int j, RowSense sense, int rhs) => new(false, [i, j], null, sense, rhs);

    public static PoolRow Single(BarPattern pattern, RowSense sense, int rhs) => new(false, [], pattern, sense, rhs);

    public int Coefficient(BarPattern p)
    {
        if (single is not null)
        {
            return p.Equals(single) ? 1 : 0;
        }

        if (half)
        {
            int sum = 0;
            foreach (int i in items)
            {
                sum += Count(p, i);
            }

            return sum / 2;
        }

        return items[0] == items[1]
            ? Count(p, items[0]) >= 2 ? 1 : 0
            : Count(p, items[0]) > 0 && Count(p, items[1]) > 0 ? 1 : 0;
    }

    public static int Count(BarPattern p, int item)
    {
        int at = Array.BinarySearch(p.Items, item);
        return at < 0 ? 0 : p.Counts[at];
    }
}
