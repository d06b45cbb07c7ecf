using System.Collections.Concurrent;
using Nest.Judge;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;

namespace Nest.Tests.Judge;

/// <summary>Plans and judges the tiny jobs of the ordinary run once for all tests.</summary>
public sealed class TinyRunFixture
{
    /// <summary>Tiny jobs in the ordinary run; the long run of <c>tests/Nest.Judge</c> takes any range.</summary>
    public const int Jobs = 500;

    public TinyRunFixture()
    {
        Parallel.For(0, Jobs, new ParallelOptions { MaxDegreeOfParallelism = 2 }, seed =>
        {
            try
            {
                Verdicts[seed] = Verdict.Of(TinyJobs.Make(seed), TinyRun.Limits(TinyRun.Work));
            }
            catch (TooLargeException)
            {
                TooLarge.Add(seed);
            }
        });
    }

    public ConcurrentDictionary<int, Verdict> Verdicts { get; } = [];

    public ConcurrentBag<int> TooLarge { get; } = [];
}
