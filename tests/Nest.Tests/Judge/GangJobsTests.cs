using System.Collections.Concurrent;
using Nest.Core.Blanks;
using Nest.Core.Plans;
using Nest.Judge;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;
using Nest.Solve.Gangs;

namespace Nest.Tests.Judge;

/// <summary>Bound ≤ true optimum ≤ cost where the planner chooses how many parts come from one blank.</summary>
public class GangJobsTests
{
    [Fact]
    public void No_plan_or_bound_contradicts_the_enumeration_of_all_numbers_per_blank()
    {
        var wrong = new ConcurrentBag<string>();
        var (judged, proven) = (0, 0);
        Parallel.For(14, 28, new ParallelOptions { MaxDegreeOfParallelism = 2 }, seed =>
        {
            try
            {
                if (GangJobs.Make(seed) is { } job)
                {
                    var verdict = GangVerdict.Of(job, TinyRun.Limits(TinyRun.Work));
                    Interlocked.Increment(ref judged);
                    Interlocked.Add(ref proven, verdict.Proven ? 1 : 0);
                    verdict.Wrong.ToList().ForEach(one => wrong.Add($"{job.Name}: {one}"));
                }
            }
            catch (TooLargeException)
            {
                // Not every made job can be enumerated.
            }
        });
        wrong.Should().BeEmpty();
        judged.Should().BeGreaterThan(3);
        proven.Should().BePositive();
    }

    // Every choice of numbers per blank is a job of its own, and its enumerated optimum is held against what is said of the choice without planning it.
    [Fact]
    public void What_is_said_of_choices_that_were_not_planned_is_below_the_optimum_of_each()
    {
        var wrong = new ConcurrentBag<string>();
        var judged = 0;
        Parallel.For(74, 99, new ParallelOptions { MaxDegreeOfParallelism = 2 }, seed =>
        {
            if (GangJobs.Make(seed) is not { } job)
            {
                return;
            }

            var groups = GangOptions.Groups(job).Select(group => (group.Part, group.Mate, Options: GangOptions.Of(job, group.Part, group.Mate))).ToList();
            var bound = new GangBound(job, groups);
            foreach (var choice in Choices(groups.ConvertAll(group => group.Options.Length)))
            {
                try
                {
                    var optimum = Optimum.Of(GangOptions.With(job, [.. groups.Select((group, at) => (group.Part, group.Mate, group.Options[choice[at]]))])).Cost;
                    if (optimum is { } least && bound.Of(choice).Value is { } value)
                    {
                        Interlocked.Increment(ref judged);
                        if (value > least + Bound.Rounding || bound.Least.Value > value)
                        {
                            wrong.Add($"{job.Name}, choice {string.Join(',', choice)}: {value} above {least}, or the least of all, {bound.Least}, above it");
                        }
                    }
                }
                catch (TooLargeException)
                {
                    // Not every made job can be enumerated.
                }
            }
        });
        wrong.Should().BeEmpty();
        judged.Should().BeGreaterThan(20);
    }

    private static IEnumerable<int[]> Choices(List<int> options) => options.Count == 0 ? [[]]
        : Choices(options[1..]).SelectMany(rest => Enumerable.Range(0, options[0]).Select(first => (int[])[first, .. rest]));
}
