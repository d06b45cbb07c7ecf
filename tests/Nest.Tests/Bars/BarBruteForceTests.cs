using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Tests.Bars;

public class BarBruteForceTests
{
    private static readonly SolveLimits Limits = new() { Seconds = 20 };

    public static TheoryData<int> Blocks => [.. Enumerable.Range(0, 20)];

    [Theory]
    [MemberData(nameof(Blocks))]
    public void SmallProblemsAgreeWithPlainSearch(int block)
    {
        var random = new Random(7919 * (block + 1));
        for (int n = 0; n < 150; n++)
        {
            BarProblem problem = Small(random);
            long? truth = BruteBars.Solve(problem);
            BarSolution answer = BarSolver.Solve(problem, Limits);
            string text = Describe(problem, block, n);
            if (truth is null)
            {
                answer.Status.Should().BeOneOf([SolveStatus.Impossible, SolveStatus.NotFound], text);
                answer.Status.Should().Be(SolveStatus.Impossible, text);
                continue;
            }

            answer.Bound.Should().BeLessThanOrEqualTo(truth.Value, "a bound never exceeds the optimum: " + text);
            answer.Status.Should().Be(SolveStatus.Proven, text);
            answer.Cost.Should().Be(truth.Value, text);
        }
    }

    [Fact]
    public void PricingAgreesWithCountingAllLayouts()
    {
        var random = new Random(4711);
        for (int n = 0; n < 1500; n++)
        {
            BarProblem problem = Small(random);
            BarStock stock = problem.Stocks[0];
            long scale = random.Next(1, 50);
            long[] values = [.. problem.Items.Select(i => random.NextInt64(0, scale * 40))];
            var pricer = new BarPricer(
                stock,
                problem.Kerf,
                [.. problem.Items.Select(i => i.Length)],
                [.. problem.Items.Select(i => i.Demand)],
                problem.PieceCost is null ? default : [.. problem.Items.Select((_, i) => problem.PieceCost[0, i])]);
            Pricing<ImmutableArray<int>> answer = pricer.Price(values, scale, 5);
            long truth = scale * stock.Leftover.Of(stock.Length);
            foreach ((int[] counts, long cost) in BruteBars.Layouts(problem, 0))
            {
                truth = Math.Max(truth, counts.Select((c, i) => c * values[i]).Sum() + (scale * (stock.Cost - cost)));
            }

            string text = Describe(problem, 0, n);
            answer.UpperBound.Should().Be(truth, text);
            pricer.LastExact.Should().BeTrue();
            foreach ((ImmutableArray<int> counts, long value) in answer.Layouts)
            {
                long? cost = BruteBars.Cost(problem, stock, 0, [.. counts]);
                cost.Should().NotBeNull(text);
                value.Should().Be(counts.Select((c, i) => c * values[i]).Sum() + (scale * (stock.Cost - cost!.Value)), text);
            }

            if (truth > scale * stock.Leftover.Of(stock.Length))
            {
                answer.Layouts[0].Value.Should().Be(truth, text);
            }

            answer.Layouts.Select(l => string.Join(',', l.Layout)).Should().OnlyHaveUniqueItems();
        }
    }

    internal static BarProblem Small(Random random)
    {
        int kinds = random.Next(1, 5);
        int stocks = random.Next(1, 4);
        int longest = random.Next(8, 41);
        long kerf = random.Next(0, 4);
        var bars = Enumerable.Range(0, stocks).Select(_ =>
        {
            long length = random.Next(longest / 2, longest + 10);
            long cost = random.Next(4) == 0 ? 0 : random.Next(1, 30);
            int? limit = random.Next(3) == 0 ? random.Next(0, 5) : null;
            long den = random.Next(1, 8);
            long keep = random.NextInt64(0, Math.Max(1, cost * den / Math.Max(1, length)) + 1);
            while (keep * length / den > cost)
            {
                keep--;
            }

            return new BarStock(length, cost, limit)
            {
                ShortestHeld = random.Next(3) == 0 ? random.Next(1, 14) : 0,
                MostPieces = random.Next(4) == 0 ? random.Next(1, 5) : null,
                Leftover = random.Next(2) == 0 ? LeftoverValue.None : new LeftoverValue(random.Next(0, 12), keep, random.NextInt64(0, keep + 1), den),
            };
        });
        var items = Enumerable.Range(0, kinds).Select(_ => new BarItem(random.Next(1, longest), random.Next(1, 5)));
        BarProblem problem = new() { Kerf = kerf, Stocks = [.. bars], Items = [.. items] };
        if (random.Next(4) == 0)
        {
            var extra = new long[problem.Stocks.Length, problem.Items.Length];
            for (int s = 0; s < problem.Stocks.Length; s++)
            {
                for (int i = 0; i < problem.Items.Length; i++)
                {
                    extra[s, i] = random.Next(6) == 0 ? BarProblem.Forbidden : random.Next(0, 4);
                }
            }

            problem = problem with { PieceCost = extra };
        }

        return problem;
    }

    internal static string Describe(BarProblem p, int block, int n) =>
        $"block {block} case {n}: kerf {p.Kerf}; stocks {string.Join("; ", p.Stocks.Select(s => s.ToString()))}; items "
        + $"{string.Join(' ', p.Items.Select(i => $"{i.Length}x{i.Demand}"))}; extra {(p.PieceCost is null ? "none" : string.Join(',', p.PieceCost.Cast<long>()))}".Replace("{", "(", StringComparison.Ordinal).Replace("}", ")", StringComparison.Ordinal);
}
