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

    /// <summary>The least that so many pieces of each source cost, with the terms of purchase and pieces bought whole; <see cref="ThroughCutTable.Never"/>: they cannot be had.</summary>
    /// <param name="cut">Pieces that are cut, by source.</param>
    public long Metal(IReadOnlyList<Source> sources, int[] cut)
    {
        var numbered = sources.Select((source, at) => (Source: source, Cut: cut[at])).ToList();
        var rack = numbered.Where(one => one.Source.Stock.RackMark is not null).ToList();
        if (rack.Any(one => one.Cut > (one.Source.Stock.Available ?? 1)))
        {
            return Never;
        }

        var cost = rack.Sum(one => one.Source.Stock.PiecePrice.Units * one.Cut);
        var orders = numbered.Where(one => one.Source.Stock.RackMark is null)
            .GroupBy(one => one.Source.Stock.Supplier ?? "", StringComparer.OrdinalIgnoreCase).Where(order => order.Any(one => one.Cut > 0)).ToList();
        foreach (var order in orders)
        {
            var paid = new Basket(job, Of(order.Key), [.. order.Select(one => one.Source)], loads.Totals[^1]).Paid([.. order.Select(one => one.Cut)]);
            if (paid >= Never)
            {
                return Never;
            }

            cost += paid;
        }

        return orders.Count > (job.MostSuppliers ?? orders.Count) ? Never : cost;
    }

    private Supplier? Of(string name) => job.Suppliers.FirstOrDefault(one => one.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>Of each load, the least cost with an order from this supplier.</summary>
    private long[] Order(string name, Source[] sources)
    {
        var counts = sources.Select(source => ByCount(source, source.Stock.Available ?? int.MaxValue)).ToArray();
        var basket = new Basket(job, Of(name), sources, loads.Totals[^1]);
        var cut = new int[sources.Length];
        var best = Impossible();
        Choose(0, Nothing());
        return best;

        void Choose(int at, long[] table)
        {
            if (at == sources.Length)
            {
                var paid = basket.Paid(cut);
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
    }

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
