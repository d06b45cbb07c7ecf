using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

/// <summary>What still comes out of the offcuts of the good plan, worked by hand.</summary>
/// <remarks>Offcuts: plate 15 has 348 × 304 (scrap), 900 × 204 (kept, 11.016) and 1980 × 464 (kept, 55.1232); the leftover 192 × 304 and 600 × 92 (scrap);
/// the bar 1944 (kept, 15.552). Blanks: bracket 404 × 304, may not turn; tab 204 × 104, may turn; foot 102 from the bar. Kerf 4 on plates, 2 on the bar.</remarks>
public sealed class FillUpTest
{
    private static Plan Good => TestPlan.Good();

    // 4 brackets in 1980 × 464: (1980 + 4) ÷ 408 = 4.8 and (464 + 4) ÷ 308 = 1.5; 4 × 6.1408 facing and the 55.1232 that the offcut was to bring.
    private static readonly FillUpLine Brackets = new("bracket", 4, Money.FromAmount(79.6864m));

    [Fact]
    public void Each_part_alone_takes_every_offcut_that_it_fits() =>
        Alone(Good).Should().Equal(
            Brackets,
            // Tabs: 3 turned in 348 × 304 (2 straight), 8 turned in 900 × 204 (4 straight), 36 in 1980 × 464, 1 turned in 192 × 304, none in 600 × 92.
            // 48 × 1.0608 facing + 11.016 + 55.1232.
            new FillUpLine("tab", 48, Money.FromAmount(117.0576m)),
            // Feet: (1944 + 2) ÷ 104 = 18.7; facing (40 × 20 − 38 × 18) × 102 mm³ = 11.832 cm³, at 30 cm³/min and 90 an hour 0.5916 each.
            new FillUpLine("foot", 18, Money.FromAmount(26.2008m)));

    [Fact]
    public void Parts_share_the_offcuts_in_the_order_given()
    {
        var blanks = BlankSizer.Size(Good.Job);
        // The brackets take 1980 × 464; the tabs have the rest: 12 × 1.0608 + 11.016.
        FillUp.Together(Good, blanks).Should().Equal(Brackets, new("tab", 12, Money.FromAmount(23.7456m)), new("foot", 18, Money.FromAmount(26.2008m)));
        FillUp.Together(Good, [blanks[1], blanks[0]]).Should().Equal(new FillUpLine("tab", 48, Money.FromAmount(117.0576m)));
    }

    [Fact]
    public void A_layout_that_is_cut_twice_has_its_offcuts_twice()
    {
        var twice = Good with { Layouts = [.. Good.Layouts.Select(layout => layout with { Count = 2 })] };
        Alone(twice).Should().Equal(
            new FillUpLine("bracket", 8, Money.FromAmount(159.3728m)), new FillUpLine("tab", 96, Money.FromAmount(234.1152m)), new FillUpLine("foot", 36, Money.FromAmount(52.4016m)));
    }

    [Fact]
    public void A_saw_whose_cuts_are_all_made_gives_no_more()
    {
        Alone(OnPlates(saw => saw with { Stages = 2 })).Should().ContainSingle().Which.PartId.Should().Be("foot");
        Alone(OnPlates(saw => saw with { LargestCut = Mm(1980) }))[0].Should().Be(Brackets);
        Alone(OnPlates(saw => saw with { LargestCut = Mm(1979) })).Select(line => (line.PartId, line.Count)).Should().Equal(("tab", 12), ("foot", 18));
        Alone(OnPlates(saw => saw with { ShortestHeld = Mm(104) })).Should().HaveCount(3);
        Alone(OnPlates(saw => saw with { ShortestHeld = Mm(105) })).Select(line => line.PartId).Should().Equal("bracket", "foot");
        Alone(OnPlates(saw => saw with { ShortestHeld = Mm(305) })).Select(line => line.PartId).Should().Equal("foot");
    }

    [Theory]
    [InlineData(null, 102, 18)]
    [InlineData(null, 0, 18)]
    [InlineData(null, 103, 0)]
    [InlineData(14, 60, 4)]
    [InlineData(10, 60, 0)]
    [InlineData(9, 60, 0)]
    public void A_bar_saw_holds_what_is_long_enough_and_stops_at_its_most_pieces(int? most, int held, int count) =>
        Alone(On("bar saw", saw => saw with { MostPieces = most, ShortestHeld = Mm(held) })).Where(line => line.PartId == "foot")
            .Sum(line => line.Count).Should().Be(count, "ten of the bar are cut already");

    [Fact]
    public void Damaged_metal_and_metal_cut_to_size_give_none()
    {
        Alone(With("plate 15", stock => stock with { KeepOuts = [Box(1000, 700, 10, 10)] }))[0].PartId.Should().Be("tab", "the damage lies in the one offcut for brackets");
        Alone(With("plate 15", stock => stock with { CutFor = "bracket" })).Select(line => (line.PartId, line.Count)).Should().Equal(("tab", 1), ("foot", 18));
    }

    private static List<FillUpLine> Alone(Plan plan) => [.. FillUp.Alone(plan, BlankSizer.Size(Good.Job))];

    private static Plan OnPlates(Func<Saw, Saw> change) => On("plate saw", change);

    private static Plan On(string saw, Func<Saw, Saw> change) =>
        Good with { Job = Good.Job with { Saws = [.. Good.Job.Saws.Select(one => one.Id == saw ? change(one) : one)] } };

    private static Plan With(string id, Func<Stock, Stock> change) =>
        Good with { Job = Good.Job with { Stocks = [.. Good.Job.Stocks.Select(one => one.Id == id ? change(one) : one)] } };
}
