namespace Nest.Solve.Bars;

/// <summary>Exact pricing on all stocks of a model: the layout of most value per stock, several more, and a proven upper bound.</summary>
/// <remarks>
/// Problem: per stock s, maximise Σ (π_i − S·extra_si) a_i + S·Leftover_s(leftover) + κ_g(s) where the leftover is kept, over layouts, in
/// integers (S: the duals' scale).
/// Method: one table per group of stocks that differ only in length, price and leftover value (<see cref="KnapsackTable{T}"/>);
/// branch and bound with a coarse completion bound where the capacity is too large for a table.
/// Guarantee: the upper bound is valid always, and exact (met by a layout) with the table.
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
            if ((value.KeepNumerator != 0 || value.ScrapNumerator != 0 || model.Groups > 0) && model.Capacity[s] <= 4_000_000)
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

    /// <summary>Best value per stock (upper bound; the empty bar included where kept leftovers are not counted).</summary>
    public long[] Best { get; private set; } = [];

    /// <summary>Whether <see cref="Best"/> is exact for all stocks.</summary>
    public bool Exact { get; private set; }

    /// <summary>Solves all stocks.</summary>
    /// <param name="dual">Value of one piece per type, then (optional) price of a kept leftover per group, in units of cost / scale.</param>
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

        // Where kept leftovers have a price below zero, a piece that loses can pay: it fills the bar so far that its leftover is scrap. All such
        // pieces of a best layout together lose no more than that price, as without them it is a layout too.
        long relief = 0;
        foreach (int s in group.Stocks)
        {
            relief = Math.Max(relief, -KeptPrice(dual, s));
        }

        // Nothing that loses more than everything else can gain belongs to a best layout.
        double total = (density * top * 1.01) + relief;
        foreach (int i in group.Order)
        {
            if (value[i] < -total - 1)
            {
                copies[i] = 0;
            }
            else if (value[i] < 0)
            {
                copies[i] = (int)Math.Min(copies[i], (relief / -value[i]) + 1);
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
                Search(s, value, KeptPrice(dual, s), scale, copies, perStock, wanted(s), found, meter);
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
                    Search(s, value, KeptPrice(dual, s), scale, copies, perStock, wanted(s), found, meter);
                }

                return;
            }
        }

        if (narrowFits)
        {
            group.Narrow.Run((int)top, group.Order, model.Weight, copies, value, group.IsLong, group.NeedLong, model.MostPieces[lead], model.Groups > 0, relief > 0);
            meter.Steps(group.Narrow.Steps);
            foreach (int s in group.Stocks)
            {
                ReadStock(group.Narrow, s, group, value, KeptPrice(dual, s), scale, perStock, wanted(s), found);
            }
        }
        else
        {
            group.Wide.Run((int)top, group.Order, model.Weight, copies, value, group.IsLong, group.NeedLong, model.MostPieces[lead], model.Groups > 0, relief > 0);
            meter.Steps(group.Wide.Steps);
            foreach (int s in group.Stocks)
            {
                ReadStock(group.Wide, s, group, value, KeptPrice(dual, s), scale, perStock, wanted(s), found);
            }
        }
    }

    private void ReadStock<T>(
        KnapsackTable<T> table, int s, Group group, long[] net, long kept, long scale, int perStock, bool wanted, List<(BarPattern, long)> found)
        where T : unmanaged, System.Numerics.IBinaryInteger<T>, System.Numerics.IMinMaxValue<T>
    {
        int capacity = (int)model.Capacity[s];
        long[]? worth = leftover[s];
        long empty = scale * model.LeftoverValue(s, 0);
        Best[s] = empty;
        if (model.MostBars[s] == 0)
        {
            return;
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
        long room = group.NeedLong ? FloorDiv(model.Stock(s).Length - held, model.Unit) : -1;
        int shortTop = (int)Math.Min(room, capacity);
        if (group.NeedLong)
        {
            Offer(keptTop + 1, shortTop, true, 0);
            Offer(1, Math.Min(keptTop, shortTop), true, kept);
        }

        Best[s] = best == long.MinValue ? empty : best;
        if (!wanted || perStock == 0)
        {
            return;
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
                : table.BestWith(worth, scale, from, top, isShort);
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

    private long KeptPrice(long[] dual, int s) =>
        model.GroupOf[s] >= 0 && dual.Length > model.Types ? dual[model.Types + model.GroupOf[s]] : 0;

    private long ValueOf(BarPattern p, long[] value, long kept, long scale)
    {
        long v = (scale * model.LeftoverValue(p.Stock, p.Used)) + (p.Group < 0 ? 0 : kept);
        for (int k = 0; k < p.Items.Length; k++)
        {
            v += p.Counts[k] * value[p.Items[k]];
        }

        return v;
    }

    private void Search(
        int s, long[] value, long kept, long scale, int[] copies, int perStock, bool wanted, List<(BarPattern, long)> found, WorkMeter meter)
    {
        long floor = scale * model.LeftoverValue(s, 0);
        Best[s] = floor;
        if (model.MostBars[s] == 0)
        {
            return;
        }

        bool grouped = model.GroupOf[s] >= 0;
        long best = grouped ? long.MinValue : floor;
        foreach (Leftovers which in LayoutSearch.Classes(model, s))
        {
            long price = which == Leftovers.Kept ? kept : 0;
            var search = new LayoutSearch(model, s, which, value, scale, copies);
            bool done = search.Best(grouped ? long.MinValue / 4 : floor, Math.Max(1, perStock), 3_000_000);
            meter.Steps(search.Steps);
            best = !done ? Math.Max(best, search.RootBound + price)
                : search.Found.Count > 0 ? Math.Max(best, search.Found[0].Value + price) : best;
            Exact &= done;
            if (wanted)
            {
                found.AddRange(search.Found.Take(perStock).Select(f => (f.Pattern, f.Value + price)));
            }
        }

        Best[s] = best == long.MinValue ? floor : best;
    }

    private static long FloorDiv(long a, long b) => a >= 0 ? a / b : -((-a + b - 1) / b);
}
