using System.Numerics;

namespace Nest.Solve.Bars;

/// <summary>Reads the layouts of a stock from the table of its group.</summary>
internal sealed class TableReader
{
    /// <summary>Longest bar, in units, for which tables are made.</summary>
    public const long MostCapacity = 4_000_000;

    private readonly BarModel model;
    private readonly long[]?[] leftover;
    private readonly (long Scale, long[]? Worth)[] scaled;
    private readonly int[] counts;

    public TableReader(BarModel model)
    {
        this.model = model;
        counts = new int[model.Types];
        leftover = new long[model.Stocks][];
        scaled = new (long, long[]?)[model.Stocks];
        for (int s = 0; s < model.Stocks; s++)
        {
            LeftoverValue value = model.Stock(s).Leftover;
            if ((value.KeepNumerator != 0 || value.ScrapNumerator != 0 || model.Groups > 0) && model.Capacity[s] <= MostCapacity)
            {
                leftover[s] = new long[model.Capacity[s] + 1];
                for (int c = 0; c < leftover[s]!.Length; c++)
                {
                    leftover[s]![c] = model.LeftoverValue(s, c);
                }
            }
        }
    }

    /// <summary>The best value on a stock, and some of its best layouts.</summary>
    /// <param name="net">Value of each type less what it costs on this stock, × scale.</param>
    /// <param name="kept">Price of a kept leftover.</param>
    /// <param name="perStock">Most layouts wanted.</param>
    /// <param name="found">Receives layouts with their value.</param>
    /// <returns>That of the empty bar where no layout counts.</returns>
    public long Read<T>(KnapsackTable<T> table, int s, bool needLong, long[] net, long kept, long scale, int perStock, List<(BarPattern, long)> found)
        where T : unmanaged, IBinaryInteger<T>, IMinMaxValue<T>
    {
        int capacity = (int)model.Capacity[s];
        long[]? worth = Worth(s, scale);
        long empty = scale * model.LeftoverValue(s, 0);
        if (model.MostBars[s] == 0)
        {
            return empty;
        }

        // An empty bar is no layout. Where kept leftovers have a price it must not count: it would be a layout that does not pay this price.
        long best = model.GroupOf[s] >= 0 ? long.MinValue : empty;

        // The best of each class of leftovers (the table is then one of exact fills).
        var heads = new List<(long Value, int At, bool Short)>(4);
        int keptTop = (int)Math.Min(model.GroupOf[s] < 0 ? -1 : model.KeptCapacity[s], capacity);
        Offer(keptTop + 1, capacity, false, 0);
        Offer(1, keptTop, false, kept);

        // Short pieces alone: the leftover must be long enough for the clamp.
        long held = model.Stock(s).ShortestHeld;
        long room = needLong ? FloorDiv(model.Stock(s).Length - held, model.Unit) : -1;
        int shortTop = (int)Math.Min(room, capacity);
        if (needLong)
        {
            Offer(keptTop + 1, shortTop, true, 0);
            Offer(1, Math.Min(keptTop, shortTop), true, kept);
        }

        best = best == long.MinValue ? empty : best;
        if (perStock == 0)
        {
            return best;
        }

        int taken = 0;
        heads.Sort((a, b) => b.Value.CompareTo(a.Value));
        foreach ((_, int at, bool isShort) in heads)
        {
            Take(at, isShort);
        }

        // More layouts: the next lower capacities at which the value changes are layouts of their own.
        int tries = 0;
        for (int c = capacity; c > 0 && taken < perStock && tries < 8 * perStock; c--)
        {
            if (!table.Rises(c) || heads.Exists(h => h.At == c && !h.Short))
            {
                continue;
            }

            tries++;
            if (table.At(c) > 0)
            {
                Take(c, false);
            }
        }

        return best;

        void Take(int c, bool fromShort)
        {
            table.Read(c, fromShort, counts);
            if (BarPattern.Make(model, s, counts) is { } pattern)
            {
                found.Add((pattern, ValueOf(pattern, net, kept, scale)));
                taken++;
            }
        }

        void Offer(int from, int top, bool isShort, long price)
        {
            if (top < from)
            {
                return;
            }

            (long v, int at) = worth is null
                ? (isShort ? table.ShortAt(top) : table.At(top), top)
                : table.BestWith(worth, from, top, isShort);
            if (at <= 0)
            {
                return;
            }

            v += price;
            if (model.GroupOf[s] >= 0 || v > empty)
            {
                heads.Add((v, at, isShort));
                best = Math.Max(best, v);
            }
        }
    }

    /// <summary>Worth of the leftover by the length that is used, × scale; kept from one call to the next, as scales seldom change.</summary>
    private long[]? Worth(int s, long scale)
    {
        if (leftover[s] is { } plain && (scaled[s].Worth is null || scaled[s].Scale != scale))
        {
            scaled[s] = (scale, Array.ConvertAll(plain, v => scale * v));
        }

        return scaled[s].Worth;
    }

    private long ValueOf(BarPattern p, long[] value, long kept, long scale)
    {
        long v = (scale * model.LeftoverValue(p.Stock, p.Used)) + (p.Group < 0 ? 0 : kept);
        for (int k = 0; k < p.Items.Length; k++)
        {
            v += p.Counts[k] * value[p.Items[k]];
        }

        return v;
    }

    private static long FloorDiv(long a, long b) => a >= 0 ? a / b : -((-a + b - 1) / b);
}
