using System.Collections.Concurrent;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Judge;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;

namespace Nest.Tests.Judge;

/// <summary>Raw bound ≤ true optimum ≤ cost where some of the stock is longer than there is room for.</summary>
public class LongestStockTest
{
    /// <summary>More with NEST_SEEDS.</summary>
    private static readonly int Seeds = int.TryParse(Environment.GetEnvironmentVariable("NEST_SEEDS"), out var seeds) ? seeds : 60;

    [Fact]
    public void No_plan_or_bound_contradicts_the_enumeration()
    {
        var wrong = new ConcurrentBag<string>();
        var (judged, planned) = (0, 0);
        Parallel.For(0, Seeds, new ParallelOptions { MaxDegreeOfParallelism = 2 }, seed =>
        {
            try
            {
                if (Narrow(FussyJobs.Make(seed)) is { } job)
                {
                    var verdict = Verdict.Of(job, TinyRun.Limits(TinyRun.Work));
                    Interlocked.Increment(ref judged);
                    verdict.Wrong.ToList().ForEach(one => wrong.Add($"{job.Name}: {one}"));
                    Interlocked.Add(ref planned, verdict.Plan is { Layouts.IsEmpty: false } ? 1 : 0);
                }
            }
            catch (TooLargeException)
            {
                // Not every made job can be enumerated.
            }
        });
        wrong.Should().BeEmpty();
        judged.Should().BeGreaterThan(15);
        planned.Should().BeGreaterThan(10, "where all stock is too long there is nothing to judge");
    }

    /// <summary>Room for all that is sawn but the longest; null: one length alone.</summary>
    private static Job? Narrow(Job job)
    {
        var lengths = job.Stocks.Where(stock => stock.CutFor is null).Select(stock => Length.Max(stock.Length, stock.Width)).Distinct().OrderDescending().ToList();
        return lengths.Count < 2 ? null : job with { Saws = [.. job.Saws.Select(saw => saw with { LongestStock = lengths[1] })] };
    }
}
