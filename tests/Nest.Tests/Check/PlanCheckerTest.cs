using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>A good plan passes; broken in one way it gives exactly the findings of that way.</summary>
public class PlanCheckerTest
{
    private static readonly Length Nanometre = Length.FromNanometres(1);

    [Fact]
    public void The_good_plan_has_no_findings() => PlanChecker.Check(TestPlan.Good()).Should().BeEmpty();

    [Fact]
    public void The_good_plan_is_what_was_worked_out_by_hand()
    {
        var plan = TestPlan.Good();
        plan.Layouts[0].Pieces.Should().HaveCount(14);
        plan.Layouts[0].Pieces[1].Area.Should().Be(Box(418, 10, 404, 304));
        plan.Layouts[0].Offcuts.Select(offcut => offcut.Area)
            .Should().Equal(Box(1642, 10, 348, 304), Box(1090, 318, 900, 204), Box(10, 526, 1980, 464));
        plan.Layouts[0].Offcuts.Select(offcut => offcut.Keep).Should().Equal(false, true, true);
        // 200 × 0.6 × (1980 × 464) / (2000 × 1000) = 55.1232.
        plan.Layouts[0].Offcuts[2].Value.Should().Be(Money.FromUnits(551232));
        plan.Layouts[2].Offcuts.Single().Area.SizeX.Should().Be(Mm(3000 - 16 - 1040));
        // 12 mm + 2 × 1 mm facing from 15 mm plate: 1 mm × 404 × 304 = 122.816 cm³ at 30 cm³/min and 90 an hour = 6.1408 each.
        plan.Layouts[1].Cost.Facing.Should().Be(Money.FromAmount(6.1408m));
    }

    public static TheoryData<string, Func<Plan, Plan>, string[]> Breaks() => new()
    {
        { "piece moved by 1 nm", plan => Piece(plan, 0, 0, piece => piece with { Area = piece.Area with { X = piece.Area.X + Nanometre } }), ["kerf-too-narrow", "tree-leaves"] },
        { "piece moved by 1 nm into the trim", plan => Piece(plan, 0, 0, piece => piece with { Area = piece.Area with { X = piece.Area.X - Nanometre } }), ["outside-usable", "tree-leaves"] },
        { "piece dropped", plan => Layout(plan, 0, layout => layout with { Pieces = layout.Pieces.RemoveAt(13) }),
            ["areas", "cost-facing", "demand-not-met", "part-costs", "tree-leaves"] },
        { "piece named as unplaced too", plan => plan with { Unplaced = [new("tab", 1, "too large")] }, ["unplaced-count"] },
        { "unplaced without reason", plan => plan with { Job = Part(plan, "tab", part => part with { Quantity = 11 }), Unplaced = [new("tab", 1, " ")] }, ["unplaced-reason"] },
        { "more asked", plan => plan with { Job = Part(plan, "tab", part => part with { Quantity = 12 }) }, ["demand-not-met"] },
        { "fewer asked", plan => plan with { Job = Part(plan, "tab", part => part with { Quantity = 9 }) }, ["more-than-asked"] },
        { "kerf of the saw 1 nm wider", plan => plan with { Job = Saw(plan, "bar saw", saw => saw with { Kerf = saw.Kerf + Nanometre }) },
            ["kerf-too-narrow", "not-through-cuts"] },
        { "part may not be turned", plan => plan with { Job = Part(plan, "tab", part => part with { MayTurn = false }) }, ["turned-against-grain"] },
        { "turn mark missing", plan => Piece(plan, 0, 5, piece => piece with { Turned = false }), ["turn-mark-wrong"] },
        { "leftover used twice", plan => plan with { Layouts = plan.Layouts.SetItem(1, plan.Layouts[1] with { Count = 2 }) },
            ["leftover-used-twice", "more-than-asked", "part-costs", "total-cost"] },
        { "more stock than available", plan => plan with { Job = Stock(plan, "plate 15", stock => stock with { Available = 0 }) }, ["stock-overdrawn"] },
        { "price of the stock changed", plan => plan with { Job = Stock(plan, "R1", stock => stock with { PiecePrice = Money.FromAmount(20.0001m) }) }, ["cost-metal"] },
        { "sawing too cheap", plan => Cost(plan, 0, cost => cost with { Saw = cost.Saw - Money.FromUnits(1) }), ["cost-saw", "total-cost"] },
        { "facing forgotten", plan => Cost(plan, 2, cost => cost with { Facing = Money.Zero }), ["cost-facing", "total-cost"] },
        { "credit too high", plan => Cost(plan, 0, cost => cost with { OffcutCredit = cost.OffcutCredit + Money.FromUnits(1) }), ["cost-offcuts", "total-cost"] },
        { "scrap credit too high", plan => Cost(plan, 0, cost => cost with { ScrapCredit = cost.ScrapCredit + Money.FromUnits(1) }), ["cost-scrap", "total-cost"] },
        { "total wrong", plan => plan with { TotalCost = plan.TotalCost + Money.FromUnits(1) }, ["part-costs", "total-cost"] },
        { "cost moved between parts", plan => plan with { PartCosts = [plan.PartCosts[0] with { Metal = plan.PartCosts[0].Metal + Money.FromUnits(5) },
            plan.PartCosts[1] with { Metal = plan.PartCosts[1].Metal - Money.FromUnits(5) }, plan.PartCosts[2]] }, ["part-costs"] },
        { "part costs missing", plan => plan with { PartCosts = [] }, ["part-costs"] },
        { "trim forgotten on the mark", plan => Layout(plan, 0, layout => layout with { Trims = layout.Trims with { Left = Mm(9) } }),
            ["cost-saw", "cost-scrap", "not-through-cuts", "trim-wrong"] },
        { "edges not clean after all", plan => plan with { Job = Stock(plan, "R1", stock => stock with { CleanEdges = default }) }, ["trim-wrong"] },
        { "plate too thin", plan => plan with { Job = Stock(plan, "plate 15", stock => stock with { MinThickness = Mm(14) - Nanometre }) }, ["too-thin"] },
        { "section too small", plan => plan with { Job = Stock(plan, "flat 40x20", stock => stock with { MinThickness = Mm(18) - Nanometre }) }, ["section-too-small"] },
        { "other thickness of plate", plan => Layout(plan, 0, layout => layout with { StockId = "plate 12" }), ["cost-saw", "cost-scrap", "orders", "too-thin"] },
        { "sheet larger than can be relied on", plan => plan with { Job = Stock(plan, "R1", stock => stock with { MinLength = Mm(599) }) },
            ["cost-scrap", "sheet-size"] },
        { "own allowance", plan => plan with { Job = Part(plan, "foot", part => part with { Allowances = new() { EndCleanUp = Mm(2) } }) }, ["blank-size"] },
        { "form not allowed", plan => plan with { Job = Part(plan, "foot", part => part with { Forms = Forms.Plate }) }, ["form-not-allowed"] },
        { "other material", plan => plan with { Job = Part(plan, "foot", part => part with { MaterialId = "S235" }) }, ["wrong-material"] },
        { "offcut over a piece", plan => Offcut(plan, 0, 0, offcut => offcut with { Area = offcut.Area with { X = offcut.Area.X - Mm(5), SizeX = offcut.Area.SizeX + Mm(5) } }),
            ["areas", "cost-scrap", "offcut-overlap", "tree-leaves"] },
        { "small offcut kept", plan => Offcut(plan, 0, 0, offcut => offcut with { Keep = true }), ["cost-scrap", "offcut-keep"] },
        { "offcut valued too high", plan => Offcut(plan, 0, 2, offcut => offcut with { Value = offcut.Value + Money.FromUnits(1) }), ["cost-offcuts", "offcut-value"] },
        { "offcut lost", plan => Layout(plan, 2, layout => layout with { Offcuts = [] }), ["areas", "cost-offcuts", "tree-leaves"] },
        { "proof overclaimed", plan => plan with { Status = SolveStatus.Proven, Bound = Bound.Of(plan.TotalCost - Money.FromUnits(100), "a test") }, ["proof-overclaimed"] },
        { "proven without a bound", plan => plan with { Status = SolveStatus.Proven, Bound = Bound.None }, ["proof-overclaimed"] },
        { "bound above cost", plan => plan with { Status = SolveStatus.Proven, Bound = Bound.Of(plan.TotalCost + Money.FromUnits(11), "a test") }, ["bound-above-cost"] },
        { "a status that there is not", plan => plan with { Status = (SolveStatus)9 }, ["incomplete"] },
        { "not found but there", plan => plan with { Status = SolveStatus.NotFound }, ["status-wrong"] },
        { "impossible but all there", plan => plan with { Status = SolveStatus.Impossible }, ["status-wrong"] },
        { "unknown stock", plan => Layout(plan, 1, layout => layout with { StockId = "R9" }), ["unknown-stock"] },
        { "unknown part", plan => Piece(plan, 1, 0, piece => piece with { PartId = "no such" }), ["demand-not-met", "unknown-part"] },
        { "wrong saw", plan => Layout(plan, 2, layout => layout with { SawId = "plate saw" }), ["cost-saw", "cost-scrap", "wrong-saw", "kerf-too-narrow", "not-through-cuts", "trim-wrong", "total-cost", "part-costs"] },
        { "numbers swapped", plan => plan with { Layouts = [plan.Layouts[1], plan.Layouts[0], plan.Layouts[2]] }, ["layout-number"] },
        { "damage under a piece", plan => plan with { Job = Stock(plan, "R1", stock => stock with { KeepOuts = [Box(400, 300, 50, 50)] }) }, ["keep-out-touched"] },
        { "too many stages", plan => plan with { Job = Saw(plan, "plate saw", saw => saw with { Stages = 1 }) }, ["too-many-stages"] },
        { "first cut", plan => plan with { Job = Saw(plan, "plate saw", saw => saw with { FirstCut = CutDirection.Crosscut }) }, ["first-cut"] },
        { "cut too long", plan => plan with { Job = Saw(plan, "plate saw", saw => saw with { LargestCut = Mm(1979) }) }, ["cut-too-long", "cost-saw", "total-cost", "part-costs"] },
        { "nothing to hold", plan => plan with { Job = Saw(plan, "plate saw", saw => saw with { ShortestHeld = Mm(305) }) }, ["held-too-short"] },
        { "stop allows fewer", plan => plan with { Job = Saw(plan, "bar saw", saw => saw with { MostPieces = 9 }) }, ["too-many-pieces"] },
        { "order forgotten", plan => plan with { Orders = [] }, ["orders"] },
        { "order of one more", plan => Order(plan, order => order with { Lines = order.Lines.SetItem(0, order.Lines[0] with { Count = 2 }) }), ["orders"] },
        { "delivery forgotten", plan => plan with { Job = plan.Job with { Suppliers = [new() { Name = "", Delivery = Money.FromAmount(25m) }] } },
            ["orders", "part-costs", "total-cost"] },
        { "more suppliers than allowed", plan => plan with { Job = plan.Job with { MostSuppliers = 0 } }, ["job-value", "too-many-suppliers"] },
        { "price break forgotten", plan => plan with { Job = Stock(plan, "plate 15", stock => stock with
            { Terms = new() { LineMinimum = Money.FromAmount(201m) } }) }, ["orders", "part-costs", "total-cost"] },
        { "supplier's saw", plan => Layout(plan, 1, layout => layout with { SawId = Nest.Core.Jobs.Saw.SupplierId }),
            ["cost-saw", "not-through-cuts", "wrong-saw", "total-cost", "part-costs"] },
        { "cut to size for another", plan => plan with { Job = Stock(plan, "R1", stock => stock with { CutFor = "tab" }) }, ["cut-to-size", "wrong-saw"] },
        { "no tree", plan => Layout(plan, 1, layout => layout with { Tree = null }), ["cost-saw", "not-through-cuts", "total-cost", "part-costs"] },
        { "count of nought", plan => Layout(plan, 1, layout => layout with { Count = 0 }), ["demand-not-met", "out-of-range"] },
        { "absurd coordinate", plan => Piece(plan, 1, 0, piece => piece with { Area = piece.Area with { X = Length.MaxValue } }), ["out-of-range"] },
    };

    [Theory]
    [MemberData(nameof(Breaks))]
    public void A_broken_plan_gives_exactly_these_findings(string how, Func<Plan, Plan> broken, string[] rules)
    {
        var findings = PlanChecker.Check(broken(TestPlan.Good()));
        findings.Select(finding => finding.Rule).Distinct().Order()
            .Should().Equal(rules.Order(), "{0}: {1}", how, string.Join("\n", findings.Select(finding => $"{finding.Rule} {finding}")));
        findings.Should().OnlyContain(finding => finding.Message.Length > 0 && finding.Where.File.Length > 0);
    }

    [Fact]
    public void A_pinwheel_is_not_a_sequence_of_through_cuts()
    {
        // Four pieces around a middle: no cut goes from edge to edge. Kerf 4 everywhere.
        var job = Job([Flat("leaf", 396, 196, 12, 4) with { Forms = Forms.Plate }], [Leftover("R", 604, 604, 15)]);
        var good = TestPlan.OnSaw(job, "R", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            take => tree.Piece("leaf", take(200) with { SizeX = Mm(400) }),
            take => tree.Piece("leaf", take(400) with { SizeX = Mm(200) }, turned: true)));
        var layout = good with
        {
            Pieces =
            [
                new("leaf", Box(0, 0, 400, 200), false), new("leaf", Box(404, 0, 200, 400), true),
                new("leaf", Box(204, 404, 400, 200), false), new("leaf", Box(0, 204, 200, 400), true),
            ],
            Offcuts = [],
        };
        PlanChecker.Check(TestPlan.Of(job, layout)).Select(finding => finding.Rule).Distinct()
            .Should().BeEquivalentTo("not-through-cuts", "tree-leaves");
        // The same pieces are legal on a cutter with the same gap.
        var free = job with { Saws = [Cutter with { Kerf = Mm(4), Trims = default }] };
        PlanChecker.Check(TestPlan.Of(free, TestPlan.OnCutter(free, "R", [.. layout.Pieces]))).Should().BeEmpty();
        // And no longer with a gap that is one nanometre wider.
        var wider = job with { Saws = [Cutter with { Kerf = Mm(4) + Nanometre, Trims = default }] };
        PlanChecker.Check(TestPlan.Of(wider, TestPlan.OnCutter(wider, "R", [.. layout.Pieces]))).Select(finding => finding.Rule).Distinct()
            .Should().Equal("kerf-too-narrow");
    }

    [Fact]
    public void Terms_of_suppliers_and_pieces_bought_whole_are_worked_out_again()
    {
        // Bought plate: from two pieces on 150 instead of 200 each, goods below 350 pay up to it, delivery 30 unless goods reach 400.
        var parts = ImmutableArray.Create(Flat("bracket", 400, 300, 12) with { Forms = Forms.Plate }, Flat("foot", 100, 34, 16) with { Forms = Forms.FlatBar });
        var plate = Plate("P", 600, 400, 15) with
        {
            Supplier = "Demo Metals",
            CleanEdges = new(true, true, true, true),
            Terms = new() { Breaks = [new(2, Money.FromAmount(150m))] },
        };
        var job = Job(parts, [plate, Bar("B", Form.FlatBar, 40, 20) with { Supplier = "demo metals" }]) with
        {
            Suppliers = [new() { Name = "Demo Metals", MinimumOrder = Money.FromAmount(350m), Delivery = Money.FromAmount(30m), FreeDeliveryFrom = Money.FromAmount(400m) }],
        };
        var cut = TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            strip => tree.Split(strip(304), CutDirection.Crosscut, [.. tree.Row("bracket", 404, 1)])));
        var bar = TestPlan.OnSaw(job, "B", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("foot", 102, 1)]));
        var whole = TestPlan.OnSaw(job, "P", (usable, tree) => tree.Rest(usable));
        var plan = TestPlan.Of(job, cut, bar, whole);
        PlanChecker.Check(plan).Should().BeEmpty();
        // 2 × 150 + 40 = 340, topped up by 10, and delivery of 30.
        plan.Orders.Single().Should().Match<Order>(order => order.Goods.Amount == 340m && order.TopUp.Amount == 10m && order.Delivery.Amount == 30m);
        plan.Layouts[2].Offcuts.Single().Keep.Should().BeTrue();
        // Terms −60 and a plate for 200 less 90 on the rack: +50, shared by listed price 200 : 40.
        var without = CostOf(TestPlan.Of(job with { Suppliers = [], Stocks = [plate with { Supplier = null }, job.Stocks[1]] }, cut, bar));
        (CostOf(plan)[0] - without[0]).Should().BeApproximately(50m * 200m / 240m, 0.0002m);
        (CostOf(plan)[1] - without[1]).Should().BeApproximately(50m * 40m / 240m, 0.0002m);
        // A leftover is not bought whole, and nothing but the whole is.
        var rack = job with { Stocks = [job.Stocks[0] with { RackMark = "P", Available = 2 }, job.Stocks[1]] };
        PlanChecker.Check(TestPlan.Of(rack, cut, bar, whole)).Select(finding => finding.Rule).Should().Contain("empty-layout");
        var half = whole with { Offcuts = [whole.Offcuts[0] with { Area = whole.Sheet with { SizeX = Mm(550) } }] };
        PlanChecker.Check(TestPlan.Of(job, cut, bar, half)).Select(finding => finding.Rule).Should().Contain("empty-layout");

        static decimal[] CostOf(Plan plan) => [.. plan.PartCosts.Select(cost => cost.Total.Amount)];
    }

    [Fact]
    public void Stock_cut_to_size_is_one_blank()
    {
        var stock = Plate("cut bracket", 404, 304, 15) with { CutFor = "bracket" };
        var job = Job([Flat("bracket", 400, 300, 12, 2) with { Forms = Forms.Plate }, Flat("other", 10, 10, 12)], [stock]);
        var blanks = Nest.Core.Blanks.BlankSizer.Size(job);
        (blanks[0].Fits.Length, blanks[1].Fits.Length).Should().Be((1, 0));
        var layout = TestPlan.OnSaw(job, "cut bracket", (usable, tree) => tree.Piece("bracket", usable), 2);
        layout.SawId.Should().Be(Nest.Core.Jobs.Saw.SupplierId);
        var plan = TestPlan.Of(job, layout);
        PlanChecker.Check(plan with { Unplaced = [new("other", 1, "nothing fits")] }).Should().BeEmpty();
        plan.Layouts[0].Cost.Saw.Should().Be(Money.Zero);
    }

    [Fact]
    public void A_piece_may_touch_damage_on_a_saw_but_a_cutter_keeps_its_gap()
    {
        var parts = ImmutableArray.Create(Flat("leaf", 96, 96, 12) with { Forms = Forms.Plate });
        var stock = Leftover("R", 600, 600, 15) with { KeepOuts = [Box(120, 20, 30, 30)] };
        var job = Job(parts, [stock], Cutter);
        PlanChecker.Check(TestPlan.Of(job, TestPlan.OnCutter(job, "R", new PlacedPiece("leaf", Box(20, 20, 100, 100), false))))
            .Select(finding => finding.Rule).Should().Equal("keep-out-touched");
        PlanChecker.Check(TestPlan.Of(job, TestPlan.OnCutter(job, "R", new PlacedPiece("leaf", Box(162, 20, 100, 100), false))))
            .Should().BeEmpty();
    }

    [Fact]
    public void Five_thousand_pieces_are_checked_quickly()
    {
        var job = Job([Flat("tile", 6, 6, 12, 5000) with { Forms = Forms.Plate }], [Plate("P", 2000, 1000, 15)]);
        var layout = TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            [.. Enumerable.Repeat<Func<Func<decimal, Rect>, CutNode>>(
                strip => tree.Split(strip(10), CutDirection.Crosscut, [.. tree.Row("tile", 10, 100)]), 50)]));
        var watch = System.Diagnostics.Stopwatch.StartNew();
        PlanChecker.Check(TestPlan.Of(job, layout)).Should().BeEmpty();
        // Measured well below a second; the limit leaves room for a loaded machine and still catches n².
        watch.Elapsed.Should().BeLessThan(TimeSpan.FromSeconds(10));
    }

    private static Plan Order(Plan plan, Func<Order, Order> change) => plan with { Orders = plan.Orders.SetItem(0, change(plan.Orders[0])) };

    private static Plan Layout(Plan plan, int index, Func<Layout, Layout> change) =>
        plan with { Layouts = plan.Layouts.SetItem(index, change(plan.Layouts[index])) };

    private static Plan Cost(Plan plan, int index, Func<LayoutCost, LayoutCost> change) =>
        Layout(plan, index, layout => layout with { Cost = change(layout.Cost) });

    private static Plan Piece(Plan plan, int layout, int piece, Func<PlacedPiece, PlacedPiece> change) =>
        Layout(plan, layout, one => one with { Pieces = one.Pieces.SetItem(piece, change(one.Pieces[piece])) });

    private static Plan Offcut(Plan plan, int layout, int offcut, Func<Offcut, Offcut> change) =>
        Layout(plan, layout, one => one with { Offcuts = one.Offcuts.SetItem(offcut, change(one.Offcuts[offcut])) });

    private static Job Part(Plan plan, string id, Func<Part, Part> change) =>
        plan.Job with { Parts = [.. plan.Job.Parts.Select(part => part.Id == id ? change(part) : part)] };

    private static Job Stock(Plan plan, string id, Func<Stock, Stock> change) =>
        plan.Job with { Stocks = [.. plan.Job.Stocks.Select(stock => stock.Id == id ? change(stock) : stock)] };

    private static Job Saw(Plan plan, string id, Func<Saw, Saw> change) =>
        plan.Job with { Saws = [.. plan.Job.Saws.Select(saw => saw.Id == id ? change(saw) : saw)] };
}
