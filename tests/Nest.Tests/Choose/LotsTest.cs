using Nest.Core.Blanks;
using Nest.Check;
using Nest.Core.Jobs;
using Nest.Solve;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Choose;

public sealed class LotsTest
{
    // Ten of 98 × 48 need 500 × 100 with their kerfs at most; very many pieces of one kind and odd numbers of three more.
    [Fact]
    public void A_hundred_thousand_pieces_have_a_checked_plan_within_a_small_limit_of_work()
    {
        var job = Job(
            [Part("many", 95, 45, 10, 100_000, Forms.Plate), Part("odd", 60, 33, 10, 1_979, Forms.Plate), Part("few", 200, 150, 10, 3, Forms.Plate)],
            [Plate("plate", 1000, 500, 15, 40), Plate("small", 600, 300, 15, 5) with { RackMark = "R1", Available = 2 }]);

        var plan = JobSolver.Solve(job, BlankSizer.Size(job), new() { Seconds = 600, Work = 20_000 });
        plan = plan with { PartCosts = Core.Costing.CostSheet.PartCosts(job, BlankSizer.Size(job), plan.Layouts) };

        PlanChecker.Check(plan).Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        plan.Unplaced.Should().BeEmpty();
        plan.Layouts.Sum(layout => (long)layout.Count * layout.Pieces.Count(piece => piece.PartId == "many")).Should().Be(100_000);
        plan.Layouts.Length.Should().BeLessThan(400, "lots are repeated, not planned one by one");
    }
}
