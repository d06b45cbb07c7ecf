using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Plates;

namespace Nest.Tests.Plates;

/// <summary>Random very small jobs against brute force, for each way of through-cutting.</summary>
public class ThroughCutBruteForceTests
{
    public static TheoryData<string, PlateCutting> Ways => new()
    {
        { "any depth", new PlateCutting() },
        { "any depth, first along", new PlateCutting { FirstCut = CutDirection.Rip } },
        { "any depth, first across", new PlateCutting { FirstCut = CutDirection.Crosscut } },
        { "two stages", new PlateCutting { Stages = 2 } },
        { "two stages and trimming", new PlateCutting { Stages = 2, TrimmingCut = true } },
        { "two stages, first along", new PlateCutting { Stages = 2, FirstCut = CutDirection.Rip } },
        { "three stages", new PlateCutting { Stages = 3 } },
        { "three stages and trimming", new PlateCutting { Stages = 3, TrimmingCut = true } },
        { "largest cut", new PlateCutting { LargestCut = 6 } },
        { "shortest held", new PlateCutting { ShortestHeld = 3 } },
    };

    [Theory]
    [MemberData(nameof(Ways))]
    public void Cost_and_bound_enclose_the_optimum(string way, PlateCutting cutting)
    {
        var random = new Random(way.Length * 7919);
        var missed = 0;
        const int jobs = 60;
        for (var n = 0; n < jobs; n++)
        {
            var problem = Job(random, cutting, keepOuts: false);
            missed += Compare(problem, $"{way}, job {n}");
        }

        // The kernel is a heuristic: on jobs this small it must nearly always find the optimum.
        missed.Should().BeLessThanOrEqualTo(1, way);
    }

    [Theory]
    [InlineData(null)]
    [InlineData(3)]
    public void Keep_outs_never_break_the_bound(int? stages)
    {
        var random = new Random(4711);
        var missed = 0;
        for (var n = 0; n < 40; n++)
        {
            missed += Compare(Job(random, new PlateCutting { Stages = stages }, keepOuts: true), $"keep-outs, job {n}");
        }

        // Partitions round keep-outs are a heuristic (see BlankSheets).
        missed.Should().BeLessThanOrEqualTo(6);
    }

    private static int Compare(PlateProblem problem, string name)
    {
        var optimum = PlateBruteForce.Optimum(problem);
        var solution = PlateSolver.Solve(problem, new SolveLimits { Seconds = 20, Work = 20_000 });
        ThroughCutChecker.Check(problem, solution).Should().BeEmpty(name);
        if (optimum is not { } best)
        {
            solution.Status.Should().BeOneOf([SolveStatus.Impossible, SolveStatus.NotFound], name);
            return 0;
        }

        solution.Status.Should().NotBe(SolveStatus.Impossible, name);
        solution.Bound.Should().BeLessThanOrEqualTo(best, name);
        if (solution.Status == SolveStatus.NotFound)
        {
            return 1;
        }

        solution.Cost.Should().BeGreaterThanOrEqualTo(best, name);
        return solution.Cost > best ? 1 : 0;
    }

    private static PlateProblem Job(Random random, PlateCutting cutting, bool keepOuts)
    {
        var stocks = ImmutableArray.CreateBuilder<PlateStock>();
        for (var s = random.Next(1, 3); s > 0; s--)
        {
            var stock = new PlateStock(random.Next(4, 9), random.Next(4, 9), random.Next(1, 7), random.Next(3) == 0 ? random.Next(1, 3) : null);
            if (keepOuts)
            {
                var x = random.Next(0, (int)stock.SizeX - 1);
                var y = random.Next(0, (int)stock.SizeY - 1);
                stock = stock with { KeepOuts = [new PlateRect(x, y, random.Next(1, 3), random.Next(1, 3))] };
            }

            stocks.Add(stock);
        }

        var items = ImmutableArray.CreateBuilder<PlateItem>();
        var left = random.Next(2, 6);
        while (left > 0)
        {
            var demand = random.Next(1, Math.Min(left, 3) + 1);
            left -= demand;
            items.Add(new PlateItem(random.Next(1, 6), random.Next(1, 6), demand, random.Next(2) == 0));
        }

        long[,]? costs = null;
        if (random.Next(3) == 0)
        {
            costs = new long[stocks.Count, items.Count];
            for (var s = 0; s < stocks.Count; s++)
            {
                for (var i = 0; i < items.Count; i++)
                {
                    costs[s, i] = random.Next(6) == 0 ? PlateProblem.Forbidden : random.Next(0, 3);
                }
            }
        }

        return new PlateProblem
        {
            Stocks = stocks.ToImmutable(), Items = items.ToImmutable(), Cutting = cutting, Kerf = random.Next(0, 2), PieceCost = costs,
        };
    }
}
