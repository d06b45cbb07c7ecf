using System.Collections.Concurrent;
using Nest.Judge;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;

namespace Nest.Tests.Judge;

/// <summary>Raw bound ≤ true optimum ≤ cost where fuss has a price, parts keep to one stock or size, or a layout of an earlier plan stays.</summary>
public class FussyJobsTests
{
    [Theory]
    [InlineData(0, 24, false)]
    [InlineData(0, 16, true)]
    public void No_plan_or_bound_contradicts_the_enumeration(int from, int to, bool keeping)
    {
        var wrong = new ConcurrentBag<string>();
        var judged = 0;
        Parallel.For(from, to, new ParallelOptions { MaxDegreeOfParallelism = 2 }, seed =>
        {
            try
            {
                if ((keeping ? KeepingJobs.Make(seed, TinyRun.Work) : FussyJobs.Make(seed)) is { } job)
                {
                    var verdict = Verdict.Of(job, TinyRun.Limits(TinyRun.Work));
                    Interlocked.Increment(ref judged);
                    verdict.Wrong.ToList().ForEach(one => wrong.Add($"{job.Name}: {one}"));
                }
            }
            catch (TooLargeException)
            {
                // Not every made job can be enumerated.
            }
        });
        wrong.Should().BeEmpty();
        judged.Should().BeGreaterThan((to - from) / 2);
    }
}
