using Nest.Check;

namespace Nest.Tests.Check;

/// <summary>The planner's cuts and amounts and the checker's, which share no code, agree on made plans.</summary>
public sealed class MadePlansTest
{
    /// <summary>What the made plans are made for is in them: angled ends, several layouts on one saw, stock bought whole, leftovers.</summary>
    [Fact]
    public void Made_plans_have_what_they_are_made_for()
    {
        var plans = Enumerable.Range(0, 150).Select(MadePrices.Plan).ToList();
        plans.Count(plan => plan.Layouts.Any(layout => layout.Pieces.Any(piece => piece.Ends is not null))).Should().BeGreaterThan(20);
        plans.Count(plan => plan.Layouts.Any(layout => layout.Pieces.IsEmpty)).Should().BeGreaterThan(5);
        plans.Count(plan => plan.Layouts.Any(layout => layout.StockId == "R1")).Should().BeGreaterThan(20);
    }

    [Fact]
    public void On_made_plans_the_checker_reckons_every_amount_as_the_planner_did()
    {
        for (var seed = 0; seed < 150; seed++)
        {
            var findings = PlanChecker.Check(MadePrices.Plan(seed));
            findings.Should().BeEmpty("seed {0}: {1}", seed, string.Join("\n", findings.Select(finding => $"{finding.Rule} {finding}")));
        }
    }
}
