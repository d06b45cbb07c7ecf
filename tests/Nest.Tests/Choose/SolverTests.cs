using Nest.Core.Blanks;
using Nest.Core.Check;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Tests.Makers;

namespace Nest.Tests.Choose;

public class SolverTests
{
    private static readonly SolveLimits Effort = new() { Seconds = 60, Work = 300_000 };

    internal static Plan Solve(Job job, SolveLimits? effort = null)
    {
        var blanks = BlankSizer.Size(job);
        var plan = JobSolver.Solve(job, blanks, effort ?? Effort);
        return plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
    }

    [Theory]
    [InlineData(1), InlineData(2), InlineData(3), InlineData(4), InlineData(5), InlineData(6), InlineData(7), InlineData(8)]
    public void Bars_only_are_checked_and_proven(int seed)
    {
        var plan = Solve(JobMaker.Random(seed, plates: false), Effort with { Work = 3_000_000 });

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Unplaced.Should().BeEmpty();
        plan.Status.Should().Be(SolveStatus.Proven);
        plan.LowerBound.Should().BeLessThanOrEqualTo(plan.TotalCost);
    }
}
