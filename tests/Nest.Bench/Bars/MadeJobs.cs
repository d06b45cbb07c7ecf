using System.Collections.Immutable;
using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Bench.Bars;

/// <summary>Jobs made from a seed: sizes as in a shop, figures invented.</summary>
internal static class MadeJobs
{
    /// <summary>40 lengths, 600 pieces, 3 stock lengths and 12 leftovers, kerf 2.5 mm; unit 0.1 mm, cost in cents.</summary>
    public static BarProblem Shop(int seed)
    {
        var random = new Random(seed);
        ImmutableArray<BarItem> items = Items(random, 40, 600, () => random.Next(600, 18_000));
        BarStock Bought(long length, long cost) => new(length, cost) { Leftover = new LeftoverValue(3_000, 42, 11, 1_000) };
        var stocks = ImmutableArray.CreateBuilder<BarStock>();
        stocks.Add(Bought(60_000, 4_200));
        stocks.Add(Bought(40_000, 2_880));
        stocks.Add(Bought(30_000, 2_220));
        for (int k = 0; k < 12; k++)
        {
            // A leftover stands in the books at the rate at which leftovers are kept.
            long length = random.Next(4_000, 28_000);
            stocks.Add(new BarStock(length, (length * 42 / 1_000) + 1, 1) { Leftover = new LeftoverValue(3_000, 42, 11, 1_000) });
        }

        return new BarProblem { Stocks = stocks.ToImmutable(), Items = items, Kerf = 25 };
    }

    /// <summary>300 lengths, 20 000 pieces, three stock lengths, kerf 3 mm; unit 1 mm, cost in cents.</summary>
    public static BarProblem Fabricator(int seed)
    {
        var random = new Random(seed);
        ImmutableArray<BarItem> items = Items(random, 300, 20_000, () => random.Next(150, 5_500));
        return new BarProblem
        {
            Stocks = [new BarStock(6_000, 5_400), new BarStock(7_500, 6_900), new BarStock(12_000, 10_900)],
            Items = items,
            Kerf = 3,
        };
    }

    private static ImmutableArray<BarItem> Items(Random random, int kinds, int pieces, Func<int> length)
    {
        var lengths = new SortedSet<int>();
        while (lengths.Count < kinds)
        {
            lengths.Add(length());
        }

        int[] demand = [.. Enumerable.Repeat(1, kinds)];
        for (int n = kinds; n < pieces; n++)
        {
            demand[random.Next(kinds)]++;
        }

        return [.. lengths.Select((l, k) => new BarItem(l, demand[k]))];
    }
}
