namespace Nest.Solve.Bars;

/// <summary>Exact pricing on all stocks of a model: the layout of most value per stock, several more, and a proven upper bound.</summary>
/// <remarks>
/// Problem: per stock s, maximise Σ (π_i − S·extra_si) a_i + S·Leftover_s(leftover) over layouts, in integers (S: the duals' scale).
/// Method: one table per group of stocks that differ only in length, price and leftover value (<see cref="KnapsackTable{T}"/>);
/// branch and bound with a coarse completion bound where the capacity is too large for a table.
/// Guarantee: the upper bound is valid always, and exact (met by a layout) with the table. The empty layout takes part in the bound.
/// </remarks>
internal sealed class BarPricing
{
    private const long TableMemory = 400_000_000;
    private const long NarrowMost = 1L << 29;

    private readonly BarModel model;
    private readonly List<Group> groups = [];
    private readonly long[]?[] leftover;
    private readonly int[] counts;

    /// <summary>Stocks for which one table serves.</summary>
    private sealed record Group(List<int> Stocks, int[] Order, bool[] IsLong, bool NeedLong)
    {
        public KnapsackTable<int> Narrow { get; } = new();

        public KnapsackTable<long> Wide { get; } = new();
    }

    public BarPricing(BarModel model)
    {
        this.model = model;
        counts = new int[model.Types];
        leftover = new long[model.Stocks][];
        for (int s = 0; s < model.Stocks; s++)
        {
            LeftoverValue value = model.Stock(s).Leftover;
            if ((value.KeepNumerator != 0 || value.ScrapNumerator != 0) && model.Capacity[s] < 4_000_000)
            {
                leftover[s] = new long[model.Capacity[s] + 1];
                for (int c = 0; c < leftover[s]!.Length; c++)
                {
                    leftover[s]![c] = model.LeftoverValue(s, c);
                }
            }

            Place(s);
        }
    }

    /// <summary>Best value per stock (upper bound, the empty layout included).</summary>
    public long[] Best { get; private set; } = [];

    /// <summary>Whether <see cref="Best"/> is exact for all stocks.</summary>
    public bool Exact { get; private set; }

    /// <summary>Solves all stocks.</summary>
    /// <param name="dual">Value of one piece per type, in units of cost / scale.</param>
    /// <param name="scale">Scale of the duals.</param>
    /// <param name="remaining">Most copies by type (the remaining demand), or null: the demand.</param>
    /// <param name="perStock">Most layouts wanted per stock.</param>
    /// <param name="wanted">Whether layouts of a stock are wanted at all.</param>
    /// <param name="found">Receives layouts with their value, best first per stock.</param>
    /// <param name="meter">Work done is booked here.</param>
    public void Price(
        long[] dual, long scale, int[]? remaining, int perStock, Func<int, bool> wanted, List<(BarPattern Pattern, long Value)> found, WorkMeter meter)
    {
        Best = new long[model.Stocks];
        Exact = true;
        foreach (Group group in groups)
        {
            PriceGroup(group, dual, scale, remaining, perStock, wanted, found, meter);
        }
    }

    private void Place(int s)
    {
        BarStock stock = model.Stock(s);
        foreach (Group g in groups)
        {
            int other = g.Stocks[0];
            if (model.Stock(other).ShortestHeld != stock.ShortestHeld || model.MostPieces[s] != model.MostPieces[other])
            {
                continue;
            }

            bool same = true;
            for (int i = 0; i < model.Types && same; i++)
            {
                same = model.PieceCost(s, i) == model.PieceCost(other, i) || model.Weight[i] > model.Capacity[s];
            }

            if (same)
            {
                g.Stocks.Add(s);
                return;
            }
        }

        bool needLong = stock.ShortestHeld > 0 && model.Length.Any(l => l < stock.ShortestHeld);
        bool[] isLong = [.. model.Length.Select(l => l >= stock.ShortestHeld)];
        int[] order = [.. Enumerable.Range(0, model.Types).Where(i => model.PieceCost(s, i) != BarProblem.Forbidden).OrderBy(i => isLong[i])];
        groups.Add(new Group([s], order, isLong, needLong));
    }

    private void PriceGroup(
        Group group, long[] dual, long scale, int[]? remaining, int perStock, Func<int, bool> wanted, List<(BarPattern, long)> found, WorkMeter meter)
    {
        int lead = group.Stocks[0];
        long top = 0;
        foreach (int s in group.Stocks)
        {
            top = Math.Max(top, model.MostBars[s] > 0 ? model.Capacity[s] : 0);
        }

        var value = new long[model.Types];
        var copies = new int[model.Types];
        double density = 0;
        foreach (int i in group.Order)
        {
            value[i] = dual[i] - (scale * model.PieceCost(lead, i));
            long most = Math.Min(remaining is null ? model.Demand[i] : remaining[i], top / model.Weight[i]);
            copies[i] = (int)Math.Min(most, model.MostPieces[lead]);
            if (copies[i] > 0)
            {
                density = Math.Max(density, (double)value[i] / model.Weight[i]);
            }
        }

        // Nothing that loses more than everything else can gain belongs to a best layout.
        double total = density * top * 1.01;
        foreach (int i in group.Order)
        {
            if (value[i] < -total - 1)
            {
                copies[i] = 0;
            }
        }

        bool narrowFits = total < NarrowMost && value.All(v => Math.Abs(v) < NarrowMost);
        long memory = narrowFits
            ? KnapsackTable<int>.Memory(top, copies, group.NeedLong, int.MaxValue)
            : KnapsackTable<long>.Memory(top, copies, group.NeedLong, int.MaxValue);
        if (top > 4_000_000 || memory > TableMemory)
        {
            foreach (int s in group.Stocks)
            {
                Search(s, value, scale, copies, perStock, wanted(s), found, meter);
            }

            return;
        }

        bool bound = model.MostPieces[lead] != int.MaxValue;
        if (bound)
        {
            memory = narrowFits
                ? KnapsackTable<int>.Memory(top, copies, group.NeedLong, model.MostPieces[lead])
                : KnapsackTable<long>.Memory(top, copies, group.NeedLong, model.MostPieces[lead]);
            if (memory > TableMemory)
            {
                foreach (int s in group.Stocks)
                {
                    Search(s, value, scale, copies, perStock, wanted(s), found, meter);
                }

                return;
            }
        }

        if (narrowFits)
        {
            group.Narrow.Run((int)top, group.Order, model.Weight, copies, value, group.IsLong, group.NeedLong, model.MostPieces[lead]);
            meter.Steps(group.Narrow.Steps);
            foreach (int s in group.Stocks)
            {
                ReadStock(group.Narrow, s, group, value, scale, perStock, wanted(s), found);
            }
        }
        else
        {
            group.Wide.Run((int)top, group.Order, model.Weight, copies, value, group.IsLong, group.NeedLong, model.MostPieces[lead]);
            meter.Steps(group.Wide.Steps);
            foreach (int s in group.Stocks)
            {
                ReadStock(group.Wide, s, group, value, scale, perStock, wanted(s), found);
            }
        }
    }

    private void ReadStock<T>(
        KnapsackTable<T> table, int s, Group group, long[] net, long scale, int perStock, bool wanted, List<(BarPattern, long)> found)
        where T : unmanaged, System.Numerics.IBinaryInteger<T>, System.Numerics.IMinMaxValue<T>
    {
        int capacity = (int)model.Capacity[s];
        long[]? worth = leftover[s];
        long best = scale * model.LeftoverValue(s, 0);
        if (model.MostBars[s] == 0)
        {
            Best[s] = best;
            return;
        }

        int bestAt = 0;
        bool bestShort = false;
        if (worth is null)
        {
            Offer(table.At(capacity), capacity, false);
        }
        else
        {
            (long value, int at) = table.BestWith(worth, scale, capacity, false);
            Offer(value, at, false);
        }

        // Short pieces alone: the leftover must be long enough for the clamp.
        long held = model.Stock(s).ShortestHeld;
        long room = group.NeedLong ? FloorDiv(model.Stock(s).Length - held, model.Unit) : -1;
        int shortTop = (int)Math.Min(room, capacity);
        if (group.NeedLong && shortTop >= 0)
        {
            (long value, int at) = worth is null ? (table.ShortAt(shortTop), shortTop) : table.BestWith(worth, scale, shortTop, true);
            Offer(value, at, true);
        }

        Best[s] = best;
        if (!wanted || perStock == 0)
        {
            return;
        }

        int taken = 0;
        if (bestAt > 0)
        {
            Take(bestAt, bestShort);
        }

        // More layouts: the next lower capacities at which the value changes are layouts of their own.
        int tries = 0;
        for (int c = capacity; c > 0 && taken < perStock && tries < 8 * perStock; c--)
        {
            if (!table.Rises(c) || (c == bestAt && !bestShort))
            {
                continue;
            }

            tries++;
            if (table.At(c) > 0)
            {
                Take(c, false);
            }
        }

        void Take(int c, bool fromShort)
        {
            table.Read(c, fromShort, counts);
            if (BarPattern.Make(model, s, counts) is { } pattern)
            {
                found.Add((pattern, ValueOf(pattern, net, scale)));
                taken++;
            }
        }

        void Offer(long v, int c, bool isShort)
        {
            if (v > best)
            {
                (best, bestAt, bestShort) = (v, c, isShort);
            }
        }
    }

    private long ValueOf(BarPattern p, long[] value, long scale)
    {
        long v = scale * model.LeftoverValue(p.Stock, p.Used);
        for (int k = 0; k < p.Items.Length; k++)
        {
            v += p.Counts[k] * value[p.Items[k]];
        }

        return v;
    }

    private void Search(int s, long[] value, long scale, int[] copies, int perStock, bool wanted, List<(BarPattern, long)> found, WorkMeter meter)
    {
        if (model.MostBars[s] == 0)
        {
            Best[s] = scale * model.LeftoverValue(s, 0);
            return;
        }

        var search = new LayoutSearch(model, s, value, scale, copies);
        long floor = scale * model.LeftoverValue(s, 0);
        bool done = search.Best(floor, Math.Max(1, perStock), 3_000_000);
        meter.Steps(search.Steps);
        Best[s] = done ? Math.Max(floor, search.Found.Count > 0 ? search.Found[0].Value : floor) : Math.Max(floor, search.RootBound);
        Exact &= done;
        if (wanted)
        {
            found.AddRange(search.Found.Take(perStock));
        }
    }

    private static long FloorDiv(long a, long b) => a >= 0 ? a / b : -((-a + b - 1) / b);
}
