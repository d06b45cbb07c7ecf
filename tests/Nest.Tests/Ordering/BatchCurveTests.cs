using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Batch;
using Nest.Tests.Makers;

namespace Nest.Tests.Ordering;

public sealed class BatchCurveTests
{
    private static readonly SolveLimits Effort = new() { Seconds = 600, Work = 30_000, Threads = 2 };

    [Theory]
    [InlineData(1), InlineData(2), InlineData(3)]
    public void Total_cost_never_falls_and_bounds_hold(int seed)
    {
        var points = BatchCurve.Of(SmallOrders.Random(seed) with { Batch = 1 }, 1, 5, Effort);

        points.Select(point => point.Sets).Should().Equal(1, 2, 3, 4, 5);
        points.Where(point => point.Complete).Select(point => point.Cost.Units).Should().BeInAscendingOrder();
        points.Should().OnlyContain(point => point.Bound.Value <= point.Cost && point.PlannedFor >= point.Sets);
        points.Where(point => point.Complete).Select(point => point.Plan).SelectMany(plan => PlanChecker.Check(plan)).Should().BeEmpty();
    }

    // Worked by hand: a bar of 1000 mm less two trims of 10 mm gives 980 mm; blanks of 302 mm with a kerf of 2.5 mm behind each: three
    // (911 mm) and not four. So the steps lie at 4 and 7.
    [Fact]
    public void Steps_lie_where_a_new_bar_begins()
    {
        var job = JobMaker.Job(
            [JobMaker.Part("P", 300, 40, 10, 1, Nest.Core.Jobs.Forms.FlatBar) with { MayTurn = false }],
            [JobMaker.Bar("bar", 50, 20, 1000, 40)]);
        var points = BatchCurve.Of(job, 1, 8, Effort);

        points.Where(point => point.Step).Select(point => point.Sets).Should().Equal(4, 7);
        points.Where(point => point.Best).Select(point => point.Sets).Should().StartWith(3);
    }

    // The bar again: 3 sets are the cheapest per set; what another number may cost is its bound, whatever its plan costs.
    [Fact]
    public void A_best_number_is_told_only_where_the_gaps_allow_it()
    {
        var job = JobMaker.Job(
            [JobMaker.Part("P", 300, 40, 10, 1, Nest.Core.Jobs.Forms.FlatBar) with { MayTurn = false }],
            [JobMaker.Bar("bar", 50, 20, 1000, 40)]);
        var points = BatchCurve.Of(job, 1, 5, Effort);
        var best = BestNumbers.Cheapest(points)!;
        best.Sets.Should().Be(3);
        points.Should().OnlyContain(point => point.Plan.Status == SolveStatus.Proven);
        BestNumbers.AboutEqual(points, best).Should().BeEmpty();
        BestNumbers.IsCertain(points, best).Should().BeTrue();

        var loose = points.SetItem(1, points[1] with { Bound = Bound.Of(Nest.Core.Quantities.Money.FromAmountDown((best.CostPerSet!.Value * 2) - 1m), "test") });
        BestNumbers.AboutEqual(loose, best).Select(point => point.Sets).Should().Equal(2);
        BestNumbers.IsCertain(loose, best).Should().BeFalse();
    }

    // The bar above with one blank has 980 − 304.5 mm left: two more blanks.
    [Fact]
    public void Offcuts_give_more_pieces()
    {
        var job = JobMaker.Job(
            [JobMaker.Part("P", 300, 40, 10, 1, Nest.Core.Jobs.Forms.FlatBar) with { MayTurn = false }],
            [JobMaker.Bar("bar", 50, 20, 1000, 40)]);
        var plan = JointSolverTests.Solve(job);

        FillUp.Alone(plan, BlankSizer.Size(job)).Should().ContainSingle().Which.Count.Should().Be(2);
    }
}
