using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Core.Check;

/// <summary>Verifies a finished plan from the job and the plan alone.</summary>
/// <remarks>
/// Shares no code with what makes plans: allowances, blank sizes, trims, values and costs are worked out here a second time from
/// their written rules, and everything geometric is checked on the placed rectangles. A plan with a finding must not be written.
/// One method per rule, in the Rules files; the rule names are stable. Guarantee: exact, no tolerances. Cost: O(n log n) in the
/// pieces of a layout. Never throws on a plan whose numbers are absurd: such a layout gets the finding <c>out-of-range</c> and is
/// not looked at further.
/// </remarks>
public static class PlanChecker
{
    /// <summary>Everything that is wrong; empty when the plan holds.</summary>
    public static ImmutableArray<Finding> Check(Plan plan)
    {
        var facts = new PlanFacts(plan);
        if (!RulesRange.JobInRange(facts))
        {
            return facts.Findings;
        }

        RulesStock.Numbers(facts);
        var known = new List<LayoutFacts>();
        foreach (var layout in plan.Layouts)
        {
            if (RulesRange.LayoutInRange(facts, layout) && RulesReferences.Resolve(facts, layout) is { } one)
            {
                known.Add(one);
            }
        }

        foreach (var one in known)
        {
            Check(facts, one);
        }

        RulesDemand.Met(facts);
        RulesDemand.UnplacedNamed(facts);
        RulesStock.Available(facts);
        var orders = RulesOrders.Lines(facts);
        RulesOrders.Suppliers(facts);
        RulesMoney.Total(facts, orders);
        if (known.Count == plan.Layouts.Length)
        {
            RulesMoney.PartCosts(facts, known, orders);
        }

        RulesProof.Bound(facts);
        RulesProof.Status(facts);
        return facts.Findings;
    }

    private static void Check(PlanFacts facts, LayoutFacts one)
    {
        RulesSheet.RightSaw(facts, one);
        RulesSheet.Size(facts, one);
        RulesSheet.Trims(facts, one);
        RulesSheet.TrimsWithinReach(facts, one);
        var fits = RulesFit.Pieces(facts, one);
        RulesStockRules.Kept(facts, one);
        RulesPlace.Inside(facts, one);
        RulesPlace.Apart(facts, one);
        RulesPlace.KeepOuts(facts, one);
        RulesSaw.MostPieces(facts, one);
        RulesWhole.BoughtWhole(facts, one);
        RulesWhole.CutToSize(facts, one);
        var kerf = one.BoughtWhole ? null : RulesTree.ThroughCuts(facts, one);
        if (kerf is not null)
        {
            RulesSaw.FirstCut(facts, one);
            RulesSaw.Stages(facts, one);
            RulesSaw.LargestCut(facts, one);
            RulesSaw.Held(facts, one);
            ExpectedEnds.Held(facts, one);
        }

        RulesOffcuts.Judged(facts, one);
        RulesOffcuts.Areas(facts, one, kerf);
        RulesMoney.Layout(facts, one, fits);
    }
}
