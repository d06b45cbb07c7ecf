using Nest.Core.Blanks;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Solve.Choose;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Bounds;

/// <summary>Bounds of components at the lowest prices beside layouts that stay: what is bought now may make those cheaper too (<see cref="RestOfJob.MostSaved"/>). Small jobs are proven before
/// these steps begin, so that no whole plan would show a fault in it.</summary>
public sealed class KeptSavingTest
{
    private static readonly SolveLimits Limits = new() { Work = 3000, Seconds = 60, Seed = 1, Threads = 1 };

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_break_that_the_standing_layout_shares_is_not_counted_twice(bool bySets)
    {
        // Worked by hand: each part takes a bar. One bar is 12, two are 6 each: with the layout that stays at 12 the second bar costs nothing more.
        var one = OneBar(1);
        var stays = JobSolver.Solve(one, BlankSizer.Size(one), Limits);
        var job = KeptLayouts.On(OneBar(2), stays, [1]).Job!;
        var (rest, blanks) = RestOfJob.Of(job, BlankSizer.Size(job));
        var components = Components.Of(rest, blanks);
        var search = new JointSearch(rest, components, Limits, default);
        var steps = new SupplierSteps(rest, blanks, components, search, Limits, default);

        if (bySets)
        {
            steps.Sets(1.0);
        }
        else
        {
            steps.Lowest(1.0, 1.0);
        }

        var plan = JobSolver.Solve(job, BlankSizer.Size(job), Limits);
        var stands = RestOfJob.Cost(job);
        (plan.TotalCost - stands).Should().Be(stands - Money.FromAmount(12), "the second bar is free, its blank is faced as the first one is");
        search.Bound.IsKnown.Should().BeTrue();
        (search.Bound.Value!.Value + stands).Should().BeLessThanOrEqualTo(plan.TotalCost);
    }

    private static Job OneBar(int pieces)
    {
        var saw = BarSaw with { HourlyRate = 0, ChargePerCut = 0, HandlingMinutes = 0, Trims = default, Kerf = Mm(3) };
        var bar = Bar("bar", 50, 20, 1000, 12) with { Terms = new() { Breaks = [new(2, Money.FromAmount(6))] } };
        return Job([Part("P0", 700, 20, 10, pieces)], [bar], saw, PlateSaw) with
        {
            Materials = [Aluminium with { ScrapPricePerKilogram = 0 }],
            OffcutRules = [],
        };
    }
}
