using Nest.Core.Jobs;

namespace Nest.Judge.Jobs;

/// <summary>Tiny jobs, every other one fussy, of which each part is wanted once or more on top where that takes no metal.</summary>
public static class SpareJobs
{
    public static Job Make(int seed)
    {
        var job = seed % 2 == 0 ? TinyJobs.Make(seed) : FussyJobs.Make(seed);
        return job with { Name = $"spares-{seed}", Parts = [.. job.Parts.Select((part, at) => part with { FreeSpares = 2 + at })] };
    }
}
