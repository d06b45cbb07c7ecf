using Nest.Core.Plans;
using Nest.Judge.Runs;

namespace Nest.Tests.Judge;

/// <summary>Raw bound ≤ true optimum ≤ cost on tiny jobs with everything on at once, and proven only at the optimum.</summary>
public class TinyJobsTests(TinyRunFixture run) : IClassFixture<TinyRunFixture>
{
    [Fact]
    public void No_plan_or_bound_contradicts_the_enumeration()
    {
        var known = KnownSeeds.Read();
        var wrong = run.Verdicts.Where(pair => pair.Value.Wrong.Count > 0 && !known.ContainsKey(pair.Key)).OrderBy(pair => pair.Key)
            .Select(pair => $"seed {pair.Key}: {string.Join("; ", pair.Value.Wrong)}");
        wrong.Should().BeEmpty();
    }

    [Fact]
    public void Known_contradictions_that_are_mended_are_struck_out_of_known_csv()
    {
        KnownSeeds.Read().Keys.Where(seed => seed < TinyRunFixture.Jobs && run.Verdicts.TryGetValue(seed, out var verdict) && verdict.Wrong.Count == 0)
            .Should().BeEmpty();
    }

    [Fact]
    public void Nearly_all_jobs_can_be_enumerated() => run.TooLarge.Count.Should().BeLessThan(TinyRunFixture.Jobs / 50);

    /// <summary>What is reached, of 437 jobs of which something can be cut; raise it with the solver.</summary>
    [Fact]
    public void Most_plans_are_the_cheapest_and_many_are_proven()
    {
        run.Verdicts.Values.Count(verdict => verdict.IsBest).Should().BeGreaterThanOrEqualTo(412);
        run.Verdicts.Values.Count(verdict => verdict.Plan is { Status: SolveStatus.Proven }).Should().BeGreaterThanOrEqualTo(186);
    }
}
