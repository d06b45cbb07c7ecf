using System.Collections.Immutable;
using Nest.Solve.Plates;
using Nest.Solve.Plates.ThroughCut;
using Nest.Tests.Plates;

namespace Nest.Tests.Bounds;

/// <summary>The bound by choices of plates where pieces cost something on each plate, against brute force.</summary>
public sealed class FleetBoundTest
{
    [Fact]
    public void With_costs_of_pieces_it_is_never_above_the_optimum_and_where_they_grow_with_the_area_it_often_meets_it()
    {
        var random = new Random(20261130);
        var (met, tried) = (0, 0);
        for (var n = 0; n < 200; n++)
        {
            var byArea = n % 2 == 0;
            var problem = Make(random, byArea);
            if (PlateBruteForce.Optimum(problem) is not { } optimum)
            {
                continue;
            }

            var model = new ThroughModel(problem);
            var bound = FleetBound.Cost(model, new(model), 1e7, 1);

            bound.Should().BeLessThanOrEqualTo(optimum, $"job {n}");
            tried += byArea ? 1 : 0;
            // Rates and values are rounded down: a unit or two of cost.
            met += byArea && bound >= optimum - 2 ? 1 : 0;
        }

        met.Should().BeGreaterThan(tried / 4);
    }

    /// <summary>Two plates and a leftover that is cheap by the area; what a piece costs is its share of what metal is worth there, and a cut.</summary>
    private static PlateProblem Make(Random random, bool byArea)
    {
        var kerf = random.Next(2);
        ImmutableArray<PlateStock> stocks =
        [
            new(random.Next(6, 10), random.Next(5, 9), random.Next(800, 2000)),
            new(random.Next(5, 9), random.Next(4, 8), random.Next(600, 1400)),
            new(random.Next(4, 9), random.Next(3, 8), random.Next(100, 600), random.Next(1, 3)),
        ];
        ImmutableArray<PlateItem> items = [.. Enumerable.Range(0, random.Next(2, 4)).Select(_ =>
            new PlateItem(random.Next(2, 5), random.Next(2, 5), random.Next(1, 3), random.Next(2) == 0))];
        int[] rates = [.. stocks.Select(_ => random.Next(0, 20))];
        var costs = new long[stocks.Length, items.Length];
        for (var i = 0; i < items.Length; i++)
        {
            var cut = byArea ? 0 : random.Next(0, 60);
            for (var s = 0; s < stocks.Length; s++)
            {
                var share = rates[s] * (items[i].SizeX + kerf) * (items[i].SizeY + kerf);
                costs[s, i] = !byArea && random.Next(12) == 0 ? PlateProblem.Forbidden : share + cut + (byArea ? 0 : random.Next(0, 10));
            }
        }

        return new() { Stocks = stocks, Items = items, Cutting = new(), Kerf = kerf, PieceCost = costs };
    }
}
