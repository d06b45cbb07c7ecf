using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>What the saw can do and where pieces may lie: at the last value that is allowed, and a nanometre or a tenth beyond.</summary>
/// <remarks>The good plan. Layout 1, plate of 2000 × 1000 with trims of 10: ripped into strips of 304 (four brackets of 404), 204 (ten tabs of 104) and a rest of 464. Layout 2, a clean leftover
/// of 600 × 400: a strip of 304 with one bracket, rests of 192 and 92. Layout 3, a bar of 3000, 8 cut off its left: ten feet of 102 and a rest of 1944.</remarks>
public sealed class SawRulesTest
{
    private static readonly Length Nanometre = Length.FromNanometres(1);

    /// <summary>What is changed, and the finding that is expected by rule and place; empty: none of the rules of saw and place.</summary>
    public static TheoryData<string, Func<Plan, Plan>, string> Cases() => new()
    {
        { "as it is", plan => plan, "" },
        { "as many pieces as the saw takes", plan => Plates(plan, saw => saw with { MostPieces = 14 }), "" },
        { "one piece too many", plan => Plates(plan, saw => saw with { MostPieces = 13 }), "too-many-pieces layout 1" },
        { "the first cut is a rip", plan => Plates(plan, saw => saw with { FirstCut = CutDirection.Rip }), "" },
        { "a split that cuts nothing is no first cut", plan => Plates(At(plan, 0, Wrapped), saw => saw with { FirstCut = CutDirection.Rip }), "" },
        { "behind a split that cuts nothing", plan => Plates(At(plan, 0, Wrapped), saw => saw with { FirstCut = CutDirection.Crosscut }), "first-cut layout 1" },
        { "a bar has no first cut of its own", plan => Bars(plan, saw => saw with { FirstCut = CutDirection.Rip }), "" },
        { "two stages", plan => Plates(plan, saw => saw with { Stages = 2 }), "" },
        { "a split that cuts nothing is no stage", plan => Plates(At(plan, 0, Wrapped), saw => saw with { Stages = 2 }), "" },
        { "one stage", plan => Plates(plan, saw => saw with { Stages = 1 }), "too-many-stages layout 2" },
        { "one stage and a trimming cut do for one piece and a rest", plan => Plates(plan, saw => saw with { Stages = 1, TrimmingCut = true }), "too-many-stages layout 1" },
        { "two stages and a trimming cut", plan => Plates(plan, saw => saw with { Stages = 2, TrimmingCut = true }), "" },
        { "the longest cut", plan => Plates(plan, saw => saw with { LargestCut = Mm(1980) }), "" },
        { "a nanometre shorter", plan => Plates(plan, saw => saw with { LargestCut = Mm(1980) - Nanometre }), "cut-too-long layout 1" },
        { "too short for the end of the leftover", plan => Plates(plan, saw => saw with { LargestCut = Mm(599.9m) }), "cut-too-long layout 2" },
        { "as thick as the saw takes", plan => Plates(plan, saw => saw with { LargestThickness = Mm(15) }), "" },
        { "thicker than the saw takes", plan => Plates(plan, saw => saw with { LargestThickness = Mm(14.9m) }), "wrong-saw layout 1" },
        { "as wide a bar as the saw takes", plan => Bars(plan, saw => saw with { LargestCut = Mm(40), LargestThickness = Mm(20) }), "" },
        { "a bar wider than the saw takes", plan => Bars(plan, saw => saw with { LargestCut = Mm(39.9m) }), "wrong-saw layout 3" },
        { "a bar thicker than the saw takes", plan => Bars(plan, saw => saw with { LargestThickness = Mm(19.9m) }), "wrong-saw layout 3" },
        { "as long a plate as there is room for", plan => Plates(plan, saw => saw with { LongestStock = Mm(2000) }), "" },
        { "a plate a nanometre too long for the room", plan => Plates(plan, saw => saw with { LongestStock = Mm(2000) - Nanometre }), "wrong-saw layout 1" },
        { "as long a bar as there is room for", plan => Bars(plan, saw => saw with { LongestStock = Mm(3000) }), "" },
        { "a bar a nanometre too long for the room", plan => Bars(plan, saw => saw with { LongestStock = Mm(3000) - Nanometre }), "wrong-saw layout 3" },
        { "a saw before it with too little room", plan => plan with { Job = plan.Job with { Saws = [BarSaw with { Id = "new", LongestStock = Mm(2000) }, .. plan.Job.Saws] } }, "" },
        { "a saw before it that takes the plate", plan => plan with { Job = plan.Job with { Saws = [PlateSaw with { Id = "new" }, .. plan.Job.Saws] } }, "wrong-saw layout 1" },
        { "a saw before it that does not", plan => plan with { Job = plan.Job with { Saws = [PlateSaw with { Id = "new", LargestThickness = Mm(10) }, .. plan.Job.Saws] } }, "" },
        { "something to hold, just long enough", plan => Plates(plan, saw => saw with { ShortestHeld = Mm(304) }), "" },
        { "nothing as long to hold in the leftover", plan => Plates(plan, saw => saw with { ShortestHeld = Mm(304) + Nanometre }), "held-too-short layout 2" },
        { "nothing as long to hold in a strip", plan => Plates(plan, saw => saw with { ShortestHeld = Mm(404) + Nanometre }), "held-too-short layout 1" },
        { "just enough of the bar to hold", plan => Bars(plan, saw => saw with { ShortestHeld = Mm(1944) }), "" },
        { "a nanometre more of the bar to hold", plan => Bars(plan, saw => saw with { ShortestHeld = Mm(1944) + Nanometre }), "held-too-short layout 3" },
        { "a rest in front of the blanks", plan => At(plan, 2, RestFirst), "bar-rest-last layout 3" },
        { "left trim", plan => At(plan, 0, one => one with { Trims = one.Trims with { Left = one.Trims.Left - Nanometre } }), "trim-wrong layout 1" },
        { "right trim", plan => At(plan, 0, one => one with { Trims = one.Trims with { Right = one.Trims.Right - Nanometre } }), "trim-wrong layout 1" },
        { "bottom trim", plan => At(plan, 0, one => one with { Trims = one.Trims with { Bottom = one.Trims.Bottom - Nanometre } }), "trim-wrong layout 1" },
        { "top trim", plan => At(plan, 0, one => one with { Trims = one.Trims with { Top = one.Trims.Top - Nanometre } }), "trim-wrong layout 1" },
        { "a trim of a clean edge", plan => At(plan, 1, one => one with { Trims = one.Trims with { Left = Nanometre } }), "trim-wrong layout 2" },
        { "a trim along a bar", plan => At(plan, 2, one => one with { Trims = one.Trims with { Top = Nanometre } }), "trim-wrong layout 3" },
        { "the sheet elsewhere", plan => At(plan, 1, one => one with { Sheet = one.Sheet with { X = Nanometre } }), "sheet-size layout 2" },
        { "the sheet longer", plan => At(plan, 1, one => one with { Sheet = one.Sheet with { SizeX = one.Sheet.SizeX + Nanometre } }), "sheet-size layout 2" },
        { "damage that the bracket touches at the right", plan => Damaged(plan, 404, 0, 10, 10), "" },
        { "damage that the bracket touches at the top", plan => Damaged(plan, 0, 304, 10, 10), "" },
        { "damage a nanometre into the bracket", plan => Damaged(plan, 403.999999m, 0, 10, 10), "keep-out-touched layout 2, piece 1 (bracket)" },
        { "damage a nanometre into it from the top", plan => Damaged(plan, 0, 303.999999m, 10, 10), "keep-out-touched layout 2, piece 1 (bracket)" },
        { "damage within it", plan => Damaged(plan, 100, 100, 10, 10), "keep-out-touched layout 2, piece 1 (bracket)" },
        { "damage that reaches in from beyond", plan => Damaged(plan, -10, -10, 10.000001m, 10.000001m), "keep-out-touched layout 2, piece 1 (bracket)" },
        { "damage that ends below the bracket", plan => Damaged(plan, 100, -10, 10, 10), "" },
        { "damage that ends at the edge", plan => Damaged(plan, -10, 0, 10, 10), "" },
        { "a root elsewhere", plan => Tree(plan, root => root with { Area = root.Area with { SizeY = root.Area.SizeY - Nanometre } }), "not-through-cuts layout 1" },
        { "a split of nothing", plan => Tree(plan, root => root with { Children = [] }), "not-through-cuts layout 1" },
        { "a strip that is not as long as the plate", plan => Strip(plan, strip => strip with { Area = strip.Area with { SizeX = strip.Area.SizeX - Nanometre } }), "not-through-cuts layout 1" },
        { "a strip that begins beside the edge", plan => Strip(plan, strip => strip with { Area = strip.Area with { X = strip.Area.X + Nanometre } }), "not-through-cuts layout 1" },
        { "a strip that begins higher", plan => Strip(plan, strip => strip with { Area = strip.Area with { Y = strip.Area.Y + Nanometre, SizeY = strip.Area.SizeY - Nanometre } }), "not-through-cuts layout 1" },
        { "a strip that leaves less than a kerf", plan => Strip(plan, strip => strip with { Area = strip.Area with { SizeY = strip.Area.SizeY + Nanometre } }), "not-through-cuts layout 1" },
        { "a strip that leaves more than a kerf", plan => Strip(plan, strip => strip with { Area = strip.Area with { SizeY = strip.Area.SizeY - Nanometre } }), "not-through-cuts layout 1" },
        { "the last child dropped", plan => Tree(plan, root => root with { Children = root.Children.RemoveAt(2) }), "not-through-cuts layout 1" },
        { "a bar cut lengthwise", plan => plan with { Layouts = plan.Layouts.SetItem(2, plan.Layouts[2] with { Tree = plan.Layouts[2].Tree! with { Direction = CutDirection.Rip } }) }, "not-through-cuts layout 3" },
        { "a piece that is divided", plan => Leaf(plan, leaf => leaf with { Children = [leaf] }), "tree-leaves layout 1" },
        { "a piece with a number below zero", plan => Leaf(plan, leaf => leaf with { Index = -1 }), "tree-leaves layout 1" },
        { "a piece with a number beyond the last", plan => Leaf(plan, leaf => leaf with { Index = 14 }), "tree-leaves layout 1" },
        { "an offcut with a number below zero", plan => Leaf(plan, leaf => leaf with { Kind = CutNodeKind.Offcut, Index = -1 }), "tree-leaves layout 1" },
        { "an offcut with a number beyond the last", plan => Leaf(plan, leaf => leaf with { Kind = CutNodeKind.Offcut, Index = 3 }), "tree-leaves layout 1" },
        { "a piece twice", plan => Leaf(plan, leaf => leaf with { Index = 1 }), "tree-leaves layout 1" },
        { "a piece that lies elsewhere", plan => Leaf(plan, leaf => leaf with { Area = leaf.Area with { SizeX = leaf.Area.SizeX - Nanometre } }), "tree-leaves layout 1" },
        { "an offcut that lies elsewhere", plan => Tree(plan, root => root with { Children = root.Children.SetItem(2, root.Children[2] with { Area = root.Children[2].Area with { SizeY = Mm(463) } }) }), "tree-leaves layout 1" },
        { "a piece in no leaf", plan => At(plan, 0, one => one with { Pieces = [.. one.Pieces, one.Pieces[0]] }), "tree-leaves layout 1" },
        { "a divided piece beside the same piece", plan => First(plan, strip => strip with { Children = strip.Children.Insert(0, strip.Children[0] with { Children = [strip.Children[0]] }) }), "tree-leaves layout 1" },
        { "a piece that is not as high as its strip", plan => Leaf(plan, leaf => leaf with { Area = leaf.Area with { SizeY = leaf.Area.SizeY - Nanometre } }), "not-through-cuts layout 1" },
        { "a piece that begins above the edge of its strip", plan => Leaf(plan, leaf => leaf with { Area = leaf.Area with { Y = leaf.Area.Y + Nanometre } }), "not-through-cuts layout 1" },
        { "a bar ripped without a cut", plan => At(plan, 2, one => one with { Tree = new() { Kind = CutNodeKind.Split, Area = one.Tree!.Area, Direction = CutDirection.Rip, Children = [one.Tree] } }), "not-through-cuts layout 3" },
        { "an offcut in no leaf", plan => At(plan, 0, one => one with { Offcuts = [.. one.Offcuts, one.Offcuts[2]] }), "tree-leaves layout 1" },
        { "a kind that there is not", plan => Leaf(plan, leaf => leaf with { Kind = (CutNodeKind)9 }), "incomplete" },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_saw_s_limits_and_the_tree(string what, Func<Plan, Plan> change, string expected)
    {
        string[] rules = ["too-many-pieces", "first-cut", "too-many-stages", "cut-too-long", "wrong-saw", "held-too-short", "bar-rest-last", "trim-wrong", "sheet-size", "keep-out-touched", "not-through-cuts", "tree-leaves", "incomplete"];
        var findings = PlanChecker.Check(change(TestPlan.Good())).Where(finding => rules.Contains(finding.Rule)).Select(finding => $"{finding.Rule} {finding.Where.File}").ToList();
        if (expected.Length == 0)
        {
            findings.Should().BeEmpty(what);
        }
        else
        {
            findings.Should().Contain(finding => finding.StartsWith(expected, StringComparison.Ordinal), what);
        }
    }

    /// <summary>On a cutter with a gap of 12: two pieces beside each other, and what lies beyond the border of 20.</summary>
    [Theory]
    [InlineData(132, 20, "")]
    [InlineData(131.999999, 20, "kerf-too-narrow")]
    [InlineData(119.999999, 20, "overlap")]
    [InlineData(20, 132, "")]
    [InlineData(20, 131.999999, "kerf-too-narrow")]
    [InlineData(60, 119.999999, "overlap")]
    [InlineData(131, 131, "kerf-too-narrow")]
    [InlineData(132, 60, "")]
    [InlineData(480, 480, "")]
    [InlineData(480.000001, 480, "outside-usable")]
    [InlineData(480, 480.000001, "outside-usable")]
    [InlineData(480, 19.999999, "outside-usable")]
    [InlineData(19.999999, 480, "outside-usable")]
    public void Pieces_on_a_cutter_keep_the_gap_and_the_border(decimal x, decimal y, string expected)
    {
        var job = Job([Flat("leaf", 96, 96, 12, 2) with { Forms = Forms.Plate }], [Leftover("R", 600, 600, 15)], Cutter);
        var (one, two) = (new PlacedPiece("leaf", Box(20, 20, 100, 100), false), new PlacedPiece("leaf", Box(x, y, 100, 100), false));
        string[] rules = ["kerf-too-narrow", "overlap", "outside-usable"];
        foreach (var pieces in (ImmutableArray<PlacedPiece>[])[[one, two], [two, one]])
        {
            PlanChecker.Check(TestPlan.Of(job, TestPlan.OnCutter(job, "R", pieces))).Select(finding => finding.Rule).Where(rules.Contains)
                .Should().Equal(expected.Length == 0 ? [] : [expected]);
        }

        // An offcut in the place of the second piece: the same gap, by another name.
        var single = job with { Parts = [job.Parts[0] with { Quantity = 1 }] };
        var layout = TestPlan.OnCutter(single, "R", one) with { Offcuts = [new(two.Area, false, Money.Zero)] };
        string[] offcuts = ["offcut-kerf", "offcut-overlap", "outside-usable"];
        PlanChecker.Check(TestPlan.Of(single, layout)).Select(finding => finding.Rule).Where(offcuts.Contains)
            .Should().Equal(expected switch { "" => [], "kerf-too-narrow" => ["offcut-kerf"], "overlap" => ["offcut-overlap"], _ => [expected] });
    }

    [Fact]
    public void A_cutter_makes_no_tree()
    {
        var job = Job([Flat("leaf", 96, 96, 12) with { Forms = Forms.Plate }], [Leftover("R", 600, 600, 15)], Cutter);
        var layout = TestPlan.OnCutter(job, "R", new PlacedPiece("leaf", Box(20, 20, 100, 100), false));
        var tree = new CutNode { Kind = CutNodeKind.Piece, Area = Box(20, 20, 100, 100), Index = 0 };
        PlanChecker.Check(TestPlan.Of(job, layout with { Tree = tree })).Select(finding => finding.Rule).Should().Contain("tree-on-cutter");
    }

    /// <summary>Trims that the saw cannot make: the ends take a cut across the sheet, the long edges one along what is between them.</summary>
    [Theory]
    [InlineData(10, 0, 0, 0, 1000, 0), InlineData(10, 0, 0, 0, 999.9, 1), InlineData(0, 10, 0, 0, 1000, 0), InlineData(0, 10, 0, 0, 999.9, 1)]
    [InlineData(0, 0, 10, 0, 2000, 0), InlineData(0, 0, 10, 0, 1999.9, 1), InlineData(0, 0, 0, 10, 2000, 0), InlineData(0, 0, 0, 10, 1999.9, 1)]
    [InlineData(4, 6, 10, 0, 1990, 0), InlineData(4, 6, 0, 10, 1989.9, 1), InlineData(4, 6, 0, 10, 999.9, 2), InlineData(0, 0, 0, 0, 999.9, 0)]
    public void A_plate_saw_must_reach_over_its_trims(int left, int right, int bottom, int top, decimal reach, int findings)
    {
        var trims = new EdgeTrims(Mm(left), Mm(right), Mm(bottom), Mm(top));
        var job = Job([Flat("tab", 96, 96, 12) with { Forms = Forms.Plate }], [Plate("P", 2000, 1000, 15)], PlateSaw with { Trims = trims });
        var plan = TestPlan.Of(job, TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, CutDirection.Rip, strip => tree.Split(strip(100), CutDirection.Crosscut, [.. tree.Row("tab", 100, 1)]))));
        var short_ = plan with { Job = job with { Saws = [job.Saws[0] with { LargestCut = Mm(reach) }] } };
        PlanChecker.Check(short_).Count(finding => finding.Rule == "cut-too-long" && finding.Message.StartsWith("trimming", StringComparison.Ordinal)).Should().Be(findings);
    }

    /// <summary>By hand: within its trims the plate is 1980 × 980; the leftover is clean, so nothing is trimmed off it.</summary>
    [Theory]
    [InlineData(980, 0), InlineData(980.000001, 1), InlineData(1980, 1), InlineData(1980.000001, 2)]
    public void Trims_leave_enough_to_hold(decimal shortest, int findings) =>
        PlanChecker.Check(Plates(TestPlan.Good(), saw => saw with { ShortestHeld = Mm(shortest) }))
            .Count(finding => finding.Rule == "held-too-short" && finding.Message.StartsWith("trimming", StringComparison.Ordinal)).Should().Be(findings);

    [Theory]
    [InlineData(999.999999, 500, 0, 0), InlineData(1000, 500, 0, 1), InlineData(999, 1000, 0, 1), InlineData(999, 999, 0, 0)]
    [InlineData(999, 500, 500, 1), InlineData(999, 500, 499.999999, 0)]
    public void Trims_leave_something_of_the_sheet(decimal left, decimal bottom, decimal top, int findings)
    {
        var trims = new EdgeTrims(Mm(left), Mm(1000), Mm(bottom), Mm(top));
        var plan = Plates(At(TestPlan.Good(), 0, one => one with { Trims = trims }), saw => saw with { Trims = trims });
        PlanChecker.Check(plan).Count(finding => finding is { Rule: "trim-wrong", Where.File: "layout 1" }).Should().Be(findings);
    }

    /// <summary>By hand: a bar of 3000 loses 8 at its raw left end; a leg of 300 and feet of 102 with kerfs of 2 leave 2690 − 104 for each foot: 194 behind 24, 90 behind 25.</summary>
    [Theory]
    [InlineData(24, 194, 0, ""), InlineData(24, 194.000001, 1, "194"), InlineData(25, 102, 0, ""), InlineData(25, 150, 1, "90"), InlineData(25, 200, 1, "194")]
    public void The_last_blanks_of_a_bar_are_held_by_what_remains_or_by_themselves(int feet, decimal shortest, int findings, string left)
    {
        var job = Job([Flat("leg", 298, 34, 16) with { Forms = Forms.FlatBar }, Flat("foot", 100, 34, 16, feet) with { Forms = Forms.FlatBar }], [Bar("bar", Form.FlatBar, 40, 20)]);
        var plan = TestPlan.Of(job, TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("leg", 300, 1), .. tree.Row("foot", 102, feet)])));
        PlanChecker.Check(plan).Should().BeEmpty();
        var found = PlanChecker.Check(Bars(plan, saw => saw with { ShortestHeld = Mm(shortest) })).Where(finding => finding.Rule == "held-too-short").ToList();
        found.Should().HaveCount(findings);
        foreach (var finding in found)
        {
            finding.Message.Should().Contain($"leaves {left} ");
        }
    }

    /// <summary>By hand: ten feet of 102 with nine kerfs of 2 behind a trim of 8 are 1046; the bar is clean at its right end, so what it is longer, up to a kerf, is dust at the left.</summary>
    [Theory]
    [InlineData(1046, 0, false), InlineData(1047, 1, false), InlineData(1048, 2, false), InlineData(1048.000001, 2.000001, true), InlineData(1047, 0, true), InlineData(1047, 2, true)]
    public void A_bar_that_is_measured_from_its_right_end_has_its_dust_at_the_left(decimal length, decimal dust, bool wrong)
    {
        var job = Job([Flat("foot", 100, 34, 16, 10) with { Forms = Forms.FlatBar }], [Bar("bar", Form.FlatBar, 40, 20, length) with { CleanEdges = new(false, true, false, false) }]);
        var plan = TestPlan.Of(job, TestPlan.OnSaw(job, "bar", (usable, tree) => new()
        {
            Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut,
            Children = [.. Enumerable.Range(0, 10).Select(at => tree.Piece("foot", usable with { X = usable.X + Mm(dust + (at * 104)), SizeX = Mm(102) }))],
        }));
        var findings = PlanChecker.Check(plan);
        findings.Any(finding => finding.Rule == "not-through-cuts").Should().Be(wrong, string.Join("\n", findings));
        if (!wrong)
        {
            findings.Should().BeEmpty();
        }
    }

    /// <summary>By hand: the same feet from the left of a bar that is raw at both ends: 8 cut off, 1038, and 8 at the right; what the bar is longer, up to a kerf, is dust at the right.</summary>
    [Theory]
    [InlineData(1054), InlineData(1055), InlineData(1056)]
    public void A_bar_that_is_measured_from_its_left_end_has_its_dust_at_the_right(decimal length)
    {
        var job = Job([Flat("foot", 100, 34, 16, 10) with { Forms = Forms.FlatBar }], [Bar("bar", Form.FlatBar, 40, 20, length)]);
        PlanChecker.Check(TestPlan.Of(job, TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("foot", 102, 10)])))).Should().BeEmpty();
    }

    /// <summary>By hand: the second strip begins 1 higher, so that 5 lie before it where the kerf is 4.</summary>
    [Fact]
    public void A_gap_between_strips_is_said_in_figures()
    {
        var plan = Strip(TestPlan.Good(), strip => strip with { Area = strip.Area with { Y = strip.Area.Y + Mm(1), SizeY = strip.Area.SizeY - Mm(1) } });
        PlanChecker.Check(plan).Select(finding => finding.Message).Should().Contain(message => message.Contains($"lies {Mm(5)}, not one kerf of {Mm(4)}", StringComparison.Ordinal));
    }

    private static Plan Plates(Plan plan, Func<Saw, Saw> change) => plan with { Job = plan.Job with { Saws = plan.Job.Saws.SetItem(0, change(plan.Job.Saws[0])) } };

    private static Plan Bars(Plan plan, Func<Saw, Saw> change) => plan with { Job = plan.Job with { Saws = plan.Job.Saws.SetItem(1, change(plan.Job.Saws[1])) } };

    private static Plan At(Plan plan, int index, Func<Layout, Layout> change) => plan with { Layouts = plan.Layouts.SetItem(index, change(plan.Layouts[index])) };

    private static Plan Tree(Plan plan, Func<CutNode, CutNode> change) => At(plan, 0, one => one with { Tree = change(one.Tree!) });

    private static Plan Strip(Plan plan, Func<CutNode, CutNode> change) => Tree(plan, root => root with { Children = root.Children.SetItem(1, change(root.Children[1])) });

    private static Plan Leaf(Plan plan, Func<CutNode, CutNode> change) =>
        First(plan, strip => strip with { Children = strip.Children.SetItem(0, change(strip.Children[0])) });

    private static Plan First(Plan plan, Func<CutNode, CutNode> change) => Tree(plan, root => root with { Children = root.Children.SetItem(0, change(root.Children[0])) });

    private static Plan Damaged(Plan plan, decimal x, decimal y, decimal wide, decimal high) =>
        plan with { Job = plan.Job with { Stocks = plan.Job.Stocks.SetItem(1, plan.Job.Stocks[1] with { KeepOuts = [new Rect(Mm(x), Mm(y), Mm(wide), Mm(high))] }) } };

    /// <summary>The same cuts behind a crosscut that divides nothing.</summary>
    private static Layout Wrapped(Layout layout) =>
        layout with { Tree = new() { Kind = CutNodeKind.Split, Area = layout.Tree!.Area, Direction = CutDirection.Crosscut, Children = [layout.Tree] } };

    private static Layout RestFirst(Layout layout)
    {
        var rest = layout.Offcuts[0].Area;
        var pieces = layout.Pieces.Select(piece => piece with { Area = piece.Area with { X = piece.Area.X + rest.SizeX + BarSaw.Kerf } }).ToImmutableArray();
        var first = rest with { X = layout.Trims.Left };
        return layout with { Pieces = pieces, Offcuts = [layout.Offcuts[0] with { Area = first }] };
    }
}
