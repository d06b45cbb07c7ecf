using Nest.Check;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Stages, the longest cut and what is held, on trees made for one limit each: a clean leftover of 600 × 400, a kerf of 4.</summary>
public sealed class SawReachTest
{
    private static readonly Job Shop = Job([Flat("a", 96, 96, 12) with { Forms = Forms.Plate }, Flat("foot", 100, 34, 16) with { Forms = Forms.FlatBar }],
        [Leftover("R", 600, 400, 15), Bar("bar", Form.FlatBar, 40, 20)]);

    /// <summary>By hand: rip, crosscut, rip are three stages; with two allowed, a trimming cut may part one piece from a rest but not two pieces.</summary>
    [Theory]
    [InlineData(2, true, false, 0), InlineData(2, true, true, 1), InlineData(2, false, false, 1), InlineData(1, true, false, 1), InlineData(3, false, true, 0)]
    public void A_trimming_cut_parts_one_piece_from_a_rest(int stages, bool trimming, bool two, int findings)
    {
        // 48 + 4 + 48 = 100: the third cut goes through the middle of a strip.
        var plan = OnPlate((usable, tree) => tree.Split(usable, CutDirection.Rip, strip => tree.Split(strip(100), CutDirection.Crosscut,
            take => tree.Split(take(200), CutDirection.Rip, [.. tree.Row("a", 48, two ? 2 : 1)]))));
        Count(plan, saw => saw with { Stages = stages, TrimmingCut = trimming }, "too-many-stages").Should().Be(findings);
    }

    /// <summary>By hand: a strip that is ripped again is still in the first stage, its crosscuts are the second.</summary>
    [Theory]
    [InlineData(2, 0), InlineData(1, 1)]
    public void Parallel_cuts_below_each_other_are_one_stage(int stages, int findings)
    {
        var plan = OnPlate((usable, tree) => tree.Split(usable, CutDirection.Rip, strip => tree.Split(strip(204), CutDirection.Rip,
            [.. Enumerable.Repeat<Func<Func<decimal, Rect>, CutNode>>(take => tree.Split(take(100), CutDirection.Crosscut, [.. tree.Row("a", 100, 1)]), 2)])));
        Count(plan, saw => saw with { Stages = stages }, "too-many-stages").Should().Be(findings);
    }

    /// <summary>By hand. A crosscut of the whole leftover is 400 long. A strip of 400 takes no rip; one of 397 takes one of 600, its 3 of rest are less than a kerf.
    /// A piece of 600 takes no crosscut, one of 598 does.</summary>
    [Theory]
    [InlineData(400, 200, 400, 0), InlineData(400, 200, 399.999999, 1)]
    [InlineData(397, 200, 600, 0), InlineData(397, 200, 599.999999, 1), InlineData(397, 200, 396.999999, 2)]
    [InlineData(400, 600, 1, 0), InlineData(400, 598, 399, 1), InlineData(400, 598, 400, 0)]
    public void Only_cuts_that_are_made_must_be_within_reach(decimal strip, decimal piece, decimal reach, int findings) =>
        Count(OneStrip(strip, piece), saw => saw with { LargestCut = Mm(reach) }, "cut-too-long").Should().Be(findings);

    /// <summary>By hand: a strip of 400 needs no cut and so nothing to hold; one of 397 leaves 397. Across, a piece of 550 is the longer.</summary>
    [Theory]
    [InlineData(400, 550, 500, 0), InlineData(397, 550, 500, 1), InlineData(397, 550, 397, 0), InlineData(400, 550, 550.000001, 1), InlineData(400, 600, 700, 0)]
    public void Only_cuts_that_are_made_need_something_to_hold(decimal strip, decimal piece, decimal shortest, int findings) =>
        Count(OneStrip(strip, piece), saw => saw with { ShortestHeld = Mm(shortest) }, "held-too-short").Should().Be(findings);

    /// <summary>Feet of 102 that are cut from one length of 206 first: the saw holds the rest of the bar meanwhile.</summary>
    [Fact]
    public void On_a_bar_the_rest_is_held_however_the_tree_groups_the_blanks()
    {
        var plan = TestPlan.Of(Shop, TestPlan.OnSaw(Shop, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut,
            take => tree.Split(take(206), CutDirection.Crosscut, [.. tree.Row("foot", 102, 2)]))));
        PlanChecker.Check(plan with { Job = Shop with { Saws = [PlateSaw, BarSaw with { ShortestHeld = Mm(500) }] } }).Where(finding => finding.Rule == "held-too-short").Should().BeEmpty();
    }

    private static Plan OneStrip(decimal strip, decimal piece) =>
        OnPlate((usable, tree) => tree.Split(usable, CutDirection.Rip, take => tree.Split(take(strip), CutDirection.Crosscut, [.. tree.Row("a", piece, 1)])));

    private static Plan OnPlate(Func<Rect, TreeBuilder, CutNode> build)
    {
        var layout = TestPlan.OnSaw(Shop, "R", build);
        return TestPlan.Of(Shop, layout);
    }

    private static int Count(Plan plan, Func<Saw, Saw> limits, string rule) =>
        PlanChecker.Check(plan with { Job = Shop with { Saws = [limits(PlateSaw), BarSaw] } }).Count(finding => finding.Rule == rule);
}
