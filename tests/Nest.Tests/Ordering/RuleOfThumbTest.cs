using Nest.Core.Jobs;
using Nest.Planning;
using Nest.Tests.Makers;

namespace Nest.Tests.Ordering;

/// <summary>"Order 5 to 10 % more than the lengths of the parts, for kerfs and bar ends" (common practice, no source) against what the plan needs.</summary>
/// <remarks>By hand. Bars of 3000 with trims of 10 at both ends and a kerf of 2.5, blanks 2 longer than the part: 2982.5 ÷ (part + 4.5) parts from a bar, rounded down. Parts of 60 and 700 use a bar
/// so well that the rule is right or a bar too many; of 1100 two come from a bar, 800 stay: the plan needs 36 % more than the parts, and who orders by the rule has too little.</remarks>
public sealed class RuleOfThumbTest
{
    [Theory]
    [InlineData(60, 460, 10, 10, 11, 8.7)]
    [InlineData(300, 90, 10, 10, 10, 11.1)]
    [InlineData(700, 40, 10, 10, 11, 7.1)]
    [InlineData(1100, 20, 10, 8, 9, 36.4)]
    public void What_the_plan_needs_beside_the_rule(int length, int pieces, int bars, int byFivePercent, int byTenPercent, double percentNeeded)
    {
        ((int)Math.Ceiling(length * pieces * 1.05 / 3000)).Should().Be(byFivePercent);
        ((int)Math.Ceiling(length * pieces * 1.10 / 3000)).Should().Be(byTenPercent);
        var job = JobMaker.Job([JobMaker.Part("P", length, 40, 10, pieces, Forms.FlatBar) with { MayTurn = false }], [JobMaker.Bar("bar", 50, 20, 3000, 40)]);

        var plan = Planner.Plan(job, new() { Work = 2000 }).Plan!;

        plan.Unplaced.Should().BeEmpty();
        var bought = plan.Layouts.Sum(layout => layout.Count);
        bought.Should().Be(bars);
        (100.0 * ((bought * 3000.0 / (length * pieces)) - 1)).Should().BeApproximately(percentNeeded, 0.05);
    }
}
