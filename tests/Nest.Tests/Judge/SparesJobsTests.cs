using System.Collections.Concurrent;
using Nest.Judge;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;

namespace Nest.Tests.Judge;

/// <summary>Free spares: the plan of the needed pieces is the enumerated optimum's, and what lies in its scrap takes no metal.</summary>
public class SparesJobsTests
{
    // Of these seeds 187 has a spare that the vise holds only while the bar is long, and for which something else on the bar must be as long as the vise wants.
    [Fact]
    public void No_spare_costs_metal_and_the_needed_pieces_are_judged_as_without()
    {
        var wrong = new ConcurrentBag<string>();
        var (judged, laid) = (0, 0);
        Parallel.For(160, 220, new ParallelOptions { MaxDegreeOfParallelism = 2 }, seed =>
        {
            try
            {
                var job = SpareJobs.Make(seed);
                var answer = SparesVerdict.Of(job, TinyRun.Limits(300));
                Interlocked.Increment(ref judged);
                Interlocked.Add(ref laid, answer.Spares > 0 ? 1 : 0);
                answer.Verdict.Wrong.ToList().ForEach(one => wrong.Add($"{job.Name}: {one}"));
            }
            catch (TooLargeException)
            {
                // Not every made job can be enumerated.
            }
        });
        wrong.Order().Should().BeEmpty();
        judged.Should().BeGreaterThan(20);
        laid.Should().BeGreaterThan(5);
    }
}
