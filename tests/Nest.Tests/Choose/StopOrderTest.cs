using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve;

using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Choose;

/// <summary>The order of the layouts, and of the blanks within bars, in which the stop is left standing.</summary>
public class StopOrderTest
{
    private static readonly SolveLimits Effort = new() { Seconds = 60, Work = 3000, Threads = 1 };

    private static readonly Saw Saw = new() { Id = "saw", Kind = SawKind.BarSaw, Kerf = Mm(2), HourlyRate = 60, SettingMinutes = 1 };

    /// <summary>Two sections, each with a bar: the narrow one for 300 and 200, the wide one for 300. Long blanks come first as a rule, so the stop stood at 200 when the wide bar began.</summary>
    [Fact]
    public void The_blank_that_the_next_bar_begins_with_comes_last()
    {
        var plan = SolverTests.Solve(Both(), Effort);

        var settings = SettingCosts.Of(plan.Job, plan.Layouts);
        settings.CarriedOver.Should().Be(SettingCosts.One(Saw));
        settings.Total.Should().Be(SettingCosts.One(Saw) * 2);
    }

    /// <summary>Its sheet may be printed, or the bar cut in part.</summary>
    [Fact]
    public void A_layout_that_stays_keeps_the_order_of_its_blanks()
    {
        var before = SolverTests.Solve(Both() with { Parts = [.. Both().Parts.Take(2)] }, Effort);
        var (around, _) = KeptLayouts.On(Both(), before, [1]);

        var plan = SolverTests.Solve(around!, Effort);

        plan.Layouts.Should().HaveCount(2);
        plan.Layouts.Single(layout => layout.StockId == "narrow").Pieces.Select(piece => (piece.PartId, piece.Area)).Should().Equal(before.Layouts[0].Pieces.Select(piece => (piece.PartId, piece.Area)));
    }

    private static Job Both() => Job(
        [Part("A", 300, 20, 10, 1), Part("B", 200, 20, 10, 1), Part("C", 300, 40, 10, 1)],
        [Bar("narrow", 20, 10, 600, 10), Bar("wide", 40, 10, 600, 20)], Saw) with
    {
        AllowanceRules = [],
        OffcutRules = [],
        Mill = new(),
        Materials = [Aluminium with { ScrapPricePerKilogram = 0 }],
    };
}
