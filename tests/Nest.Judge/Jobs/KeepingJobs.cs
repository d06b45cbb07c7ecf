using Nest.Core.Inputs;
using Nest.Core.Jobs;

namespace Nest.Judge.Jobs;

/// <summary>Fussy jobs of which a layout of an earlier plan stays: that of the tiny job of the same seed, at other prices and rules.</summary>
public static class KeepingJobs
{
    /// <summary>Null: the seed's plan has no layout that could stay.</summary>
    public static Job? Make(int seed, long work)
    {
        var job = FussyJobs.Make(seed);
        var (plan, _) = Verdict.Planned(TinyJobs.Make(seed), Runs.TinyRun.Limits(work));
        return plan.Layouts.Where(layout => !layout.Pieces.IsEmpty).Select(layout => KeptLayouts.On(job, plan, [layout.Number]).Job)
            .FirstOrDefault(kept => kept is not null) is { } around ? around with { Name = $"keeping-{seed}" } : null;
    }
}
