using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Settings counted by hand: the planner pays for as many, and the checker, which counts them its own way, finds nothing wrong.</summary>
public sealed class SettingsAgreeTest
{
    /// <summary>By hand: 28 feet of 102 with kerfs of 2 are 2912. With 8 cut off its raw left end a bar of 3000 leaves 80 behind them, measured from a clean right end it leaves 88;
    /// the saw holds 85. From the left: the raw end at a mark, a stop for 27 feet, the last foot at a mark. From the right one stop does for all.</summary>
    [Theory]
    [InlineData(false, 3), InlineData(true, 1)]
    public void The_last_foot_is_cut_at_a_mark_where_the_rest_is_too_short(bool fromRight, int settings)
    {
        var job = Job([Flat("foot", 100, 34, 16, 28) with { Forms = Forms.FlatBar }], [Bar("bar", Form.FlatBar, 40, 20) with { CleanEdges = new(false, fromRight, false, false) }],
            PlateSaw, BarSaw with { ShortestHeld = Mm(85) });
        var layout = fromRight
            ? TestPlan.OnSaw(job, "bar", (usable, tree) => new()
            {
                Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut,
                Children = [tree.Rest(usable with { SizeX = Mm(80) }), .. Enumerable.Range(0, 28).Select(at => tree.Piece("foot", usable with { X = Mm(90 + (at * 104)), SizeX = Mm(102) }))],
            })
            : TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("foot", 102, 28)]));
        Agree(job, [settings], 0, layout);
    }

    /// <summary>The last two feet from a bar that is measured from its right: 3000 − 302 for a leg − 24 × 104 are 202, that is 8 more than from the left.</summary>
    [Theory]
    [InlineData(202, 0), InlineData(202.000001, 1)]
    public void From_the_right_the_raw_end_helps_to_hold(decimal shortest, int findings)
    {
        var job = Job([Flat("leg", 298, 34, 16) with { Forms = Forms.FlatBar }, Flat("foot", 100, 34, 16, 24) with { Forms = Forms.FlatBar }],
            [Bar("bar", Form.FlatBar, 40, 20) with { CleanEdges = new(false, true, false, false) }]);
        var plan = TestPlan.Of(job, TestPlan.OnSaw(job, "bar", (usable, tree) => new()
        {
            Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut,
            Children =
            [
                tree.Rest(usable with { SizeX = Mm(194) }), .. Enumerable.Range(0, 24).Select(at => tree.Piece("foot", usable with { X = Mm(204 + (at * 104)), SizeX = Mm(102) })),
                tree.Piece("leg", usable with { X = Mm(2700), SizeX = Mm(300) }),
            ],
        }));
        PlanChecker.Check(plan).Should().BeEmpty();
        PlanChecker.Check(plan with { Job = job with { Saws = [PlateSaw, BarSaw with { ShortestHeld = Mm(shortest) }] } }).Count(finding => finding.Rule == "held-too-short").Should().Be(findings);
    }

    /// <summary>By hand: each bar has its raw end at a mark and one stop for its feet; the second bar finds the stop as the first left it.</summary>
    [Fact]
    public void A_stop_that_still_stands_is_not_paid_again()
    {
        var job = Job([Flat("foot", 100, 34, 16, 20) with { Forms = Forms.FlatBar }], [Bar("one", Form.FlatBar, 40, 20), Bar("two", Form.FlatBar, 40, 20, 2000)]);
        Agree(job, [2, 2], 1, [.. new[] { "one", "two" }.Select(id => TestPlan.OnSaw(job, id, (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("foot", 102, 10)])))]);
    }

    /// <summary>By hand: trims of 5 and 10 around one blank that fills what they leave. Each of the four is a setting of its own: 995, 985, 495 and 485 stay between fence and blade.</summary>
    [Fact]
    public void Each_trim_is_a_setting()
    {
        var job = Job([Flat("lid", 981, 481, 12) with { Forms = Forms.Plate }], [Plate("P", 1000, 500, 15)], PlateSaw with { Trims = new(Mm(5), Mm(10), Mm(5), Mm(10)) });
        Agree(job, [4], 0, TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, CutDirection.Rip, strip => tree.Split(strip(485), CutDirection.Crosscut, [.. tree.Row("lid", 985, 1)]))));
    }

    /// <summary>By hand: a plate of 1000 × 1000 within the reach of 1000. Left and bottom are cut off; the raw edges at the right and the top stay on the waste, for the saw reaches over them.</summary>
    [Fact]
    public void Raw_edges_stay_where_the_saw_just_reaches_over_them()
    {
        var job = Job([Flat("tab", 96, 96, 12) with { Forms = Forms.Plate }], [Plate("P", 1000, 1000, 15)], PlateSaw with { LargestCut = Mm(1000) });
        // The two trims, a stop for the strip and one for the blank.
        Agree(job, [4], 0, TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, CutDirection.Rip, strip => tree.Split(strip(100), CutDirection.Crosscut, [.. tree.Row("tab", 100, 1)]))));
    }

    /// <summary>By hand: a plate of 1000 × 500, clean along its long edges, on a saw that reaches over 600. The raw right end would make rips too long, so it is cut off like the left one: 990 and 980 stay
    /// between fence and blade; then one stop for the blank of 400.</summary>
    [Fact]
    public void Raw_edges_are_cut_off_where_the_saw_does_not_reach_over_them()
    {
        var job = Job([Flat("lid", 396, 496, 12) with { Forms = Forms.Plate }], [Plate("P", 1000, 500, 15) with { CleanEdges = new(false, false, true, true) }], PlateSaw with { LargestCut = Mm(600) });
        Agree(job, [3], 0, TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("lid", 400, 1)])));
    }

    /// <summary>By hand: strips of 150, 150 and 50 leave 95, and 105 with the raw edge on it, of which the saw holds 100. So the rest stays on the saw: one setting for both strips
    /// of 150, one for that of 50, one for the blanks of 200 in all three. Held by the second strip it would be one more.</summary>
    [Theory]
    [InlineData(false), InlineData(true)]
    public void A_raw_edge_helps_to_hold_the_rest(bool across)
    {
        var stock = across ? Plate("P", 467, 600, 15) : Plate("P", 600, 467, 15);
        var job = Job([Flat("wide", 196, 146, 12, 2) with { Forms = Forms.Plate }, Flat("slim", 196, 46, 12) with { Forms = Forms.Plate }],
            [stock with { CleanEdges = new(true, false, true, false) }], PlateSaw with { ShortestHeld = Mm(100) });
        var (first, second) = across ? (CutDirection.Crosscut, CutDirection.Rip) : (CutDirection.Rip, CutDirection.Crosscut);
        Agree(job, [3], 0, TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, first,
            strip => tree.Split(strip(150), second, [.. tree.Row("wide", 200, 1, across)]),
            strip => tree.Split(strip(150), second, [.. tree.Row("wide", 200, 1, across)]),
            strip => tree.Split(strip(50), second, [.. tree.Row("slim", 200, 1, across)]))));
    }

    /// <summary>By hand: the smaller angle is cut first. Struts of 30° and 45°, whichever end is which, have their 30° ends at one stop and their 45° ends at another;
    /// a strut of the same length with one end of 30° uses the first of them too. With the raw end and one stop for the blanks that makes four.</summary>
    [Fact]
    public void The_smaller_angle_of_a_strut_is_cut_first()
    {
        var ends = new Dictionary<string, EndAngles>
        {
            ["one"] = new(Angle(30), Angle(45)), ["other"] = new(Angle(45), Angle(30)), ["single"] = new(Angle(30), Angle(0)),
        };
        var square = new AllowanceOverrides { EndCleanUp = Mm(0), SideCleanUp = Mm(0), FaceTop = Mm(0), FaceBottom = Mm(0) };
        Job Of(decimal shorter) => Job(
            [.. ends.Select(end => Flat(end.Key, end.Key == "single" ? shorter : 300, 40, 20) with { Forms = Forms.FlatBar, MayTurn = false, MillFaces = true, MillSides = true, Allowances = square, Ends = end.Value })],
            [Bar("bar", Form.FlatBar, 40, 20) with { GoodFaces = true }]);
        // One angled end takes less of the bar than two: the part is longer by as much, so that all three blanks have one length.
        Nest.Core.Quantities.Length Size(Job job, string id) => BlankSizer.Size(job).Single(blank => blank.Part.Id == id).Fits.Single().SizeX;
        var job = Of(300 + (Size(Of(300), "one") - Size(Of(300), "single")).ToMillimetres());
        var layout = TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. ends.Keys.SelectMany(id => tree.Row(id, Size(job, id).ToMillimetres(), 1))]));
        layout.Pieces.Select(piece => piece.Area.SizeX).Distinct().Should().ContainSingle();
        Agree(job, [4], 0, layout with { Pieces = [.. layout.Pieces.Select(piece => piece with { Ends = ends[piece.PartId] })] });
    }

    private static Nest.Core.Quantities.Angle Angle(decimal degrees) => Nest.Core.Quantities.Angle.FromDegrees(degrees);

    private static void Agree(Job job, int[] settings, int carried, params ImmutableArray<Layout> layouts)
    {
        var plan = TestPlan.Of(job, layouts);
        var costs = SettingCosts.Of(job, plan.Layouts);
        costs.Lines.Select(line => line.Settings).Should().Equal(settings);
        costs.Lines.Count(line => line.StillFrom is not null).Should().Be(carried);
        var findings = PlanChecker.Check(plan);
        findings.Should().BeEmpty(string.Join("\n", findings.Select(finding => $"{finding.Rule} {finding}")));
    }
}
