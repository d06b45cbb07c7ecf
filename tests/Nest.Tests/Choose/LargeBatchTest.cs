using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Tests.Makers;

namespace Nest.Tests.Choose;

/// <summary>Batches far beyond what is laid out piece by piece: the work does not grow with the number of sets.</summary>
public sealed class LargeBatchTest
{
    // By hand: a plate of 500 × 300 has 480 × 280 usable, blanks of 103 × 83 with a kerf of 3: 4 × 3 = 12 to a plate (4 × 106 = 424, 3 × 86 = 258). 700 000 blanks and one in a batch of 100 000 sets want 58 334 plates at least, whole plates of one layout but the last.
    [Fact]
    public void A_batch_of_a_hundred_thousand_sets_is_planned_within_the_work()
    {
        var job = JobMaker.Job(
            [JobMaker.Part("P", 100, 80, 12, 7, Forms.Plate) with { MayTurn = false, Extra = 1 }],
            [JobMaker.Plate("plate", 500, 300, 20, 50)]) with
        { Batch = 100_000 };
        var blanks = BlankSizer.Size(job);
        var plan = JobSolver.Solve(job, blanks, new() { Seconds = 600, Work = 1000 });

        plan = plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Unplaced.Should().BeEmpty();
        plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length).Should().Be(700_001);
        plan.Layouts.Sum(layout => layout.Count).Should().BeInRange(58_334, 58_334 * 101 / 100);
    }
}
