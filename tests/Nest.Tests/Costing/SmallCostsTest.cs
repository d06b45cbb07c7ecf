using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

/// <summary>Amounts that need no solver: one blank by itself, a bar's row, times by the clock, parts out of gang blanks. All by hand.</summary>
public sealed class SmallCostsTest
{
    [Fact]
    public void One_blank_is_its_share_of_the_stock_and_what_is_milled()
    {
        // A blank of 404 × 304 of a plate of 2000 × 1000 at 200: 12.2816, and 6.1408 of facing.
        var part = Flat("bracket", 400, 300, 12) with { Forms = Forms.Plate };
        var plate = Plate("plate 15", 2000, 1000, 15);
        BlankCost.Of(BlankSizer.Size(Job([part], [plate])).Single().Fits.Single(), plate).Amount.Should().Be(12.2816m + 6.1408m);

        // A mitred strut on a bar: its share of 3 m at 40 and two angled cuts.
        var strut = Flat("strut", 300, 40, 20) with
        {
            Forms = Forms.FlatBar,
            MayTurn = false,
            MillFaces = true,
            MillSides = true,
            Ends = new(Angle.FromDegrees(60), Angle.Square),
            Allowances = new() { EndCleanUp = Length.Zero, SideCleanUp = Length.Zero, FaceTop = Length.Zero, FaceBottom = Length.Zero },
        };
        var bar = Bar("bar", Form.FlatBar, 40, 20) with { GoodFaces = true };
        var fit = BlankSizer.Size(Job([strut], [bar])).Single().Fits.Single();

        // 300 and a kerf of 2 ÷ cos 60° = 4: 304 of 3000 at 40 are 4.0533; one cut through 8 ÷ cos 60° = 16 cm² at 40 cm²/min and 1 min of handling, at 50 an hour: 1.1667.
        BlankCost.Of(fit, bar).Amount.Should().Be(4.0533m + 1.1667m);
    }

    [Theory]
    [InlineData(false), InlineData(true)]
    public void Blanks_lie_one_behind_the_other_from_the_clean_end(bool fromRight)
    {
        var job = Job([Flat("foot", 98, 34, 16, 2) with { Forms = Forms.FlatBar }, Flat("leg", 198, 34, 16) with { Forms = Forms.FlatBar }],
            [Bar("bar", Form.FlatBar, 40, 20, 1000) with { CleanEdges = new(false, fromRight, false, false) }]);
        var stock = job.Stocks[0];
        var empty = TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Rest(usable));
        PlacedPiece Piece(string part, decimal size) => new(part, Box(0, 0, size, 39.8m), false);
        var layout = BarRow.Lay(job, stock, BarSaw, empty, [Piece("foot", 100), Piece("leg", 200), Piece("foot", 100)], [1, 0, 2]);

        // 1000 long; 8 are trimmed at the left; at the right 8 more where that end is raw. From the left: 8, 210, 312; from the right: 800, 698, 596.
        layout.Pieces.Select(piece => piece.Area.X.ToMillimetres()).Should().Equal(fromRight ? [698m, 800m, 596m] : [210m, 8m, 312m]);
        var rest = layout.Offcuts.Single().Area;
        (rest.X.ToMillimetres(), rest.Right.ToMillimetres()).Should().Be(fromRight ? (8m, 594m) : (414m, 992m));
        layout.Tree!.Children.Select(node => (node.Kind, node.Area.X)).Should().BeInAscendingOrder(node => node.X).And.HaveCount(4);
        layout.Tree.Children.Where(node => node.Kind == CutNodeKind.Piece).Should().OnlyContain(node => layout.Pieces[node.Index].Area == node.Area);
        Nest.Check.PlanChecker.Check(TestPlan.Of(job, layout)).Should().BeEmpty();

        // Filled to the end nothing is left.
        var usable = empty.Usable.SizeX;
        var full = BarRow.Lay(job, stock, BarSaw, empty, [Piece("foot", 100), Piece("leg", usable.ToMillimetres() - 102m)], [0, 1]);
        full.Offcuts.Should().BeEmpty();
        full.Tree!.Children.Should().HaveCount(2);
    }

    [Fact]
    public void A_wider_kerf_names_the_bars_that_come_short()
    {
        // The bar of the good plan, filled: 3000 − 16 of trims = 2984; 28 feet of 102 and 27 kerfs of 2 are 2910: 74 are left. With a kerf of 4 each of 27 cuts takes 2 more, 54; with 4.8 they take 75.6.
        var good = TestPlan.Good();
        var job = good.Job with { Parts = good.Job.Parts.SetItem(2, good.Job.Parts[2] with { Quantity = 28 }) };
        var plan = TestPlan.Of(job, good.Layouts[0], good.Layouts[1], TestPlan.OnSaw(job, "flat 40x20", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("foot", 102, 28)])));
        Measured.TooShort(plan, BarSaw, Mm(4)).Should().BeEmpty();
        Measured.TooShort(plan, BarSaw, Length.FromNanometres(4_740_740)).Should().BeEmpty("27 times 2.740740 are just what is left");
        Measured.TooShort(plan, BarSaw, Length.FromNanometres(4_740_741)).Should().Equal((3, Length.FromNanometres(7)));
        Measured.TooShort(plan, BarSaw, Mm(4.8m)).Should().Equal((3, Mm(1.6m)));
        Measured.TooShort(plan, BarSaw, Mm(2)).Should().BeEmpty();
        Measured.TooShort(plan, PlateSaw, Mm(60)).Should().BeEmpty("plates take a wider kerf from their offcuts");
    }

    /// <summary>By hand: a bar of 3000 with 8 cut off either end has 2984; nine struts with one end of 60° and one of 0° or −60°. A kerf that is wider by 1 takes 1 more at each of eight cuts between them and
    /// 2 more (1 ÷ cos 60°) at each angled end: 8 + 18 or 8 + 36.</summary>
    [Theory]
    [InlineData(0, 26), InlineData(-60, 44)]
    public void A_wider_kerf_takes_more_at_angled_ends(int other, int more)
    {
        var strut = Flat("strut", 300, 40, 20, 9) with { Forms = Forms.FlatBar, Ends = new(Angle.FromDegrees(60), Angle.FromDegrees(other)) };
        var job = Job([strut], [Bar("bar", Form.FlatBar, 40, 20)]);
        var layout = TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("strut", 320, 9)]));
        layout = layout with { Pieces = [.. layout.Pieces.Select(piece => piece with { Ends = strut.Ends })] };
        var plan = TestPlan.Good() with { Job = job, Layouts = [layout] };

        // Nine times 320 and eight kerfs of 2: 2896; 88 are left.
        Measured.TooShort(plan, BarSaw, Wider(88)).Should().BeEmpty();
        Measured.TooShort(plan, BarSaw, Wider(89)).Single().Missing.ToMillimetres().Should().BeApproximately(1m, 0.001m);

        Length Wider(decimal taken) => Mm(2 + (decimal.Floor(taken / more * 1_000_000m) / 1_000_000m));
    }

    /// <summary>By hand: a bar of 40 × 20 is 8 cm². The raw end and two struts are three cuts through 8; an end of 60° is one through 16 (8 ÷ cos 60°), an end of 0° none of its own.</summary>
    [Theory]
    [InlineData(0, 5, 24 + 32), InlineData(-60, 7, 24 + 64)]
    public void Angled_ends_are_cuts_through_more_metal(int other, int cuts, int section)
    {
        var strut = Flat("strut", 300, 40, 20, 2) with { Forms = Forms.FlatBar, Ends = new(Angle.FromDegrees(60), Angle.FromDegrees(other)) };
        var job = Job([strut], [Bar("bar", Form.FlatBar, 40, 20)]);
        var layout = TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("strut", 320, 2)]));
        var work = SawWork.Of(BarSaw, job.Stocks[0], layout with { Pieces = [.. layout.Pieces.Select(piece => piece with { Ends = strut.Ends })] });
        (work.Cuts, work.Section.ToSquareCentimetres()).Should().Be((cuts, section));
    }

    /// <summary>By hand: 3 minutes at 60 an hour are 3.00 for each plate that is cut, 1.5 minutes at 50 an hour 1.25 for each bar. What is bought whole is not loaded.</summary>
    [Fact]
    public void Each_piece_that_is_cut_is_loaded()
    {
        var plan = TestPlan.Good();
        var job = plan.Job with { Saws = [PlateSaw with { LoadMinutes = 3m }, BarSaw with { LoadMinutes = 1.5m }], Fuss = new() { HourlyRate = 60m, FurtherSizeMinutes = 10m } };
        var fuss = FussCosts.Of(job, [plan.Layouts[0] with { Count = 2 }, plan.Layouts[1], plan.Layouts[2] with { Count = 4 }, plan.Layouts[0] with { Pieces = [] }]);
        fuss.Loading.Amount.Should().Be((3 * 3m) + (4 * 1.25m));
        fuss.Sizes.Should().BeEmpty("each part has one size of blank");
    }

    [Fact]
    public void A_rule_by_age_says_that_no_leftover_has_a_day()
    {
        var job = Job([], [Plate("P", 600, 400, 15), Leftover("R1", 600, 400, 15), Leftover("R2", 600, 400, 15)]) with { UseFirst = new() { OlderThanDays = 90 } };
        LeftoversFirst.Notes(job).Should().ContainSingle().Which.Severity.Should().Be(Severity.Note);
        LeftoversFirst.Notes(job with { Stocks = job.Stocks.SetItem(2, job.Stocks[2] with { Entered = new DateOnly(2026, 1, 5) }) }).Should().BeEmpty("one has a day");
        LeftoversFirst.Notes(job with { Stocks = [job.Stocks[0]] }).Should().BeEmpty("there are none");
        LeftoversFirst.Notes(job with { UseFirst = new() { Names = ["R1"] } }).Should().BeEmpty();
        LeftoversFirst.Notes(job with { UseFirst = null }).Should().BeEmpty();
    }

    [Fact]
    public void Times_by_the_clock_give_one_factor_a_saw()
    {
        var plan = TestPlan.Good();
        plan = plan with { Job = plan.Job with { Saws = [PlateSaw with { LoadMinutes = 2m, CutRates = [new("aluminium", 90m), new("steel", 30m)] }, BarSaw] } };
        var minutes = CutSequencer.Order(plan).Items.ToDictionary(item => item.Layout, item => item.Minutes);
        var measured = Measured.Of(plan, new Dictionary<int, decimal> { [1] = minutes[1] * 2m, [2] = minutes[2] * 2m, [3] = minutes[3] / 2m });
        measured.Select(one => (one.Saw.Id, one.Layouts, one.Factor)).Should().Equal(("plate saw", 2, 2m), ("bar saw", 1, 0.5m));
        var (slow, quick) = (measured[0].Proposed, measured[1].Proposed);
        (slow.HandlingMinutes, slow.SettingMinutes, slow.LoadMinutes, slow.DefaultCutRate).Should().Be((3m, 4m, 4m, 45m));
        slow.CutRates.Should().Equal(new CutRate("aluminium", 45m), new CutRate("steel", 15m));
        (quick.HandlingMinutes, quick.SettingMinutes, quick.DefaultCutRate).Should().Be((0.5m, 0.5m, 80m));
        Measured.Of(plan, new Dictionary<int, decimal> { [2] = 1m }).Single().Layouts.Should().Be(1);
        Measured.Of(plan, new Dictionary<int, decimal>()).Should().BeEmpty();
    }

    [Fact]
    public void Parts_out_of_gang_blanks_are_one_row_each_again()
    {
        // Fourteen clips, two of them spares, from three blanks of four and one of two; a left and a right hand from two blanks with one of each.
        Part Kind(string id, int quantity, int extra, string? with, Gang gang) => Flat(id, 30, 20, 9, quantity) with { Extra = extra, PerBlank = new() { With = with }, Gang = gang };
        var job = Job(
            [
                Kind("clip ×4", 12, 2, null, new() { Rows = 2, Columns = 2, Blanks = 3, Members = [new("clip", 4, 14)] }),
                Kind("clip ×2", 12, 2, null, new() { Rows = 1, Columns = 2, Blanks = 1, Rest = true, Members = [new("clip", 2, 14)] }),
                Kind("left + right ×2", 2, 0, "right", new() { Rows = 1, Columns = 2, Blanks = 2, Members = [new("left", 1, 2), new("right", 1, 2)] }),
                Flat("nut", 10, 10, 9, 5),
            ], []);
        PartCost Cost(string id, int blanks, decimal metal, decimal saw) => new(id, blanks, Money.FromAmount(metal), Money.FromAmount(saw), Money.Zero);
        var plan = TestPlan.Good() with { Job = job, PartCosts = [Cost("clip ×4", 3, 10m, 2m), Cost("clip ×2", 1, 3m, 1m), Cost("left + right ×2", 2, 5m, 1m), Cost("nut", 5, 1m, 0.5m)] };

        PartsMade.Of(plan).Select(one => (one.Part.Id, one.Part.Quantity, one.Part.Gang, one.Made, one.Given, one.Blank, one.Shares)).Should().Equal(
            ("clip", 12, null, 14, 12, 16m, "|clip"), ("left", 2, null, 2, 2, 3m, "left|right"), ("right", 2, null, 2, 2, 3m, "left|right"), ("nut", 5, null, 5, 5, 1.5m, null));

        // Two sets: as many are given again.
        PartsMade.Of(plan with { Job = job with { Batch = 2 } }).Select(one => one.Given).Should().Equal(24, 4, 4, 10);
    }

    [Fact]
    public void A_leftover_bought_stock_and_a_stock_without_a_rule_by_hand()
    {
        // 0.6 × 0.4 × 0.015 m³ at 2700 and 1.20: 9.72 kg, 11.664 of scrap.
        var job = Job([], [Leftover("R", 600, 400, 15, 20), Plate("P", 600, 400, 15, 15)]) with { OffcutRules = [Keep with { Fraction = 0.5m, LeftoverFraction = 0.9m }] };
        StockWorth.Of(job, job.Stocks[0]).Should().Be(new StockWorth(Money.FromAmount(18m), Money.FromAmount(11.664m)));
        StockWorth.Of(job, job.Stocks[1]).Keep.Amount.Should().Be(11.664m, "half of 15 is less than its scrap");
        StockWorth.Of(job with { OffcutRules = [] }, job.Stocks[0]).Keep.Amount.Should().Be(11.664m);
        var cheaper = job.Stocks[1] with { PiecePrice = Money.FromAmount(100m), Terms = new() { Breaks = [new(5, Money.FromAmount(80m)), new(9, Money.FromAmount(90m))] } };
        StockWorth.Of(job, cheaper).Keep.Amount.Should().Be(40m, "of the lowest price");
    }
}
