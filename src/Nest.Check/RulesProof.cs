using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The plan claims no more than it can.</summary>
internal static class RulesProof
{
    // A tenth of a cent.
    private const long MostRounding = Money.UnitsPerCurrency / 1000;

    /// <summary>A bound above the cost is wrong: such a plan may be given, but not as proven.</summary>
    public static void Bound(PlanFacts facts)
    {
        var plan = facts.Plan;
        if (plan.Status == SolveStatus.Proven && plan.Bound.Value is { } bound && (Int128)bound.Units - plan.TotalCost.Units > MostRounding)
        {
            facts.Add("bound-above-cost", "plan",
                $"claims to be proven, but the lower bound {bound.Amount} is above the cost {plan.TotalCost.Amount}, so it is wrong");
        }
    }

    /// <summary>Proven needs cost and bound within less than a cent; not found and impossible have no layouts to show.</summary>
    public static void Status(PlanFacts facts)
    {
        var plan = facts.Plan;
        var cent = Money.UnitsPerCurrency / 100;
        if (plan.Status == SolveStatus.Proven && plan.Bound.Value is null)
        {
            facts.Add("proof-overclaimed", "plan", "claims to be proven, but has no lower bound");
        }
        else if (plan.Status == SolveStatus.Proven && (Int128)plan.TotalCost.Units - plan.Bound.Value!.Value.Units >= cent)
        {
            facts.Add("proof-overclaimed", "plan",
                $"claims to be proven, but cost {plan.TotalCost.Amount} and lower bound {plan.Bound.Value.Value.Amount} differ by a cent or more");
        }
        else if (plan.Status == SolveStatus.NotFound && plan.Layouts.Length > 0)
        {
            facts.Add("status-wrong", "plan", "says that nothing was found, but there are layouts");
        }
        else if (plan.Status == SolveStatus.Impossible && plan.Unplaced.Length == 0)
        {
            facts.Add("status-wrong", "plan", "says that the job is impossible, but names no part that cannot be cut");
        }
    }
}
