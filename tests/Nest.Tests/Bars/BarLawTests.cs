using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Tests.Bars;

/// <summary>What must hold between related problems, whatever the numbers; larger than brute force could check.</summary>
public class BarLawTests
{
    private static readonly SolveLimits Limits = new() { Seconds = 30 };

    public static TheoryData<int> Seeds => [.. Enumerable.Range(3, 4)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void RelatedProblemsAgree(int seed)
    {
        BarProblem problem = Medium(seed);
        long cost = Proven(problem);

        // One more stock offered is never dearer.
        Proven(problem with { Stocks = problem.Stocks.Add(new BarStock(217, 30)) }).Should().BeLessThanOrEqualTo(cost);

        // A thicker kerf is never cheaper.
        Proven(problem with { Kerf = problem.Kerf + 1 }).Should().BeGreaterThanOrEqualTo(cost);

        // Scaling every length changes nothing.
        Proven(problem with
        {
            Kerf = problem.Kerf * 7,
            Stocks = [.. problem.Stocks.Select(s => s with { Length = s.Length * 7, ShortestHeld = s.ShortestHeld * 7 })],
            Items = [.. problem.Items.Select(i => i with { Length = i.Length * 7 })],
        }).Should().Be(cost);

        // Nor does the order of the rows.
        Proven(problem with { Stocks = [.. problem.Stocks.Reverse()], Items = [.. problem.Items.Reverse()] }).Should().Be(cost);

        // Nor a quantity split over two rows.
        BarItem first = problem.Items[0];
        Proven(problem with
        {
            Items = [first with { Demand = first.Demand - 1 }, .. problem.Items.Skip(1), first with { Demand = 1 }],
        }).Should().Be(cost);

        // A rule more is never cheaper.
        Proven(problem with { Stocks = [.. problem.Stocks.Select(s => s with { MostPieces = 4 })] }).Should().BeGreaterThanOrEqualTo(cost);
        Proven(problem with { Stocks = [.. problem.Stocks.Select(s => s with { ShortestHeld = 35 })] }).Should().BeGreaterThanOrEqualTo(cost);
    }

    [Fact]
    public void SameSeedAndWorkGiveTheSamePlan()
    {
        BarProblem problem = Medium(99);
        var limits = new SolveLimits { Seconds = 60, Work = 300_000, Seed = 5 };
        BarSolution a = BarSolver.Solve(problem, limits);
        BarSolution b = BarSolver.Solve(problem, limits);
        b.Cost.Should().Be(a.Cost);
        b.Bound.Should().Be(a.Bound);
        Text(b).Should().Be(Text(a));
    }

    [Fact]
    public void APlanComesAtOnceAndEveryEventIsBetterOrNicer()
    {
        var costs = new List<long>();
        BarSolution answer = BarSolver.Solve(Medium(7), Limits, s => costs.Add(s.Cost));
        costs.Should().NotBeEmpty().And.BeInDescendingOrder();
        costs[^1].Should().Be(answer.Cost);
    }

    [Fact]
    public void CancelledBeforeTheStartStillGivesAPlan()
    {
        using var source = new CancellationTokenSource();
        source.Cancel();
        BarSolution answer = BarSolver.Solve(Medium(3), Limits, null, source.Token);
        answer.Status.Should().BeOneOf(SolveStatus.BestFound, SolveStatus.Proven);
        answer.Bound.Should().BeLessThanOrEqualTo(answer.Cost);
    }

    [Fact]
    public void TooLittleStockIsImpossibleAndSaysSo()
    {
        // 5 × 60 from four bars of 100: material would do (300 of 400), the lengths do not.
        var problem = new BarProblem { Stocks = [new BarStock(100, 1, 4)], Items = [new BarItem(60, 5)] };
        BarSolver.Solve(problem, Limits).Status.Should().Be(SolveStatus.Impossible);
        BarSolver.Solve(problem with { Stocks = [new BarStock(100, 1, 5)] }, Limits).Status.Should().Be(SolveStatus.Proven);
    }

    [Fact]
    public void LeftoversAreGatheredAtEqualCost()
    {
        // Two bars are needed either way; one leftover of 70 is better than 35 + 35.
        var problem = new BarProblem { Stocks = [new BarStock(100, 1)], Items = [new BarItem(35, 2), new BarItem(30, 2)] };
        BarSolution answer = BarSolver.Solve(problem, Limits);
        answer.Cost.Should().Be(2);
        answer.Layouts.Max(l => 100 - l.Counts.Select((c, i) => c * problem.Items[i].Length).Sum()).Should().Be(70);
    }

    [Fact]
    public void LargeCapacitiesAreSearchedWithoutATable()
    {
        // Nanometres with no common divisor: 6 m bars, 1 nm apart. Two pieces of 2.9 m and a bit fit, three of 2 m do not.
        var problem = new BarProblem
        {
            Stocks = [new BarStock(6_000_000_000, 1)],
            Items = [new BarItem(2_000_000_001, 5), new BarItem(2_900_000_003, 4), new BarItem(999_999_998, 3)],
        };
        BarSolution answer = BarSolver.Solve(problem, Limits);
        answer.Status.Should().Be(SolveStatus.Proven);
        answer.Cost.Should().Be(5);
    }

    private static long Proven(BarProblem problem)
    {
        BarSolution answer = BarSolver.Solve(problem, Limits);
        answer.Status.Should().Be(SolveStatus.Proven, BarBruteForceTests.Describe(problem, (int)answer.Cost, (int)answer.Bound));
        BarCheck.Cost(problem, answer.Layouts, out string fault).Should().Be(answer.Cost, fault);
        return answer.Cost;
    }

    private static string Text(BarSolution s) =>
        string.Join(';', s.Layouts.Select(l => $"{l.Stock}:{string.Join(',', l.Counts)}x{l.Count}"));

    private static BarProblem Medium(int seed)
    {
        var random = new Random(seed);
        return new BarProblem
        {
            Stocks = [new BarStock(200, 20), new BarStock(130, 14), new BarStock(90, 8, 2)],
            Items = [.. Enumerable.Range(0, 10).Select(_ => new BarItem(random.Next(9, 90), random.Next(2, 5)))],
            Kerf = random.Next(0, 3),
        };
    }
}
