using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Check;

/// <summary>Verifies a finished plan from the job and the plan alone.</summary>
/// <remarks>
/// Shares no code with what makes plans: this assembly sees values only (quantities, geometry, jobs, plans), and of these it uses what they
/// hold, not what they work out. Allowances, blank sizes, trims, values and costs are worked out here a second time from
/// their written rules, and everything geometric is checked on the placed rectangles. A plan with a finding must not be written.
/// One method per rule, in the Rules files; the rule names are stable. Guarantee: exact, no tolerances. Cost: O(n log n) in the
/// pieces of a layout. Never throws on a plan, however absurd: one that lacks values gets the finding <c>incomplete</c>, numbers that
/// cannot be reckoned with <c>out-of-range</c>; what they stand in is not looked at further.
/// </remarks>
public static class PlanChecker
{
    /// <summary>Everything that is wrong; empty when the plan holds.</summary>
    public static ImmutableArray<Finding> Check(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (Wholeness.Missing(plan) is { } missing)
        {
            return [new(Severity.Error, "incomplete", new SourcePosition(missing), "a value is missing, or is a word that does not exist")];
        }

        var facts = new PlanFacts(plan);
        if (!Within(facts, "plan", () => RulesRange.JobInRange(facts)))
        {
            return facts.Findings;
        }

        Within(facts, "plan", () => Check(facts));
        return facts.Findings;
    }

    private static bool Check(PlanFacts facts)
    {
        var plan = facts.Plan;
        RulesJob.Sound(facts);
        Within(facts, "prices", () => RulesPrice.PiecePrices(facts));
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
            Within(facts, one.Name, () => Check(facts, one));
        }

        RulesStockRules.One(facts, known);
        RulesGang.Sound(facts);
        RulesDemand.Met(facts);
        RulesDemand.UnplacedNamed(facts);
        RulesSpares.Counts(facts);
        RulesStock.Available(facts);
        var orders = RulesOrders.Lines(facts);
        RulesOrders.Suppliers(facts);
        if (known.Count == plan.Layouts.Length)
        {
            Within(facts, "total", () => Money(facts, known, orders));
        }

        RulesProof.Bound(facts);
        RulesProof.Status(facts);
        return true;
    }

    /// <summary>The plan's money, which is that of its layouts without free spares, and what these cost.</summary>
    private static void Money(PlanFacts facts, List<LayoutFacts> known, Int128 orders)
    {
        var (settings, sizes) = (RulesMoney.Settings(facts, known), RulesMoney.FurtherSizes(facts, known));
        var cut = RulesMoney.Sum(known, orders, Sum(settings.Values), Sum(sizes.Values));
        if (facts.Plan.Layouts.Any(layout => layout.Pieces.Any(piece => piece.Spare)))
        {
            // Of layouts that are wrong nothing can be taken out, and the plan is refused as it is.
            if (!facts.Findings.IsEmpty)
            {
                return;
            }

            var (all, allSizes) = (known, Sum(sizes.Values));
            known = SparesTaken.Out(facts, known);
            (settings, sizes) = (RulesMoney.Settings(facts, known), RulesMoney.FurtherSizes(facts, known));
            RulesSpares.Metal(facts, all, known, (long)allSizes, (long)Sum(sizes.Values));
        }

        var needed = RulesMoney.Sum(known, orders, Sum(settings.Values), Sum(sizes.Values));
        RulesMoney.Total(facts, known, orders, Sum(settings.Values), Sum(sizes.Values));
        RulesSpares.Cost(facts, cut - needed);
        RulesPartCosts.Check(facts, known, orders, settings, sizes);
    }

    private static Int128 Sum(IEnumerable<long> units) => units.Aggregate((Int128)0, (sum, one) => sum + one);

    private static void Within(PlanFacts facts, string where, Action rule) => Within(facts, where, () =>
    {
        rule();
        return true;
    });

    /// <summary>Ranges are wide, and rates may be tiny: where the two together leave what can be counted, that is the finding.</summary>
    private static bool Within(PlanFacts facts, string where, Func<bool> rule)
    {
        try
        {
            return rule();
        }
        catch (ArithmeticException)
        {
            facts.Add("out-of-range", where, "its numbers are too large, or its rates too small, to reckon with");
            return false;
        }
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
            RulesSaw.BarRestLast(facts, one);
            ExpectedEnds.Held(facts, one);
        }

        RulesOffcuts.Judged(facts, one);
        RulesOffcuts.Areas(facts, one, kerf);
        RulesMoney.Layout(facts, one, fits);
    }
}
