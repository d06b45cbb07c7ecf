using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

/// <summary>What the saw turns into chips and what falls as scrap, in square millimetres of plan view, by hand.</summary>
public sealed class SawnMetalTest
{
    /// <summary>By hand, kerf 4. 10 are cut off the left and the bottom of 2000 × 1000: 4 × 1000 + 4 × 1990 chips, 6 × 1000 + 6 × 1990 scrap. Two rips of 1990. Strip of 304: four crosscuts, its rest
    /// of 348 with the raw edge of 10 is scrap. Strip of 204: ten crosscuts, its rest is kept as is that of the plate.</summary>
    [Fact]
    public void A_plate_with_two_strips()
    {
        var plan = TestPlan.Good();
        var (chips, scrap) = (4000 + 7960 + (2 * 4 * 1990) + (4 * 4 * 304) + (10 * 4 * 204), 6000 + 11_940 + (358 * 304));
        Metal(plan, 0).Should().Be((chips, scrap));

        // All of the plate: five minus one brackets, ten tabs, two rests with the raw edges on them.
        (chips + scrap + (4 * 404 * 304) + (10 * 204 * 104) + (910 * 204) + (1990 * 474)).Should().Be(2000 * 1000);
    }

    /// <summary>By hand: nothing is trimmed off a clean leftover. What a cut leaves at the end of a row is less than a kerf here, so that is all it takes: 3 × 600 above the strip of 397, 2 × 397
    /// behind the blank of 598.</summary>
    [Fact]
    public void The_last_cut_takes_no_more_than_there_is()
    {
        var job = Job([Flat("lid", 594, 393, 12) with { Forms = Forms.Plate }], [Leftover("R", 600, 400, 15)]);
        Metal(TestPlan.Of(job, OneBlank(job, "R", 397, 598)), 0).Should().Be((1800 + 794, 0));
    }

    /// <summary>By hand: 600 × 400 with raw edges of 10. Left and bottom: 4 × 400 + 4 × 590 chips, 6 of each scrap. The strip of 377 leaves 3 and the raw edge of 10 above it: 4 × 590 chips, 9 × 590
    /// scrap; the blank of 577 leaves as much behind it.</summary>
    [Fact]
    public void A_raw_edge_falls_with_the_last_cut()
    {
        var job = Job([Flat("lid", 573, 373, 12) with { Forms = Forms.Plate }], [Plate("P", 600, 400, 15)]);
        var metal = Metal(TestPlan.Of(job, OneBlank(job, "P", 377, 577)), 0);
        metal.Should().Be((1600 + 2360 + (4 * 590) + (4 * 377), 2400 + 3540 + (9 * 590) + (9 * 377)));
        (metal.Chips + metal.Scrap + (577 * 377)).Should().Be(600 * 400);
    }

    /// <summary>By hand, a bar 39.8 wide, kerf 2, in millimetres of length. Raw at both ends: of the 8 at the left 2 are chips; nine kerfs between ten feet of 102; behind the last there are 9, of which 2 are chips.
    /// Clean at the right: the nine kerfs, and of the 9 at the left 2.</summary>
    [Theory]
    [InlineData(false, 1055, 22, 13), InlineData(true, 1047, 20, 7)]
    public void A_bar_filled_to_less_than_a_kerf(bool fromRight, decimal length, int chips, int scrap)
    {
        var job = Job([Flat("foot", 100, 34, 16, 10) with { Forms = Forms.FlatBar }], [Bar("bar", Form.FlatBar, 40, 20, length) with { CleanEdges = new(false, fromRight, false, false) }]);
        var layout = TestPlan.OnSaw(job, "bar", (usable, tree) => new()
        {
            Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut,
            Children = [.. Enumerable.Range(0, 10).Select(at => tree.Piece("foot", usable with { X = Mm((fromRight ? 9 : 8) + (at * 104)), SizeX = Mm(102) }))],
        });
        Metal(TestPlan.Of(job, layout), 0).Should().Be((chips * 39.8m, scrap * 39.8m));
        (chips + scrap + 1020).Should().Be((int)length);
    }

    /// <summary>By hand: a bar with a rest at its left. One kerf for each of ten feet; the rest, kept with the raw end on it, is neither chips nor scrap.</summary>
    [Fact]
    public void A_bar_that_is_measured_from_its_right_end()
    {
        var job = Job([Flat("foot", 100, 34, 16, 10) with { Forms = Forms.FlatBar }], [Bar("bar", Form.FlatBar, 40, 20, 2000) with { CleanEdges = new(false, true, false, false) }]);
        var layout = TestPlan.OnSaw(job, "bar", (usable, tree) => new()
        {
            Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut,
            Children = [tree.Rest(usable with { SizeX = Mm(952) }), .. Enumerable.Range(0, 10).Select(at => tree.Piece("foot", usable with { X = Mm(962 + (at * 104)), SizeX = Mm(102) }))],
        });
        layout.Offcuts[0].Keep.Should().BeTrue();
        Metal(TestPlan.Of(job, layout), 0).Should().Be((20 * 39.8m, 0));
    }

    /// <summary>By hand: a bar of 118 with raw ends of 8 is one foot of 102. The left end is cut off, and the right end behind the foot: 2 of each 8 are chips.</summary>
    [Fact]
    public void A_bar_that_is_one_blank_is_cut_at_both_ends()
    {
        var job = Job([Flat("foot", 100, 34, 16) with { Forms = Forms.FlatBar }], [Bar("bar", Form.FlatBar, 40, 20, 118)], BarSaw with { ShortestHeld = Mm(0) });
        Metal(TestPlan.Of(job, TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Piece("foot", usable))), 0).Should().Be((4 * 39.8m, 12 * 39.8m));
    }

    /// <summary>A cutter cuts no edge off, and on its sheet metal is where it is drawn; a bought plate that nothing is cut from keeps its edges.</summary>
    [Fact]
    public void Nothing_is_trimmed_on_a_cutter_and_off_what_is_bought_whole()
    {
        var job = Job([Flat("leaf", 96, 96, 12) with { Forms = Forms.Plate }], [Plate("P", 600, 600, 15)], Cutter);
        var layout = TestPlan.OnCutter(job, "P", new PlacedPiece("leaf", Box(20, 20, 100, 100), false));
        TrimmedEdges.Of(Cutter, job.Stocks[0], layout).Should().Be(default(TrimmedEdges));
        default(TrimmedEdges).Metal(layout, Box(20, 20, 560, 560)).Should().Be(Box(20, 20, 560, 560));
        var good = TestPlan.Good();
        TrimmedEdges.Of(PlateSaw, good.Job.Stocks[0], good.Layouts[0]).Should().Be(new TrimmedEdges(true, false, true, false));
        TrimmedEdges.Of(PlateSaw, good.Job.Stocks[0], good.Layouts[0] with { Pieces = [] }).Should().Be(default(TrimmedEdges));
    }

    private static Layout OneBlank(Job job, string stock, decimal strip, decimal length) =>
        TestPlan.OnSaw(job, stock, (usable, tree) => tree.Split(usable, CutDirection.Rip, take => tree.Split(take(strip), CutDirection.Crosscut, [.. tree.Row("lid", length, 1)])));

    private static (decimal Chips, decimal Scrap) Metal(Plan plan, int layout)
    {
        var one = plan.Layouts[layout];
        var metal = SawnMetal.Of(plan.SawOf(one), plan.StockOf(one), one);
        return (metal.Chips.ToSquareMetres() * 1_000_000m, metal.Scrap.ToSquareMetres() * 1_000_000m);
    }
}
