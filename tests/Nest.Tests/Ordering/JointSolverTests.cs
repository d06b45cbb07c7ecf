using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Solve;

namespace Nest.Tests.Ordering;

public sealed class JointSolverTests
{
    private static readonly SolveLimits Effort = new() { Seconds = 60, Work = 100_000 };

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 60)];

    internal static Plan Solve(Job job)
    {
        var blanks = BlankSizer.Size(job);
        var plan = JobSolver.Solve(job, blanks, Effort);
        return plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Costs_what_trying_everything_finds(int seed)
    {
        var job = SmallOrders.Random(seed);
        var least = OrderBruteForce.Least(seed);
        var plan = Solve(job);

        PlanChecker.Check(plan).Should().BeEmpty();
        if (least is not { } right)
        {
            plan.Unplaced.Should().NotBeEmpty();
            return;
        }

        plan.Unplaced.Should().BeEmpty();
        plan.TotalCost.Units.Should().Be(right);
        plan.Bound.Value!.Value.Units.Should().BeLessThanOrEqualTo(right);
        plan.Status.Should().Be(SolveStatus.Proven);
    }
}
