using Nest.Core.Blanks;
using Nest.Solve.Choose;
using Nest.Solve.Exact;
using Nest.Tests.Makers;

namespace Nest.Tests.Exact;

/// <summary>The search over a few pieces of stock against the programme over the same loads.</summary>
public class LoadSearchTest
{
    [Fact]
    public void It_finds_what_the_programme_finds()
    {
        var found = 0;
        for (var seed = 1; seed <= 12; seed++)
        {
            var job = PlateJobs.Small(seed);
            var components = Components.Of(job, BlankSizer.Size(job));
            if (components.Length != 1)
            {
                continue;
            }

            var exact = new ExactJob(job, components, tied: false, 1e6);
            var values = new ValueGeneration(exact, 1);
            values.Generate(null, new(60, 100_000, default)).Should().NotBeNull();
            var cut = values.Cuts[^1];
            var loads = exact.Sources.SelectMany(source => source.Within(exact.ValuesOf(cut.Values, source), (long)(3 * Grain.PerCurrency), new(200_000, 1, () => false), out _) ?? []).ToList();
            foreach (var counts in Counts(exact))
            {
                var programme = LoadMaster.Solve(exact, loads, counts, exactly: true, new(60, 20_000, default));
                var answer = LoadSearch.Solve(exact, loads, counts, cut, double.MaxValue / 4)!;

                answer.Plan.IsEmpty.Should().Be(programme.Plan.IsEmpty, "seed {0}", seed);
                if (!answer.Plan.IsEmpty)
                {
                    answer.Cost.Should().BeApproximately(programme.Cost, 0.001 * Grain.PerCurrency, "seed {0}", seed);
                    found++;
                }
            }
        }

        found.Should().BeGreaterThan(5);
    }

    /// <summary>One or two pieces of stock.</summary>
    private static IEnumerable<int[]> Counts(ExactJob job)
    {
        for (var a = 0; a < job.Sources.Length; a++)
        {
            for (var b = a; b <= job.Sources.Length; b++)
            {
                var counts = new int[job.Sources.Length];
                counts[a]++;
                counts[b == job.Sources.Length ? a : b] += b == job.Sources.Length ? 0 : 1;
                if (counts.Select((n, s) => n <= (job.Sources[s].Limit ?? 9)).All(enough => enough))
                {
                    yield return counts;
                }
            }
        }
    }
}
