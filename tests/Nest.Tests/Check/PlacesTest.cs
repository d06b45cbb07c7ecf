using Nest.Check;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Pieces on a cutter among several others, and beside damage: the gap of 12 holds on every side.</summary>
public sealed class PlacesTest
{
    private static readonly Job Shop = Job([Flat("leaf", 96, 96, 12, 4) with { Forms = Forms.Plate }], [Leftover("R", 600, 600, 15)], Cutter);

    /// <summary>By hand: the leaf lies from 200 to 300 in X and Y; damage of 10 × 10 may end at 188 and begin at 312.</summary>
    [Theory]
    [InlineData(312, 250, false), InlineData(311.999999, 250, true), InlineData(178, 250, false), InlineData(178.000001, 250, true)]
    [InlineData(250, 312, false), InlineData(250, 311.999999, true), InlineData(250, 178, false), InlineData(250, 178.000001, true)]
    [InlineData(178.000001, 178.000001, true), InlineData(311.999999, 311.999999, true), InlineData(178, 178.000001, false)]
    public void A_cutter_keeps_its_gap_to_damage(decimal x, decimal y, bool touched)
    {
        var job = Shop with { Stocks = [Shop.Stocks[0] with { KeepOuts = [Box(x, y, 10, 10)] }] };
        Found(job, "keep-out-touched", Leaf(200, 200)).Should().Equal(touched ? ["layout 1, piece 1 (leaf)"] : []);
    }

    /// <summary>By hand: three leaves above each other, from 20, 200 and 400 up, each 100 high. The fourth lies beside their middle and reaches into one of them only.</summary>
    [Theory]
    [InlineData(250, true), InlineData(150, true), InlineData(350, true), InlineData(480, true)]
    [InlineData(512, false)]
    public void A_piece_that_meets_only_one_of_several_is_found(decimal y, bool overlaps) =>
        Found(Shop, "overlap", Leaf(20, 20), Leaf(20, 200), Leaf(20, 400), Leaf(60, y))
            .Should().Equal(overlaps ? ["layout 1, piece 4 (leaf)"] : []);

    /// <summary>By hand: the leaf reaches from 200 to 300, what is left lies at its left or its right and comes 1 too near or reaches 1 into it.</summary>
    [Theory]
    [InlineData(89, "offcut-kerf", "layout 1, piece 1 (leaf)"), InlineData(101, "offcut-overlap", "layout 1, piece 1 (leaf)")]
    [InlineData(311, "offcut-kerf", "layout 1, offcut 1"), InlineData(299, "offcut-overlap", "layout 1, offcut 1")]
    public void What_is_left_is_named_as_such_on_either_side(decimal x, string rule, string where)
    {
        var layout = TestPlan.OnCutter(Shop, "R", Leaf(200, 200)) with { Offcuts = [new(Box(x, 200, 100, 100), false, default)] };
        string[] rules = ["kerf-too-narrow", "overlap", "offcut-kerf", "offcut-overlap"];
        PlanChecker.Check(TestPlan.Of(Shop, layout)).Where(finding => rules.Contains(finding.Rule)).Select(finding => (finding.Rule, finding.Where.File))
            .Should().Equal((rule, where));
    }

    private static PlacedPiece Leaf(decimal x, decimal y) => new("leaf", Box(x, y, 100, 100), false);

    private static IEnumerable<string> Found(Job job, string rule, params PlacedPiece[] pieces) =>
        PlanChecker.Check(TestPlan.Of(job, TestPlan.OnCutter(job, "R", [.. pieces]))).Where(finding => finding.Rule == rule).Select(finding => finding.Where.File);
}
