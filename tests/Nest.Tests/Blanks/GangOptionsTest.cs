using Nest.Core.Blanks;
using Nest.Core.Jobs;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Blanks;

/// <summary>Which blanks give several of a part, worked by hand: part 30 × 20 with gaps of 6, clean-up 2 (the larger of side and end) all round.</summary>
public sealed class GangOptionsTest
{
    [Fact]
    public void The_mill_takes_a_block_within_its_travel_and_its_vise()
    {
        // Four in a row: 4 × 30 + 3 × 6 + 4 = 142 long. Two by two: 70 × 50.
        Takes(new() { TravelX = Mm(142) }, 1, 4).Should().BeTrue();
        Takes(new() { TravelX = Mm(141) }, 1, 4).Should().BeFalse();
        Takes(new() { TravelY = Mm(50) }, 2, 2).Should().BeTrue();
        Takes(new() { TravelY = Mm(49) }, 2, 2).Should().BeFalse();
        Takes(new() { TravelX = Mm(102), TravelY = Mm(34) }, 4, 1).Should().BeTrue("4 × 20 + 18 + 4 = 102 lies along the longer travel");
        Takes(new() { ViseOpening = Mm(50) }, 2, 2).Should().BeTrue();
        Takes(new() { ViseOpening = Mm(49) }, 2, 2).Should().BeFalse();
        Takes(new() { TravelX = Mm(1), TravelY = Mm(1), ViseOpening = Mm(1) }, 1, 1).Should().BeTrue("one alone is what the shop does anyway");

        static bool Takes(MillRates mill, int rows, int columns)
        {
            var part = Part("p", 4, 4);
            return GangOptions.Takes(Job([part], []) with { Mill = mill }, part, rows, columns);
        }
    }

    [Fact]
    public void Whole_blanks_first_and_the_rest_as_large_as_it_may_be()
    {
        // Ten by fours: two blanks of four, three ways to lay them, and one of two: 70 × 24 is less than 34 × 50.
        Options(Part("p", 10, 4)).Should().Equal("p ×4 1x4 2, p ×2 1x2 1 rest", "p ×4 2x2 2, p ×2 1x2 1 rest", "p ×4 4x1 2, p ×2 1x2 1 rest");
        Options(Part("p", 8, 4)).Should().Equal("p ×4 1x4 2", "p ×4 2x2 2", "p ×4 4x1 2");
        Options(Part("p", 3, 4)).Should().Equal("p ×3 1x3 1");
        Options(Part("p", 3, 1)).Should().Equal("p");
        Options(Part("p", 3)).Should().Equal("p", "p ×2 1x2 1, p ×1 1x1 1 rest", "p ×2 2x1 1, p ×1 1x1 1 rest", "p ×3 1x3 1", "p ×3 3x1 1");
    }

    [Fact]
    public void Members_say_how_many_of_each_are_asked()
    {
        var (left, right) = Hands();
        var option = GangOptions.Of(Job([left, right], []), left, right)[0];

        // Five and three by fours: one blank of two and two, one of one and one, and two left ones together.
        Text(option).Should().Be("L + R ×4 1x4 1, L + R ×2 1x2 1 rest, L ×2 1x2 1 rest");
        option[0].Gang!.Members.Should().Equal(new GangMember("L", 2, 5), new GangMember("R", 2, 3));
        option[1].Gang!.Members.Should().Equal(new GangMember("L", 1, 5), new GangMember("R", 1, 3));
        option[2].Gang!.Members.Should().Equal(new GangMember("L", 2, 5));
    }

    [Fact]
    public void A_part_and_its_other_hand_are_one_group()
    {
        var (left, right) = Hands();
        var plain = Part("p", 4, 4);
        var job = Job([left, right, plain, Flat("single", 30, 20, 9)], []);
        GangOptions.Groups(job).Select(group => (group.Part.Id, group.Mate?.Id)).Should().Equal(("L", "R"), ("p", null));
        GangOptions.IsOpen(job).Should().BeTrue();
        GangOptions.IsOpen(Job([Flat("single", 30, 20, 9)], [])).Should().BeFalse();
    }

    [Fact]
    public void Blanks_stand_in_the_place_of_their_parts_in_rules_too()
    {
        var (left, right) = Hands();
        var job = Job([left, Flat("single", 30, 20, 9), right], [Plate("plate", 2000, 1000, 15), Plate("cut", 32, 24, 11) with { CutFor = "L", Available = 9 }]) with
        {
            StockRules = [new() { Parts = ["l", "single"] }, new() { Parts = ["R"] }, new() { Parts = ["single"] }],
        };
        var planned = GangOptions.With(job, [(left, right, GangOptions.Of(job, left, right)[0])]);
        planned.Parts.Select(part => part.Id).Should().Equal("L + R ×4", "L + R ×2", "L ×2", "single");
        planned.StockRules.Select(rule => string.Join(", ", rule.Parts)).Should().Equal("single, L + R ×4, L + R ×2, L ×2", "L + R ×4, L + R ×2", "single");
        planned.Stocks.Select(stock => stock.Id).Should().Equal(["plate"], "nine pieces cut to size cannot be shared by three kinds of blanks");
    }

    private static Part Part(string id, int quantity, params int[] counts) =>
        Flat(id, 30, 20, 9, quantity) with { PerBlank = new() { Counts = [.. counts], Gap = Mm(6) } };

    private static (Part Left, Part Right) Hands()
    {
        var (left, right) = (Part("L", 5, 4), Part("R", 3, 4));
        return (left with { PerBlank = left.PerBlank! with { With = "R" } }, right with { PerBlank = right.PerBlank! with { With = "l" } });
    }

    private static IEnumerable<string> Options(Part part) => GangOptions.Of(Job([part], []), part, null).Select(option => Text(option));

    private static string Text(IEnumerable<Part> blanks) => string.Join(", ", blanks.Select(blank => blank.Gang is { } gang
        ? $"{blank.Id} {gang.Rows}x{gang.Columns} {gang.Blanks}{(gang.Rest ? " rest" : "")}" : blank.Id));
}
