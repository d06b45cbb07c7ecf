using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Tests.Choose;
using Nest.Tests.Makers;

namespace Nest.Tests.Costing;

/// <summary>Minutes by the clock and a measured kerf against a plan.</summary>
public class MeasuredTest
{
    /// <summary>Bars of 1000, 980 usable, kerf 2.5: four lugs of 242 take 968 and three kerfs, 7.5: 4.5 are left. With a kerf of 4 three cuts take 4.5 more: it just
    /// fits; with 4.1 they take 4.8, and 0.3 are missing.</summary>
    [Fact]
    public void A_wider_kerf_names_the_bars_that_come_short()
    {
        var job = JobMaker.Job(
            [JobMaker.Part("lug", 242, 40, 10, 4, Forms.FlatBar) with { MayTurn = false, MillSides = true, MillFaces = true }], [JobMaker.Bar("bar", 40, 10, 1000, 20) with { GoodFaces = true }],
            JobMaker.BarSaw) with
        { AllowanceRules = [] };
        var plan = SolverTests.Solve(job);
        plan.Layouts.Should().ContainSingle().Which.Pieces.Should().HaveCount(4);

        Measured.TooShort(plan, JobMaker.BarSaw, JobMaker.Mm(4)).Should().BeEmpty();
        Measured.TooShort(plan, JobMaker.BarSaw, JobMaker.Mm(4.1m)).Should().Equal((1, JobMaker.Mm(0.3m)));
        Measured.TooShort(plan, JobMaker.BarSaw, JobMaker.Mm(2)).Should().BeEmpty();

        // Half as long again as planned: times × 1.5, rates ÷ 1.5.
        var planned = CutSequencer.Order(plan).Minutes;
        var one = Measured.Of(plan, new Dictionary<int, decimal> { [1] = planned * 1.5m }).Should().ContainSingle().Subject;
        (one.Layouts, one.Planned, one.Factor).Should().Be((1, planned, 1.5m));
        (one.Proposed.HandlingMinutes, one.Proposed.DefaultCutRate).Should().Be((1.5m, decimal.Round(JobMaker.BarSaw.DefaultCutRate / 1.5m, 1)));
        Measured.Of(plan, new Dictionary<int, decimal> { [7] = 3m }).Should().BeEmpty();
    }
}
