using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Solve.Plates.Bounds;
using Nest.Tests.Plates.Free;

namespace Nest.Tests.Plates.Bounds;

public sealed class PlateBoundsTests
{
    private static readonly SolveLimits Limits = new() { Seconds = 60, Work = 200_000 };

    /// <summary>Reference: exhaustive search in this test project.</summary>
    [Fact]
    public void A_bound_is_never_above_the_least_cost()
    {
        var random = new Random(24);
        var (met, jobs) = (0, 0);
        for (var job = 0; job < 300; job++)
        {
            var problem = SmallPlateJobs.Next(random);
            var bound = PlateBounds.Best(problem, null, Limits);
            if (FreeBruteForce.Cost(problem) is not { } cost)
            {
                continue;
            }

            bound.Should().BeLessThanOrEqualTo(cost, $"job {job}");
            jobs++;
            met += bound == cost ? 1 : 0;
        }

        // A bound of zero would pass above; measured: more than half are met.
        met.Should().BeGreaterThan(jobs / 2);
    }

    /// <summary>Reference: published optima, see the data file; turned instances can only need fewer plates.</summary>
    [Fact]
    public void Bounds_stay_below_published_optima_and_above_the_area()
    {
        foreach (var turn in new[] { false, true })
        {
            foreach (var (name, problem, plates) in PublishedPlates.Read("bin_packing.txt", turn))
            {
                var stock = problem.Stocks[0];
                var area = problem.Items.Sum(i => i.SizeX * i.SizeY * i.Demand);
                var bound = PlateBounds.Best(problem, null, Limits);
                bound.Should().BeInRange((area + (stock.SizeX * stock.SizeY) - 1) / (stock.SizeX * stock.SizeY), plates, name);
            }
        }
    }

    [Fact]
    public void A_thicker_kerf_never_lowers_the_least_cost_below_the_bound_without()
    {
        var random = new Random(25);
        for (var job = 0; job < 40; job++)
        {
            var problem = SmallPlateJobs.Next(random) with { Kerf = 0 };
            if (FreeBruteForce.Cost(problem with { Kerf = 1 }) is { } cost)
            {
                PlateBounds.Best(problem, null, Limits).Should().BeLessThanOrEqualTo(cost);
            }
        }
    }
}
