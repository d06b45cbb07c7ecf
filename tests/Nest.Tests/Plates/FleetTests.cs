using System.Collections.Immutable;
using Nest.Solve.Plates;
using Nest.Solve.Plates.ThroughCut;

namespace Nest.Tests.Plates;

/// <summary>Choices of whole plates against enumeration, and the bound that counts whole plates against brute force.</summary>
public class FleetTests
{
    [Fact]
    public void Every_cost_has_the_fleet_with_the_largest_area()
    {
        var random = new Random(20261125);
        for (var n = 0; n < 60; n++)
        {
            var limits = new[] { random.Next(0, 4), random.Next(0, 4), random.Next(0, 4) };
            var model = new ThroughModel(new PlateProblem
            {
                Stocks = [.. limits.Select(limit => new PlateStock(random.Next(5, 20), random.Next(5, 20), random.Next(1, 30), limit))],
                Items = [new PlateItem(2, 2, 1, false)],
                Cutting = new PlateCutting(),
            });
            var below = random.Next(20, 120);
            var fleets = Fleets.Below(model, limits, below, 1);

            var best = new Dictionary<long, double>();
            for (var a = 0; a <= limits[0]; a++)
            {
                for (var b = 0; b <= limits[1]; b++)
                {
                    for (var c = 0; c <= limits[2]; c++)
                    {
                        var counts = new[] { a, b, c };
                        var cost = counts.Select((count, s) => count * model.StockCost[s]).Sum();
                        var area = counts.Select((count, s) => count * (double)model.StockWidth[s] * model.StockHeight[s]).Sum();
                        best[cost] = Math.Max(best.GetValueOrDefault(cost), area);
                    }
                }
            }

            fleets.All(fleet => fleet.Cost < below && best[fleet.Cost] == fleet.Area).Should().BeTrue();
            fleets.All(fleet => fleet.Plates.Zip(limits).All(pair => pair.First <= pair.Second)).Should().BeTrue();
            var most = best.Where(entry => entry.Key < below).Max(entry => entry.Value);
            fleets.Select(fleet => fleet.Area).DefaultIfEmpty(0).Max().Should().Be(most);
            fleets.Zip(fleets.Skip(1)).All(pair => pair.First.Area < pair.Second.Area).Should().BeTrue();
        }
    }

    [Fact]
    public void The_bound_by_whole_plates_is_never_above_the_optimum_and_sometimes_meets_it()
    {
        var random = new Random(77);
        var met = 0;
        for (var n = 0; n < 80; n++)
        {
            var problem = new PlateProblem
            {
                Stocks =
                [
                    new PlateStock(random.Next(6, 10), random.Next(5, 9), random.Next(8, 20), random.Next(3) == 0 ? 2 : null),
                    new PlateStock(random.Next(5, 9), random.Next(4, 8), random.Next(6, 14), null),
                ],
                Items = [.. Enumerable.Range(0, random.Next(2, 4)).Select(_ =>
                    new PlateItem(random.Next(2, 5), random.Next(2, 5), random.Next(1, 3), random.Next(2) == 0))],
                Cutting = new PlateCutting(),
                Kerf = random.Next(2),
            };
            if (PlateBruteForce.Optimum(problem) is not { } optimum)
            {
                continue;
            }

            var model = new ThroughModel(problem);
            var bound = FleetBound.Cost(model, new CostSteps(model), 1e7, 1 + (n % 2));
            bound.Should().BeLessThanOrEqualTo(optimum, $"job {n}");
            met += bound == optimum ? 1 : 0;
        }

        met.Should().BeGreaterThan(20);
    }
}
