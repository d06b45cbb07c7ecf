using Nest.Core.Blanks;
using Nest.Check;
using Nest.Core.Jobs;
using Nest.Solve;
using Nest.Solve.Choose;
using Nest.Tests.Makers;
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

    /// <summary>A lot's plates become cheaper by what they truly cost, and so do all that repeat it: 12 kinds of 600 pieces, limited plates kept to.</summary>
    [Fact]
    public void The_plates_of_a_lot_become_cheaper_and_every_piece_is_still_there()
    {
        var small = PlateJobs.Large(3);
        var job = small with { Parts = [.. small.Parts.Take(12).Select(part => part with { Quantity = 601 })] };
        var component = Components.Of(job, BlankSizer.Size(job)).Single();
        int?[] limits = [.. component.Stocks.Select(frame => frame.Stock.Available)];

        var (plain, better) = (Plan(false), Plan(true));

        foreach (var plan in new[] { plain, better })
        {
            for (var i = 0; i < component.Items; i++)
            {
                plan.Sum(one => one.Count * one.Column.Counts[i]).Should().Be(601);
            }

            plan.GroupBy(one => one.Column.Stock).Should().OnlyContain(group => group.Sum(one => one.Count) <= (limits[group.Key] ?? int.MaxValue));
        }

        // Reached in November 2026: 0.9 % cheaper with this work, 3 to 4 % in a second.
        better.Sum(one => one.Count * one.Column.Cost).Should().BeLessThan(plain.Sum(one => one.Count * one.Column.Cost) * 995 / 1000);

        List<(Column Column, int Count)> Plan(bool anneal)
        {
            var columns = new List<(Column, int)>();
            Lots.Solve(component, component.Groups.Single(), [.. component.Demand], limits, new() { Seconds = 3600, Work = 300_000, Threads = 1 }, columns, default, anneal).Should().BeTrue();
            return columns;
        }
    }
}
