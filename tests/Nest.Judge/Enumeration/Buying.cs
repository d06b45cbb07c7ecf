using Nest.Core.Jobs;

namespace Nest.Judge.Enumeration;

/// <summary>The cheapest way to get each load from several stocks, with the exact terms of purchase.</summary>
/// <remarks>Method: for each stock the least cost of each load from just n of its pieces; for each supplier all numbers of pieces of all
/// its stocks, cut ones and ones bought whole for the rack; then all sets of suppliers by their number. Exact.
/// How many pieces bought whole can pay: each costs at least its lowest price less its value, and saves at most the smallest order, the
/// delivery and what breaks can give; the number is tried up to that, and one more.</remarks>
internal sealed class Buying(Job job, LoadSpace loads)
{
    private const long Never = ThroughCutTable.Never;
    private const int MostWhole = 60;
    private const int MostChoices = 20_000;

    /// <summary>One stock: cost of each load from one piece without its price, and what a whole piece is kept at.</summary>
    /// <param name="Whole">Null: it would not be kept.</param>
    internal sealed record Source(Stock Stock, long[] Layout, long? Whole)
    {
        /// <summary>Pieces that layouts which stay take: they are on the order anyway.</summary>
        public int Taken { get; init; }
    }

    /// <summary>Least cost of each load.</summary>
    public long[] Cheapest(IReadOnlyList<Source> sources)
    {
        var rack = Nothing();
        foreach (var source in sources.Where(source => source.Stock.RackMark is not null))
        {
            var price = source.Stock.PiecePrice.Units;
            rack = Least(ByCount(source, source.Stock.Available ?? 1)
                .Select((table, count) => Join(rack, Plus(table, price * count))));
        }

        // By number of suppliers that are used.
        var suppliers = sources.Where(source => source.Stock.RackMark is null)
            .GroupBy(source => source.Stock.Supplier ?? "", StringComparer.OrdinalIgnoreCase).ToList();
        var most = Math.Min(job.MostSuppliers ?? suppliers.Count, suppliers.Count);
        var used = new long[most + 1][];
        used[0] = rack;
        for (var number = 1; number <= most; number++)
        {
            used[number] = Impossible();
        }

        foreach (var supplier in suppliers)
        {
            var order = Order(supplier.Key, [.. supplier]);
            for (var number = most; number > 0; number--)
            {
                // A supplier of layouts that stay is used anyway.
                var with = Join(used[number - 1], order);
                used[number] = supplier.Any(source => source.Taken > 0) ? with : Least([used[number], with]);
            }

            used[0] = supplier.Any(source => source.Taken > 0) ? Impossible() : used[0];
        }

        return Least(used);
    }

    /// <summary>Of each load, the least cost with an order from this supplier.</summary>
    private long[] Order(string name, Source[] sources)
    {
        var supplier = job.Suppliers.FirstOrDefault(one => one.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
        var counts = sources.Select(source => ByCount(source, source.Stock.Available ?? int.MaxValue)).ToArray();
        var taken = sources.Sum(source => source.Taken);
        var saving = (supplier?.MinimumOrder.Units ?? 0) + (supplier?.Delivery.Units ?? 0)
            + sources.Sum(source => source.Stock.Terms.LineMinimum.Units + ((source.Stock.PiecePrice.Units - Lowest(source.Stock)) * (loads.Totals[^1] + taken)));
        var most = sources.Select(source => MostKept(source, saving)).ToArray();
        if (most.Aggregate(1L, (choices, whole) => choices * (whole + 1)) > MostChoices)
        {
            throw new TooLargeException($"Too many pieces may be bought whole from {name}.");
        }

        var cut = new int[sources.Length];
        var best = Impossible();
        Choose(0, Nothing());
        return best;

        void Choose(int at, long[] table)
        {
            if (at == sources.Length)
            {
                var paid = Paid(0, 0, 0, 0, 0);
                best = paid < Never ? Least([best, Plus(table, paid)]) : best;
                return;
            }

            for (cut[at] = 0; cut[at] < counts[at].Length; cut[at]++)
            {
                var next = Join(table, counts[at][cut[at]]);
                if (next.Any(cost => cost < Never))
                {
                    Choose(at + 1, next);
                }
            }
        }

        // The least that is paid for what is cut, less what is bought whole and kept.
        long Paid(int at, long goods, long kept, int pieces, int lines)
        {
            if (at == sources.Length)
            {
                return pieces == 0 ? Never
                    : CostRules.Order(supplier, goods) - kept + CostRules.Supplier(job) + (CostRules.OrderLine(job) * lines);
            }

            var stock = sources[at].Stock;
            var least = Never;
            for (var whole = 0; whole <= most[at] && cut[at] + whole <= (stock.Available ?? int.MaxValue); whole++)
            {
                var count = cut[at] + whole + sources[at].Taken;
                least = Math.Min(least, Paid(
                    at + 1, goods + CostRules.Line(stock, count), kept + ((sources[at].Whole ?? 0) * whole), pieces + count,
                    lines + (count > 0 ? 1 : 0)));
            }

            return least;
        }
    }

    private static int MostKept(Source source, long saving)
    {
        if (source.Whole is not { } value)
        {
            return 0;
        }

        var loss = Lowest(source.Stock) - value;
        var most = loss <= 0 ? long.MaxValue : (saving / loss) + 1;
        return saving == 0 ? 0 : most <= MostWhole ? (int)most
            : throw new TooLargeException($"{source.Stock.Id} may be bought whole more than {MostWhole} times.");
    }

    private static long Lowest(Stock stock) =>
        stock.Terms.Breaks.Select(step => step.PiecePrice.Units).Append(stock.PiecePrice.Units).Min();

    /// <summary>By number of pieces cut, from none on: least cost of each load.</summary>
    private long[][] ByCount(Source source, int available)
    {
        var tables = new List<long[]> { Nothing() };
        while (tables.Count <= Math.Min(available, loads.Totals[^1]) && source.Layout.Any(cost => cost < Never))
        {
            tables.Add(Join(tables[^1], source.Layout));
        }

        return [.. tables];
    }

    private long[] Join(long[] one, long[] other)
    {
        var sum = Impossible();
        for (var load = 0; load < sum.Length; load++)
        {
            foreach (var (a, b) in loads.Splits[load])
            {
                if (one[a] < Never && other[b] < Never)
                {
                    sum[load] = Math.Min(sum[load], one[a] + other[b]);
                }
            }
        }

        return sum;
    }

    private static long[] Plus(long[] table, long cost) => [.. table.Select(one => one >= Never ? Never : one + cost)];

    private static long[] Least(IEnumerable<long[]> tables) =>
        tables.Aggregate((one, other) => [.. one.Zip(other, Math.Min)]);

    private long[] Impossible()
    {
        var table = new long[loads.Count];
        Array.Fill(table, Never);
        return table;
    }

    private long[] Nothing()
    {
        var table = Impossible();
        table[0] = 0;
        return table;
    }
}
