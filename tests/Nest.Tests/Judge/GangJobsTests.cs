using System.Collections.Concurrent;
using Nest.Judge;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;

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
}
