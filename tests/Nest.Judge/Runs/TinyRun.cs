using Nest.Solve;

namespace Nest.Judge.Runs;

/// <summary>The limits of a tiny job.</summary>
public static class TinyRun
{
    /// <summary>Limit of work for a tiny job.</summary>
    public const long Work = 3000;

    /// <summary>Work only; the clock is a guard that is never reached.</summary>
    public static SolveLimits Limits(long work, int seed = 1) => new() { Work = work, Seconds = 600, Seed = seed, Threads = 1 };
}
