using System.Globalization;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge.Enumeration;
using Nest.Solve;

namespace Nest.Judge;

/// <summary>What the enumeration says of a plan and its bound.</summary>
/// <param name="Wrong">Each thing that must not be; empty when all holds.</param>
/// <param name="Optimum">Least cost of the pieces that the plan places; null: not enumerated.</param>
/// <param name="Raw">Highest bound that was claimed for the whole job.</param>
/// <param name="LeftOut">Pieces that the plan leaves out though they can be cut: no contradiction, but a plan that misses something.</param>
public sealed record Verdict(IReadOnlyList<string> Wrong, Plan? Plan, Money? Optimum, Money? Raw, int LeftOut)
{
    private const long Cent = Money.UnitsPerCurrency / 100;

    /// <summary>Whether the plan is one of the cheapest.</summary>
    public bool IsBest => Plan is not null && Optimum is { } optimum && Plan.TotalCost.Units - optimum.Units < Cent && LeftOut == 0;

    /// <summary>Plans the job and judges the plan.</summary>
    /// <exception cref="TooLargeException">The job cannot be enumerated.</exception>
    public static Verdict Of(Job job, SolveLimits limits)
    {
        var optimum = Enumeration.Optimum.Of(job);
        try
        {
            var (plan, raw) = Planned(job, limits);
            return Of(job, optimum, plan, raw);
        }
        catch (Exception fault) when (fault is not TooLargeException)
        {
            return new([$"threw {fault.GetType().Name}: {fault.Message}"], null, optimum.Cost, null, 0);
        }
    }

    /// <summary>Plans the job; the bound is the highest that was reported for a whole plan.</summary>
    public static (Plan Plan, Money? Raw) Planned(Job job, SolveLimits limits)
    {
        var errors = JobChecker.Check(job).Where(finding => finding.Severity == Severity.Error).ToList();
        if (errors.Count > 0)
        {
            throw new InvalidOperationException($"the job is refused: {string.Join("; ", errors.Select(error => error.Message))}");
        }

        var blanks = BlankSizer.Size(job);
        Money? raw = null;
        var gate = new Lock();
        var plan = JobSolver.Solve(job, blanks, limits, progress =>
        {
            lock (gate)
            {
                raw = progress.Complete ? Higher(raw, progress.Bound.Value) : raw;
            }
        });
        plan = plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
        return (plan, plan.Unplaced.IsEmpty ? Higher(raw, plan.Bound.Value) : plan.Bound.Value);
    }

    /// <summary>Judges a plan and the bound that was claimed for it.</summary>
    public static Verdict Of(Job job, Optimum optimum, Plan plan, Money? raw)
    {
        var wrong = Plain(plan, optimum.Cost is not null);
        var missing = plan.Unplaced.GroupBy(one => one.PartId).ToDictionary(group => group.Key, group => group.Sum(one => one.Count));
        int[] placed = [.. job.Parts.Select(part => checked((part.Quantity * job.Batch) + part.Extra) - missing.GetValueOrDefault(part.Id))];
        var least = optimum.Of(placed);
        if (least is not { } best)
        {
            wrong.Add("it places pieces that cannot be placed");
            return new(wrong, plan, null, raw, 0);
        }

        if (plan.TotalCost.Units < best.Units - Enumeration.Optimum.Rounding)
        {
            wrong.Add($"the plan costs {Show(plan.TotalCost)}, the enumerated optimum is {Show(best)}");
        }

        if (raw is { } bound && bound > best + Bound.Rounding)
        {
            wrong.Add($"the bound {Show(bound)} ({plan.Bound.Source}) is above the optimum {Show(best)}");
        }

        if (plan.Status == SolveStatus.Proven && plan.TotalCost.Units - best.Units >= Cent)
        {
            wrong.Add($"proven at {Show(plan.TotalCost)}, the optimum is {Show(best)}");
        }

        return new(wrong, plan, best, raw, optimum.MostPieces - placed.Sum());
    }

    /// <summary>What is wrong with a plan whatever the optimum is.</summary>
    /// <param name="possible">Whether the job can be cut.</param>
    internal static List<string> Plain(Plan plan, bool possible)
    {
        var wrong = PlanChecker.Check(plan).Select(finding => $"the checker refuses the plan: {finding.Message}").ToList();
        if (plan.IsContradicted)
        {
            wrong.Add($"the plan at {Show(plan.TotalCost)} contradicts its bound {plan.Bound}");
        }

        if (plan.Status == SolveStatus.Impossible && possible)
        {
            wrong.Add("called impossible, and can be cut");
        }

        return wrong;
    }

    private static Money? Higher(Money? one, Money? other) => one is null || other > one ? other ?? one : one;

    internal static string Show(Money money) => money.Amount.ToString("0.0000", CultureInfo.InvariantCulture);
}
