using System.Collections.Immutable;
using Nest.Solve.Plates;

namespace Nest.Bench.Plates;

/// <summary>Seeded made jobs of realistic shape: sizes in millimetres, costs in cents; all figures are invented.</summary>
internal static class MadeJobs
{
    private const long Kerf = 3;

    /// <summary>A shop's job: 25 part kinds, 300 pieces, 4 plate sizes and 10 leftovers, kerf 3 mm.</summary>
    public static PlateProblem Shop(int seed)
    {
        var random = new Random(seed);
        var stocks = ImmutableArray.CreateBuilder<PlateStock>();
        foreach (var (x, y, rate) in ((long, long, int)[])[(2000, 1000, 62), (2500, 1250, 60), (3000, 1500, 58), (1500, 1000, 64)])
        {
            stocks.Add(Plate(x, y, rate, null));
        }

        for (var n = 0; n < 10; n++)
        {
            stocks.Add(Plate(random.Next(300, 1400), random.Next(200, 900), 24, 1));
        }

        return new PlateProblem { Stocks = stocks.ToImmutable(), Items = Items(random, 25, 300), Cutting = new PlateCutting(), Kerf = Kerf };
    }

    /// <summary>A fabricator's job: 150 kinds, 5 000 pieces, 6 plate sizes, kerf 3 mm.</summary>
    public static PlateProblem Fabricator(int seed)
    {
        var random = new Random(seed);
        return new PlateProblem
        {
            Stocks =
            [
                Plate(2000, 1000, 62, null), Plate(2500, 1250, 60, null), Plate(3000, 1500, 58, null), Plate(1500, 1000, 64, null),
                Plate(4000, 1500, 59, null), Plate(4000, 2000, 60, 60),
            ],
            Items = Items(random, 150, 5000),
            Cutting = new PlateCutting(),
            Kerf = Kerf,
        };
    }

    private static PlateStock Plate(long x, long y, int centsPerSquareDecimetre, int? limit) =>
        new(x - 10, y - 10, Math.Max(1, x * y * centsPerSquareDecimetre / 10_000), limit) { KeepLong = 300, KeepShort = 150 };

    private static ImmutableArray<PlateItem> Items(Random random, int kinds, int pieces)
    {
        var demands = new int[kinds];
        for (var n = 0; n < pieces; n++)
        {
            demands[n < kinds ? n : random.Next(kinds)]++;
        }

        return [.. demands.Select(demand => new PlateItem(random.Next(60, 620), random.Next(40, 420), demand, random.Next(4) > 0))];
    }
}
