using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge.Enumeration;
using Nest.Judge.Settings;
using Nest.Solve;

namespace Nest.Judge;

/// <summary>Judges a plan of a job in which settings have a price.</summary>
/// <remarks>No bound may be above the cost of a plan that there is, and no plan is proven above it. That no plan costs less than the optimum is asked where the optimum is known to be one
/// (<see cref="SettledOptimum.IsExact"/>); on plates that are sawn, the optimum without settings is asked instead: a plan costs no less.</remarks>
public static class SettledVerdict
{
    private const long Cent = Money.UnitsPerCurrency / 100;

    /// <summary>Plans the job and judges the plan.</summary>
    /// <exception cref="TooLargeException">The job cannot be enumerated.</exception>
    public static Verdict Of(Job job, SolveLimits limits)
    {
        var settled = SettledOptimum.Of(job);
        try
        {
            var (plan, raw) = Verdict.Planned(job, limits);
            return Of(job, settled, plan, raw);
        }
        catch (Exception fault) when (fault is not TooLargeException)
        {
            return new([$"threw {fault.GetType().Name}: {fault.Message}"], null, settled.Cost, null, 0);
        }
    }

    private static Verdict Of(Job job, SettledOptimum settled, Plan plan, Money? raw)
    {
        var wrong = Verdict.Plain(plan, settled.Cost is not null);
        var missing = plan.Unplaced.Sum(one => one.Count);
        if (missing > 0 || settled.Cost is not { } best)
        {
            return new(wrong, plan, null, raw, settled.Cost is null ? 0 : missing);
        }

        var without = Optimum.Of(job with { Saws = [.. job.Saws.Select(saw => saw with { SettingMinutes = 0m })] }).Cost;
        var least = settled.IsExact ? best : without ?? best;
        if (plan.TotalCost.Units < least.Units - Optimum.Rounding)
        {
            wrong.Add($"the plan costs {Verdict.Show(plan.TotalCost)}, the enumerated optimum{(settled.IsExact ? "" : " without settings")} is {Verdict.Show(least)}");
        }

        if (best.Units < (without?.Units ?? best.Units) - Optimum.Rounding)
        {
            wrong.Add($"the enumeration itself is wrong: {Verdict.Show(best)} with settings, {Verdict.Show(without!.Value)} without");
        }

        if (raw is { } bound && bound > best + Bound.Rounding)
        {
            wrong.Add($"the bound {Verdict.Show(bound)} ({plan.Bound.Source}) is above an enumerated plan at {Verdict.Show(best)}");
        }

        if (plan.Status == SolveStatus.Proven && plan.TotalCost.Units - best.Units >= Cent)
        {
            wrong.Add($"proven at {Verdict.Show(plan.TotalCost)}, there is a plan at {Verdict.Show(best)}");
        }

        return new(wrong, plan, best, raw, 0);
    }
}
