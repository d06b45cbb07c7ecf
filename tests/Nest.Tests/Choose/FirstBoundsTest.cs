using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Choose;
using Nest.Tests.Ordering;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Choose;

/// <summary>The bounds that are shown before any search has ended.</summary>
public sealed class FirstBoundsTest
{
    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 120)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Are_never_above_what_trying_everything_finds(int seed)
    {
        var job = SmallOrders.Random(seed);
        if (OrderBruteForce.Least(seed) is not { } least)
        {
            // Not all can be cut: no bound is claimed then.
            return;
        }

        var components = Components.Of(Scenario.AllAtLowest(job), BlankSizer.Size(job));
        var bySize = components.Sum(component => SizeBound.Of(component, component.Demand.AsSpan()).Value!.Value.Units);
        var byPieces = JointBound.Of(job, [.. components.Select(component => new JointBound.Share(component, []))], 1.0, 60, default);

        bySize.Should().BePositive().And.BeLessThanOrEqualTo(least);
        byPieces.Value!.Value.Units.Should().BeGreaterThanOrEqualTo(bySize, "it knows the sizes too, and that stock comes in whole pieces");
        byPieces.Value!.Value.Units.Should().BeLessThanOrEqualTo(least);
    }

    [Fact]
    public void By_size_is_each_blanks_share_of_the_bar_and_its_facing()
    {
        // Worked by hand: with one bar, free sawing and worthless leftovers, (length + kerf) ÷ (bar + kerf) of the price, and the facing.
        var saw = BarSaw with { HourlyRate = 0, ChargePerCut = 0, HandlingMinutes = 0, Trims = default, Kerf = Mm(3) };
        var job = Job([Part("P0", 194, 20, 10, 15)], [Bar("bar", 50, 20, 1000, 12)], saw, PlateSaw) with
        {
            Materials = [Aluminium with { ScrapPricePerKilogram = 0 }],
            OffcutRules = [],
        };
        var blanks = BlankSizer.Size(job);
        var component = Components.Of(job, blanks).Should().ContainSingle().Subject;
        var fit = blanks[0].Fits[0];
        var share = (fit.SizeX + Mm(3)).ToMillimetres() / 1003;

        var bound = SizeBound.Of(component, component.Demand.AsSpan());

        bound.Value!.Value.Amount.Should().BeApproximately(15 * ((share * 12) + fit.ExtraCost.Amount), 0.01m);
    }
}
