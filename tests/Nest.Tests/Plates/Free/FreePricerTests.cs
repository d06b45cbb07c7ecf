using Nest.Solve.Plates;
using Nest.Solve.Plates.Free;

namespace Nest.Tests.Plates.Free;

public sealed class FreePricerTests
{
    /// <summary>Reference: every subset of the pieces, tried exhaustively in this test project.</summary>
    [Fact]
    public void No_layout_is_worth_more_than_the_bound_and_the_best_is_found()
    {
        var random = new Random(23);
        for (var job = 0; job < 80; job++)
        {
            var problem = SmallPlateJobs.Next(random);
            var values = problem.Items.Select(_ => random.NextInt64(0, 1000)).ToArray();
            var costs = problem.Items.Select((_, i) => random.Next(6) == 0 ? PlateProblem.Forbidden : random.Next(0, 200)).ToArray();
            var best = Best(problem, values, costs);
            var pricing = new FreePricer(problem.Stocks[0], problem.Kerf, problem.Items, [.. costs]).Price(values, 5);
            pricing.UpperBound.Should().BeGreaterThanOrEqualTo(best);
            (pricing.Layouts.IsEmpty ? 0 : pricing.Layouts[0].Value).Should().Be(best, $"job {job}");
            foreach (var (layout, value) in pricing.Layouts)
            {
                value.Should().Be(layout.Pieces.Sum(p => values[p.Item] - costs[p.Item]));
                var one = problem with
                {
                    Stocks = [problem.Stocks[0] with { Limit = 1, Cost = 0 }],
                    PieceCost = null,
                    Items = [.. problem.Items.Select((x, i) => x with { Demand = layout.Pieces.Count(p => p.Item == i) })],
                };
                FreeLayoutVerifier.Faults(one, new PlateSolution { Status = 0, Layouts = [layout], Cost = 0, Bound = 0 }).Should().BeEmpty();
                layout.Pieces.GroupBy(p => p.Item).Should().OnlyContain(g => g.Count() <= problem.Items[g.Key].Demand);
            }
        }
    }

    private static long Best(PlateProblem problem, long[] values, long[] costs)
    {
        long best = 0;
        var pieces = problem.Items.SelectMany((item, i) => Enumerable.Repeat(i, item.Demand)).ToArray();
        for (var set = 1; set < 1 << pieces.Length; set++)
        {
            var chosen = pieces.Where((_, p) => (set >> p & 1) == 1).ToArray();
            if (chosen.Any(i => costs[i] == PlateProblem.Forbidden) || chosen.Sum(i => values[i] - costs[i]) <= best)
            {
                continue;
            }

            var one = problem with
            {
                Stocks = [problem.Stocks[0] with { Limit = 1, Cost = 1 }],
                PieceCost = null,
                Items = [.. chosen.GroupBy(i => i).Select(g => problem.Items[g.Key] with { Demand = g.Count() })],
            };
            if (FreeBruteForce.Cost(one) is not null)
            {
                best = chosen.Sum(i => values[i] - costs[i]);
            }
        }

        return best;
    }
}
