using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Blanks;

/// <summary>Blank sizes worked out by hand. Usual allowances of the test shop: 2 mm a side, 1 mm a sawn end, 1 mm a face, no grip.</summary>
public class BlankSizerTest
{
    [Fact]
    public void A_bracket_from_plate_by_hand()
    {
        // 120 × 80 × 12 held in a vise by 4 mm: 124 × 84, and 12 + 1 + 1 + 4 = 18 mm, so 20 mm plate (at least 19.7) is the next.
        var part = Flat("bracket", 120, 80, 12, 3) with { Extra = 2, Allowances = new() { Grip = Mm(4) } };
        var blank = One(part, Plate("12", 1000, 500, 12), Plate("15", 1000, 500, 15), Plate("20", 1000, 500, 20), Plate("25", 1000, 500, 25));
        (blank.Length, blank.Width, blank.Thickness, blank.Demand).Should().Be((Mm(124), Mm(84), Mm(18), 5));
        blank.Fits.Select(fit => fit.StockId).Should().Equal("20", "25");
        blank.Fits[0].Should().Be(new BlankFit("20", Mm(124), Mm(84), true, false, Mm(2),
            // 12.4 × 8.4 × 0.2 cm = 20.832 cm³ at 30 cm³/min and 90 an hour.
            Money.FromAmount(20.832m / 30m * 90m / 60m)));
        blank.Reason.Should().BeEmpty();
    }

    [Fact]
    public void An_inch_plate_by_hand()
    {
        // 4" × 3" × 1/2", 1/16" a side, 1/32" a face: 4 1/8 × 3 1/8 × 9/16, from 5/8" plate.
        var part = Flat("clevis", 1, 1, 1) with
        {
            Length = Length.FromInches(4),
            Width = Length.FromInches(3),
            Thickness = Length.FromInches(0.5m),
            Allowances = new() { SideCleanUp = Length.FromInches(0.0625m), FaceTop = Length.FromInches(0.03125m), FaceBottom = Length.FromInches(0.03125m) },
        };
        var blank = One(part, Plate("5/8", 1000, 500, 15.875m, minus: 0.5m));
        (blank.Length, blank.Width, blank.Thickness)
            .Should().Be((Length.FromInches(4.125m), Length.FromInches(3.125m), Length.FromInches(0.5625m)));
        blank.Fits.Single().FacedAway.Should().Be(Length.FromInches(0.0625m));
    }

    [Fact]
    public void Rules_apply_from_top_to_bottom_and_the_parts_own_last()
    {
        var job = Job([Flat("p", 100, 50, 10) with { Holding = Holding.SoftJaws, Allowances = new() { FaceTop = Mm(0.5m) } }], [Plate("P", 500, 500, 20)]) with
        {
            AllowanceRules =
            [
                new() { Allowances = new() { SideCleanUp = Mm(3), Grip = Mm(5) } },
                new() { Family = "ALUMINIUM", Allowances = new() { SideCleanUp = Mm(2) } },
                new() { Family = "steel", Allowances = new() { SideCleanUp = Mm(9) } },
                new() { Holding = Holding.SoftJaws, Allowances = new() { Grip = Mm(1.5m), FaceTop = Mm(2) } },
                new() { Holding = Holding.Chuck, Allowances = new() { Grip = Mm(20) } },
            ],
        };
        var blank = BlankSizer.Size(job).Single();
        blank.Allowances.Should().Be(new Allowances(Mm(2), Mm(0), Mm(0.5m), Mm(0), Mm(1.5m)));
        (blank.Length, blank.Thickness).Should().Be((Mm(104), Mm(12)));
    }

    [Fact]
    public void Without_rules_the_blank_is_the_part()
    {
        var job = Job([Flat("p", 100, 50, 10)], [Plate("P", 500, 500, 10, minus: 0)]) with { AllowanceRules = [] };
        BlankSizer.Size(job).Single().Fits.Single().Should().Be(new BlankFit("P", Mm(100), Mm(50), true, false, Mm(0), Money.Zero));
    }

    [Fact]
    public void Good_faces_may_stay_but_the_grip_stays_too()
    {
        // Tooling plate comes milled (common practice, no source): 10 mm part from nominal 10 mm, though it may be 0.1 mm under.
        var good = Plate("good", 500, 500, 10, minus: 0.1m) with { GoodFaces = true };
        var part = Flat("p", 100, 50, 10) with { MillFaces = true };
        One(part, good, good with { Id = "rough", GoodFaces = false }).Fits.Select(fit => fit.StockId).Should().Equal("good");
        One(part with { Allowances = new() { Grip = Mm(0.5m) } }, good).Reason.Should().Contain("0.6 mm too little");
        // 9.95 mm is not the nominal size: then the smallest thickness counts.
        One(part with { Thickness = Mm(9.95m) }, good).Fits.Should().BeEmpty();
    }

    [Fact]
    public void The_smallest_thickness_counts_not_the_nominal_one()
    {
        One(Flat("p", 100, 50, 12.7m), Plate("P", 500, 500, 15)).Fits.Should().ContainSingle();
        One(Flat("p", 100, 50, 12.700001m), Plate("P", 500, 500, 15)).Reason
            .Should().Be("plate: blank needs 14.700001 mm thickness, P has 14.7 mm: 0.000001 mm too little");
    }

    [Fact]
    public void A_plate_must_hold_the_blank_within_its_trims_turned_if_it_may()
    {
        // 500 × 300 less 10 at each edge: 480 × 280.
        var plate = Plate("P", 500, 300, 15);
        var part = Flat("p", 276, 476, 10);
        One(part, plate).Fits.Should().ContainSingle();
        One(part with { MayTurn = false }, plate).Reason
            .Should().Be("plate: blank of 280 mm × 480 mm (not to be turned) does not fit the usable 480 mm × 280 mm of P: 200 mm too large");
        One(part with { Width = Mm(476) + Length.FromNanometres(1) }, plate).Fits.Should().BeEmpty();
        One(part with { MayTurn = false, Length = Mm(476), Width = Mm(276) }, plate).Fits.Single().MayTurn.Should().BeFalse();
        // A leftover with clean edges needs no trim; a damaged area is the packer's business.
        One(Flat("p", 496, 296, 10), Leftover("R", 500, 300, 15) with { KeepOuts = [Box(0, 0, 20, 20)] }).Fits.Should().ContainSingle();
    }

    [Fact]
    public void A_flat_bar_gives_the_shortest_length_that_its_section_covers()
    {
        // 100 × 36 × 16 with 1 mm ends: along the bar 102, section 40 × 18. From 60 × 40 the width may lie along: 38, section 104 × 18.
        var part = Flat("foot", 100, 36, 16);
        var narrow = Bar("50x20", Form.FlatBar, 50, 20);
        var wide = Bar("110x20", Form.FlatBar, 110, 20);
        var square = Bar("110x50", Form.FlatBar, 110, 50);
        var blank = One(part, narrow, wide, square);
        blank.Fits.Select(fit => (fit.StockId, fit.SizeX, fit.SizeY, fit.Turned, fit.MayTurn)).Should().Equal(
            ("50x20", Mm(102), Mm(49.8m), false, false),
            ("110x20", Mm(38), Mm(109.8m), true, false),
            // Sliced: 16 + 1 + 1 along the bar, the faces are sawn; section 104 × 40.
            ("110x50", Mm(18), Mm(109.8m), true, false));
        // 102 mm of 50 × 20 less 40 × 18 = 28.56 cm³.
        blank.Fits[0].ExtraCost.Should().Be(Money.FromAmount(28.56m / 30m * 90m / 60m));
        blank.Fits[0].FacedAway.Should().Be(Mm(2));
        One(part with { MayTurn = false }, narrow, wide, square).Fits.Select(fit => fit.SizeX).Should().Equal(Mm(102), Mm(102), Mm(102));
    }

    [Fact]
    public void Mill_sides_need_no_clean_up_on_bars()
    {
        var part = Flat("link", 100, 40, 20) with { MayTurn = false, Allowances = new() { FaceTop = Mm(0), FaceBottom = Mm(0) } };
        var bar = Bar("40x20", Form.FlatBar, 40, 20) with { GoodFaces = true };
        One(part, bar).Fits.Should().BeEmpty("2 mm a side do not come out of 40 mm");
        One(part with { MillSides = true, MillFaces = true }, bar).Fits.Single()
            .Should().Be(new BlankFit("40x20", Mm(102), Mm(39.8m), false, false, Mm(0), Money.Zero));
        One(part with { MillSides = true }, bar).Reason.Should().Contain("0.2 mm too little", "rough faces are to be faced, and the bar may be 19.8");
    }

    [Fact]
    public void A_rectangle_from_round_bar_needs_its_diagonal()
    {
        // 3-4-5: 30 × 40 has a diagonal of exactly 50. Sides 2 mm each and faces 1 mm each: 26 × 2·2, 38 + 2.
        var part = Flat("block", 60, 26, 38) with { MayTurn = false, MillSides = true, MillFaces = true };
        One(part, Bar("50", Form.RoundBar, 50, 50, minus: 0)).Fits.Single().SizeX.Should().Be(Mm(62));
        One(part, Bar("50", Form.RoundBar, 50, 50, minus: 0.000001m)).Reason.Should().Contain("0.000001 mm too little");
    }

    [Fact]
    public void A_round_part_from_round_bar()
    {
        // ⌀30 × 80 in a chuck that grips 12: ⌀34, 80 + 2 × 1 + 12 = 94.
        var part = Round("pin", 30, 80) with { Holding = Holding.Chuck, Allowances = new() { Grip = Mm(12) } };
        var blank = One(part, Bar("35", Form.RoundBar, 35, 35), Bar("34", Form.RoundBar, 34, 34));
        blank.Fits.Select(fit => (fit.StockId, fit.SizeX, fit.FacedAway)).Should().Equal(("35", Mm(94), Mm(1)));
        // π/4 · (3.5² − 3.4²) · 9.4 = 5.0941 cm³; 1.5 per 30 cm³ … 0.2547.
        blank.Fits[0].ExtraCost.Amount.Should().BeApproximately(0.2547m, 0.0001m);
        // Not in a chuck there is no grip.
        One(part with { Holding = Holding.SoftJaws }, Bar("35", Form.RoundBar, 35, 35)).Fits.Single().SizeX.Should().Be(Mm(82));
        // Cold-drawn bar whose surface stays: nominal 30 serves although it may be 29.8.
        One(part with { MillSides = true }, Bar("30", Form.RoundBar, 30, 30)).Fits.Single().FacedAway.Should().Be(Mm(0));
    }

    [Fact]
    public void A_disc_from_plate_is_a_square_blank()
    {
        // ⌀100 × 12: 104 × 104, 12 + 1 + 1 = 14.
        var disc = Round("disc", 100, 12);
        var blank = One(disc, Plate("15", 1000, 500, 15), Plate("120", 1000, 500, 120));
        (blank.Length, blank.Width, blank.Thickness).Should().Be((Mm(104), Mm(104), Mm(14)));
        // From 120 mm plate it may also lie: 14 × 104 in plan.
        blank.Fits.Select(fit => (fit.StockId, fit.SizeX, fit.SizeY)).Should().Equal(("15", Mm(104), Mm(104)), ("120", Mm(14), Mm(104)));
        // The corners of the square are milled away too: 10.4 × 10.4 × 1.5 − π/4 · 10.4² · 1.4 = 43.314 cm³.
        blank.Fits[0].ExtraCost.Amount.Should().BeApproximately(43.314m / 20m, 0.001m);
    }

    [Theory]
    [InlineData(Forms.RoundBar, "stock of 6061-T651 comes as plate only, and the part allows round bar")]
    public void The_reason_names_forms(Forms forms, string reason) =>
        One(Flat("p", 100, 50, 10) with { Forms = forms }, Plate("P", 500, 500, 20)).Reason.Should().Be(reason);

    [Fact]
    public void The_reason_names_the_nearest_miss()
    {
        var part = Flat("p", 100, 50, 30);
        One(part with { MaterialId = "S235" }, Plate("P", 500, 500, 20)).Reason.Should().Be("there is no stock of S235");
        One(part).Reason.Should().Be("there is no stock at all");
        One(part, Plate("20", 500, 500, 20), Plate("25", 500, 500, 25), Plate("15", 500, 500, 15)).Reason
            .Should().Be("plate: blank needs 32 mm thickness, 25 has 24.7 mm: 7.3 mm too little");
        var small = Job([part], [Plate("P", 500, 500, 40)], PlateSaw with { LargestThickness = Mm(30) });
        BlankSizer.Size(small).Single().Reason.Should().Be("plate: no saw takes P (500 mm × 40 mm)");
        BlankSizer.Size(Job([part], [Plate("P", 500, 700, 40)], PlateSaw with { LongestStock = Mm(699) })).Single().Reason
            .Should().Be("plate: P is 700 mm long, longer than the saw's longest stock", "the longer side counts");
        BlankSizer.Size(Job([part], [Plate("P", 500, 700, 40)], PlateSaw with { LongestStock = Mm(699) }, PlateSaw with { Id = "next" })).Single().Fits.Should().ContainSingle();
        One(part, Plate("P", 500, 500, 40) with { Available = 0 }).Reason.Should().Be("plate: none of P is left");
        One(Flat("rod", 3200, 20, 10) with { MayTurn = false }, Bar("B", Form.FlatBar, 40, 20), Plate("P", 2000, 500, 15)).Reason.Should().Be(
            "plate: blank of 3204 mm × 24 mm (not to be turned) does not fit the usable 1980 mm × 480 mm of P: 1224 mm too large; "
            + "flat bar: blank is 218 mm longer than the usable 2984 mm of B");
    }

    /// <summary>There is one blank on a bar, the shortest. It was sawn the other way, which the checker refuses, where that way alone could be held.</summary>
    [Fact]
    public void A_bar_on_which_the_shortest_way_cannot_be_held_does_not_serve()
    {
        // Usable are 133.5 - 2 * 8 = 117.5: 50 leaves 65.5 behind a kerf of 2, while 82 is held itself.
        var part = Flat("p", 48, 80, 18);
        Blank On(decimal held) => BlankSizer.Size(Job([part], [Bar("B", Form.FlatBar, 84, 20, length: 133.5m, minus: 0m)], BarSaw with { ShortestHeld = Mm(held) })).Single();
        On(65.5m).Fits.Single().SizeX.Should().Be(Mm(50));
        On(80).Fits.Should().BeEmpty();
        On(80).Reason.Should().StartWith("flat bar: to saw 50 mm off B leaves less on both sides of the cut than the 80 mm that bar saw must hold");
    }

    [Fact]
    public void A_plate_that_the_saw_cannot_trim_or_divide_does_not_serve()
    {
        var job = Job([Flat("p", 100, 50, 10)], [Plate("P", 3000, 1500, 15)], PlateSaw with { LargestCut = Mm(1400) });
        BlankSizer.Size(job).Single().Reason.Should().Contain("the trimming cut is longer than its largest cut");
        var untrimmed = job with { Saws = [job.Saws[0] with { Trims = default }] };
        BlankSizer.Size(untrimmed).Single().Reason.Should().Contain("the saw's largest cut is too short");
        var enough = job with { Saws = [job.Saws[0] with { Trims = default, LargestCut = Mm(1500) }] };
        BlankSizer.Size(enough).Single().Fits.Should().ContainSingle();
    }

    private static Blank One(Part part, params ImmutableArray<Stock> stocks) => BlankSizer.Size(Job([part], stocks)).Single();
}
