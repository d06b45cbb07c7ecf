using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.CompilerServices;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Tests.Bars;

/// <summary>A quick subset of the literature's instances with their published optima (origin and terms: tests/bench-data/1d/README.md).
/// The bench runs the rest.</summary>
public class BarPublishedTests
{
    public static TheoryData<string> Names => [.. Read().Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void PublishedOptimumIsReachedAndProven(string name)
    {
        (BarProblem problem, long optimum) = Read()[name];
        BarSolution answer = BarSolver.Solve(problem, new SolveLimits { Seconds = 60 });
        answer.Bound.Should().BeLessThanOrEqualTo(optimum);
        answer.Cost.Should().Be(optimum);
        answer.Status.Should().Be(SolveStatus.Proven);
        BarCheck.Cost(problem, answer.Layouts, out string fault).Should().Be(optimum, fault);
    }

    private static Dictionary<string, (BarProblem Problem, long Optimum)> Read([CallerFilePath] string here = "")
    {
        string file = Path.Combine(Path.GetDirectoryName(here)!, "..", "Data", "bars", "published-quick.txt");
        var result = new Dictionary<string, (BarProblem, long)>();
        string[][] lines = [.. File.ReadLines(file).Where(l => l.Length > 0 && l[0] != '#').Select(l => l.Split(' '))];
        for (int at = 0; at < lines.Length;)
        {
            string[] head = lines[at++];
            long[] numbers = [.. head.Skip(2).Select(t => long.Parse(t, CultureInfo.InvariantCulture))];
            var items = ImmutableArray.CreateBuilder<BarItem>();
            for (int k = 0; k < numbers[1]; k++, at++)
            {
                items.Add(new BarItem(long.Parse(lines[at][0], CultureInfo.InvariantCulture), int.Parse(lines[at][1], CultureInfo.InvariantCulture)));
            }

            numbers[2].Should().Be(numbers[3], "only instances with a published optimum belong here");
            result.Add(result.ContainsKey(head[1]) ? $"{head[1]} ({numbers[0]})" : head[1], (new BarProblem { Stocks = [new BarStock(numbers[0], 1)], Items = items.ToImmutable() }, numbers[3]));
        }

        return result;
    }
}
