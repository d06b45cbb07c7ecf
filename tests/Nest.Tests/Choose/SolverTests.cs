using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
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
    [InlineData(1), InlineData(2), InlineData(3), InlineData(4), InlineData(5), InlineData(7), InlineData(8)]
    public void Bars_only_are_checked_and_proven(int seed)
    {
        var plan = Solve(JobMaker.Random(seed, plates: false), Effort with { Work = 1_000_000 });

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Unplaced.Should().BeEmpty();
        plan.Status.Should().Be(SolveStatus.Proven, "cost is {0}, bound {1}", plan.TotalCost.Amount, plan.Bound);
        plan.Bound.Value!.Value.Should().BeLessThanOrEqualTo(plan.TotalCost);
    }

    [Fact]
    public void Bars_that_stay_open_are_within_cents_and_say_so()
    {
        // Leftovers have a value to a hundredth of a cent: this job is open by two or three cents even after a hundred times the work.
        var plan = Solve(JobMaker.Random(6, plates: false));

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Unplaced.Should().BeEmpty();
        plan.Bound.Value!.Value.Should().BeLessThanOrEqualTo(plan.TotalCost);
        plan.Gap!.Value.Should().BeLessThan(0.0002m);
        (plan.Status == SolveStatus.Proven).Should().Be(plan.TotalCost.Units - plan.Bound.Value!.Value.Units < 100);
    }

    [Theory]
    [InlineData(31), InlineData(32), InlineData(33)]
    public void Order_of_parts_and_stock_changes_nothing_that_is_proven(int seed)
    {
        var job = JobMaker.Random(seed, plates: false);
        var turned = job with { Parts = [.. job.Parts.Reverse()], Stocks = [.. job.Stocks.Reverse()] };
        var effort = Effort with { Work = 1_000_000 };
        var (one, other) = (Solve(job, effort), Solve(turned, effort));

        (one.Status, other.Status).Should().Be((SolveStatus.Proven, SolveStatus.Proven));
        other.TotalCost.Should().Be(one.TotalCost);
    }

    [Theory]
    [InlineData(41), InlineData(42), InlineData(43)]
    public void One_more_stock_is_never_dearer_and_a_wider_kerf_never_cheaper(int seed)
    {
        var job = JobMaker.Random(seed, plates: false);
        var effort = Effort with { Work = 1_000_000 };
        var plan = Solve(job, effort);
        var more = Solve(job with { Stocks = job.Stocks.Add(JobMaker.Bar("50x20x2000", 50, 20, 2000, 25)) }, effort);
        var wider = Solve(job with { Saws = [JobMaker.BarSaw with { Kerf = JobMaker.Mm(4) }, JobMaker.PlateSaw] }, effort);

        // Bounds are below costs, so each law holds between one's bound and the other's cost whether proven or not.
        more.Bound.Value!.Value.Should().BeLessThanOrEqualTo(plan.TotalCost);
        plan.Bound.Value!.Value.Should().BeLessThanOrEqualTo(wider.TotalCost);
        if (plan.Status == SolveStatus.Proven && more.Status == SolveStatus.Proven && wider.Status == SolveStatus.Proven)
        {
            more.TotalCost.Should().BeLessThanOrEqualTo(plan.TotalCost);
            wider.TotalCost.Should().BeGreaterThanOrEqualTo(plan.TotalCost);
        }
    }

    [Fact]
    public void What_limited_stock_cannot_give_is_named_and_the_rest_is_planned()
    {
        // One leftover of 1000 mm, both ends trimmed by 10: (980 + 2.5) / (100 + 2 + 2.5) = 9 pieces of 12. By hand.
        var job = JobMaker.Job(
            [JobMaker.Part("lug", 100, 45, 15, 12, Forms.FlatBar) with { MayTurn = false }],
            [JobMaker.Bar("rack", 50, 20, 1000, 5, 1) with { RackMark = "B1", Supplier = null }]);

        var plan = Solve(job);

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Layouts.Should().ContainSingle().Which.Pieces.Should().HaveCount(9);
        plan.Unplaced.Should().ContainSingle().Which.Count.Should().Be(3);
        plan.Status.Should().NotBe(SolveStatus.Proven);
    }

    [Fact]
    public void A_leftover_that_serves_is_used_before_new_stock()
    {
        var job = JobMaker.Job(
            [JobMaker.Part("lug", 100, 45, 15, 4, Forms.FlatBar)],
            [JobMaker.Bar("new", 50, 20, 3000, 42), JobMaker.Bar("rack", 50, 20, 520, 4, 1) with { RackMark = "B1", Supplier = null }]);

        Solve(job).Layouts.Should().ContainSingle().Which.StockId.Should().Be("rack");
    }

    [Fact]
    public void The_cost_of_a_bar_by_hand()
    {
        // 3000 mm bar at 42.00, one lug of 100 mm finished: blank 102 mm. Trim left 10 mm and one piece: 2 cuts.
        // One cut: 1 min + 10 cm2 / 50 cm2/min = 1.2 min at 40/h = 0.80, + 0.05 = 0.85; 2 cuts 1.70.
        // Facing: section 50 x 20 less blank 48 x 19 (45 + 3; 15 + 1 + 3) = 88 mm2 x 102 mm = 8.976 cm3 / 60 x 55 / 60 = 0.1371.
        // Offcut: 3000 - 20 - 102 - 2.5 = 2875.5 mm kept: 42 x 0.6 x 2875.5 / 3000 = 24.1542.
        // Scrap: trims (10 - 2.5) x 2 = 15 mm of 8.1 kg at 0.9: 7.29 x 7.5 / 3000 = 0.0182 each.
        var job = JobMaker.Job([JobMaker.Part("lug", 100, 45, 15, 1, Forms.FlatBar) with { MayTurn = false }], [JobMaker.Bar("bar", 50, 20, 3000, 42)]);

        var cost = Solve(job).Layouts.Single().Cost;

        cost.Metal.Amount.Should().Be(42m);
        cost.Saw.Amount.Should().Be(1.70m);
        cost.Facing.Amount.Should().Be(0.1371m);
        cost.OffcutCredit.Amount.Should().Be(24.1542m);
        cost.ScrapCredit.Amount.Should().Be(0.0364m);
    }
}
