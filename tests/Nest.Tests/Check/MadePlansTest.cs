using Nest.Check;

namespace Nest.Tests.Check;

/// <summary>The planner's cuts and amounts and the checker's, which share no code, agree on made plans.</summary>
public sealed class MadePlansTest
{
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
