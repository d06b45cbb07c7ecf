using Nest.Check;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Judge;
using Nest.Judge.Runs;
using Nest.Tests.Contracts;

namespace Nest.Tests.Judge;

/// <summary>Raw bound ≤ true optimum ≤ cost on tiny jobs with everything on at once, and proven only at the optimum.</summary>
public class TinyJobsTests(TinyRunFixture run) : IClassFixture<TinyRunFixture>
{
    private static readonly IReadOnlyDictionary<string, string> Known = KnownJobs.Read();

    public static TheoryData<string> Found =>
        [.. Directory.GetDirectories(Path.Combine(AppContext.BaseDirectory, "found")).Select(folder => Path.GetFileName(folder)!).Order(StringComparer.Ordinal)];

    [Fact]
    public void No_plan_or_bound_contradicts_the_enumeration()
    {
        var wrong = run.Verdicts.Where(pair => pair.Value.Wrong.Count > 0 && !Known.ContainsKey($"tiny-{pair.Key}")).OrderBy(pair => pair.Key)
            .Select(pair => $"seed {pair.Key}: {string.Join("; ", pair.Value.Wrong)}");
        wrong.Should().BeEmpty();
    }

    [Theory]
    [MemberData(nameof(Found))]
    public void What_the_long_run_found_is_mended_or_known(string folder)
    {
        var job = JobReader.Read(Path.Combine(AppContext.BaseDirectory, "found", folder, "job.toml")).Value!.Job;
        var wrong = Verdict.Of(job, TinyRun.Limits(TinyRun.Work)).Wrong;
        (wrong.Count > 0).Should().Be(
            Known.ContainsKey($"found/{folder}"), $"known.csv names what is wrong and nothing else; this job: {string.Join("; ", wrong)}");
    }

    [Fact]
    public void Known_contradictions_that_are_mended_are_struck_out_of_known_csv()
    {
        run.Verdicts.Where(pair => pair.Value.Wrong.Count == 0).Select(pair => $"tiny-{pair.Key}").Where(Known.ContainsKey).Should().BeEmpty();
    }

    /// <summary>Plates, bars, cutters, angled ends, purchase terms, pieces cut to size: all in one start of Python.</summary>
    [PythonFact]
    public void The_second_checker_agrees_with_the_first_on_every_plan()
    {
        var folder = Directory.CreateTempSubdirectory("nest-second-").FullName;
        try
        {
            var right = run.Verdicts.Where(pair => pair.Value.Plan is { } plan && PlanChecker.Check(plan).IsEmpty).OrderBy(pair => pair.Key).ToList();
            right.Count.Should().BeGreaterThan(TinyRunFixture.Jobs * 4 / 5);
            foreach (var (seed, verdict) in right)
            {
                File.WriteAllText(Path.Combine(folder, $"{seed:0000}.json"), PlanFile.ToText(verdict.Plan!));
            }

            var (code, text) = SecondChecker.Check(Directory.GetFiles(folder).Order(StringComparer.Ordinal));
            code.Should().Be(0, string.Join('\n', text.Split('\n').Where(line => !line.EndsWith(": OK", StringComparison.Ordinal)).Take(40)));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Nearly_all_jobs_can_be_enumerated() => run.TooLarge.Count.Should().BeLessThan(TinyRunFixture.Jobs / 50);

    /// <summary>What is reached, of 456 jobs of which something can be cut; raise it with the solver. (439 and 395 while eight jobs had a piece cut to size
    /// thicker than wide, which no list may have.) Proofs were 353 of 436 while every raw
    /// edge was cut off in every layout: since a cut along a raw right or top edge depends on what lies there, the exact method counts
    /// none of them in its bound (see the README of Nest.Solve/Exact).</summary>
    [Fact]
    public void Most_plans_are_the_cheapest_and_many_are_proven()
    {
        var planned = run.Verdicts.Values.Where(verdict => verdict.Plan is { Layouts.IsEmpty: false }).ToList();
        planned.Count(verdict => verdict.IsBest).Should().BeGreaterThanOrEqualTo(437);
        planned.Count(verdict => verdict.Plan!.Status == SolveStatus.Proven).Should().BeGreaterThanOrEqualTo(392);
    }
}
