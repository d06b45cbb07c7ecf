using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge.Enumeration;
using Nest.Solve;
using Nest.Solve.Gangs;

namespace Nest.Judge;

/// <summary>What the enumeration says of a plan whose numbers per blank the planner chose: the least cost over all ways.</summary>
public static class GangVerdict
{
    private const long Cent = Money.UnitsPerCurrency / 100;

    /// <returns>Each thing that must not be, and whether the plan is proven to be the best.</returns>
    /// <exception cref="TooLargeException">The job cannot be enumerated.</exception>
    public static (IReadOnlyList<string> Wrong, bool Proven) Of(Job job, SolveLimits limits)
    {
        var errors = JobChecker.Check(job).Where(finding => finding.Severity == Severity.Error).Select(finding => finding.Message).ToList();
        if (errors.Count > 0)
        {
            return (errors, false);
        }

        var ways = GangWays.Of(job).ToList();
        var costs = ways.Select(way => Optimum.Of(way).Cost).ToList();
        var plan = GangSolver.Solve(job, limits);
        plan = plan with { PartCosts = CostSheet.PartCosts(plan.Job, BlankSizer.Size(plan.Job), plan.Layouts) };
        var wrong = PlanChecker.Check(plan).Select(finding => $"the checker refuses the plan: {finding.Where} {finding.Message}").ToList();
        if (costs.OfType<Money>().ToList() is not { Count: > 0 } possible)
        {
            if (plan.Unplaced.IsEmpty)
            {
                wrong.Add("it cuts what cannot be cut");
            }

            return (wrong, false);
        }

        var best = possible.Min();
        if (plan.Unplaced.IsEmpty && plan.TotalCost.Units < best.Units - Optimum.Rounding)
        {
            wrong.Add($"the plan costs {plan.TotalCost.Amount}, the cheapest of {ways.Count} ways {best.Amount}");
        }

        if (plan.Bound.Value is { } bound && bound > best + Bound.Rounding)
        {
            wrong.Add($"the bound {bound.Amount} is above the cheapest of {ways.Count} ways, {best.Amount}");
        }

        if (plan.Status == SolveStatus.Proven && plan.TotalCost.Units - best.Units >= Cent)
        {
            wrong.Add($"proven at {plan.TotalCost.Amount}, the optimum is {best.Amount}");
        }

        return (wrong, plan.Status == SolveStatus.Proven);
    }
}
