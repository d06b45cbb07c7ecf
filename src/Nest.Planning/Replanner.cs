using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Solve;

namespace Nest.Planning;

/// <summary>Plans a job again from a plan that is there, after something was changed: the first answer keeps every layout that is still right and plans only the
/// rest, so it is there at once; then the whole job is searched. The cheaper plan counts, under the bound of the whole job.</summary>
public static class Replanner
{
    /// <summary>For the rest of the first answer. On the metric example, one part more, 0.2 s give the plan that 1 s gives: what is left is small, and
    /// the search of the whole job comes after it.</summary>
    private const double FirstSeconds = 0.4;

    /// <summary>Layouts that the first answer tries to keep at most, beside those that must stay.</summary>
    private const int MostKept = 60;

    /// <param name="given">The changed job; the layouts that must stay are in its <see cref="Job.Kept"/>.</param>
    /// <param name="from">The plan that is there.</param>
    /// <param name="first">Called with the first answer.</param>
    /// <param name="progress">As <see cref="Planner.Plan(JobInput, PlanOptions?, Action{SolveProgress}?, CancellationToken)"/>.</param>
    public static PlanResult Plan(JobInput given, Plan from, PlanOptions options, Action<PlanResult> first, Action<SolveProgress>? progress = null, CancellationToken cancel = default)
    {
        var quick = Quick(given, from, options, cancel);
        if (quick is null)
        {
            return Planner.Plan(given, options, progress, cancel);
        }

        first(new(quick, [], false));
        progress?.Invoke(new(0, quick.TotalCost, Bound.None, true, Missing(quick)));
        var whole = Planner.Plan(given, options, point => progress?.Invoke(Cheaper(quick, point)), cancel);
        return whole.Plan is { } plan && Missing(quick) <= Missing(plan) && quick.TotalCost < plan.TotalCost && UnderBound(quick, plan) is { } better ? new(better, whole.Findings, false) : whole;
    }

    /// <summary>A plan that keeps the layouts that are still right; null where none is, or the checker refuses it.</summary>
    private static Plan? Quick(JobInput given, Plan from, PlanOptions options, CancellationToken cancel)
    {
        var job = given.Job;
        var must = job.Kept.Select(Same).ToHashSet(StringComparer.Ordinal);
        var stay = from.Layouts.Where(layout => must.Contains(Same(from.Job, layout))).Select(layout => layout.Number).ToList();
        var kept = KeptLayouts.AsMany(job, from, stay, from.Layouts.Where(layout => !layout.Pieces.IsEmpty).Select(layout => layout.Number).Take(MostKept));
        if (kept is null || Planner.Plan(kept, options with { Seconds = Math.Min(FirstSeconds, options.Seconds ?? FirstSeconds) }, null, cancel).Plan is not { } plan)
        {
            return null;
        }

        // Only what must stay is a condition; the rest just came out so. Its bound is for plans with all of them: it says nothing of the job.
        var free = plan with
        {
            Job = plan.Job with { Kept = [] },
            Bound = Bound.None,
            Status = plan.Status == SolveStatus.Proven ? SolveStatus.BestFound : plan.Status,
            Layouts = [.. plan.Layouts.Select(layout => layout.Kept && !must.Contains(Same(plan.Job, layout)) ? layout with { Kept = false } : layout)],
        };
        return Planner.Check(free).HasErrors() ? null : free;
    }

    /// <summary>The plan under the bound that was found for the whole job; null where the checker refuses it.</summary>
    private static Plan? UnderBound(Plan quick, Plan whole)
    {
        var proven = whole.Bound.Proves(quick.TotalCost);
        var plan = quick with { Bound = whole.Bound, Status = proven ? SolveStatus.Proven : quick.Status, Seconds = whole.Seconds, Seed = whole.Seed };
        return Planner.Check(plan).HasErrors() ? null : plan;
    }

    private static SolveProgress Cheaper(Plan quick, SolveProgress point) =>
        point.Complete && point.Missing <= Missing(quick) && point.Cost <= quick.TotalCost ? point : point with { Cost = quick.TotalCost, Complete = true, Missing = Missing(quick) };

    private static int Missing(Plan plan) => plan.Unplaced.Sum(left => left.Count);

    /// <summary>What makes two layouts the same, whatever their number.</summary>
    private static string Same(Job job, Layout given) => Same(SparesOut.Bare(job, given));

    private static string Same(Layout layout) => string.Join('|', layout.Pieces.Select(piece => $"{piece.PartId}@{piece.Area}").Prepend($"{layout.StockId} {layout.Count}"));
}
