using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

/// <summary>Prices for a customer, worked by hand from given costs.</summary>
public sealed class QuoteTest
{
    // The mill costs 90 an hour: 1.50 a minute.
    private static readonly Part Plain = Flat("plain", 200, 100, 12, 2);
    private static readonly Part Milled = Flat("milled", 400, 300, 12, 3) with { MillMinutes = 2 };

    [Fact]
    public void Margin_comes_on_costs_work_at_the_mill_and_a_share_of_what_is_charged_once()
    {
        // Milled: 30.00 of blanks and 4 × 2 min = 12.00. Plain: 10.00. Of 8 + 5 once, 42/52 are 10.50 and 10/52 are 2.50.
        var quote = Quote.Of(Plan([Milled, Plain], [("milled", 4, 30m), ("plain", 2, 10m)]), new(20, 8, 5));
        quote.Lines.Select(line => (line.Part.Id, line.Pieces, line.Each, line.Total, line.BlankOnly)).Should().Equal(
            ("milled", 3, 21m, 63m, false), // 52.50 × 1.2 ÷ 3
            ("plain", 2, 7.5m, 15m, true)); // 12.50 × 1.2 ÷ 2
        quote.Total.Should().Be(78m);
        quote.BlanksOnly.Should().BeFalse("the mill is told for one");
        Quote.Of(Plan([Plain], [("plain", 2, 10m)]), new(0)).BlanksOnly.Should().BeTrue();
    }

    [Fact]
    public void A_price_is_rounded_up_to_the_cent_and_whole_cents_stay()
    {
        Price(10m, 3, 0).Should().Be(3.34m); // 3.333…
        Price(9m, 3, 0).Should().Be(3m);
        Price(10.0001m, 1, 0).Should().Be(10.01m);
        Price(9m, 3, 10).Should().Be(3.3m);

        decimal Price(decimal cost, int pieces, decimal margin) =>
            Quote.Of(Plan([Plain with { Quantity = pieces }], [("plain", pieces, cost)]), new(margin)).Lines[0].Each;
    }

    [Fact]
    public void Where_nothing_costs_anything_all_parts_bear_the_same_of_what_is_charged_once() =>
        Quote.Of(Plan([Milled with { MillMinutes = null }, Plain], [("milled", 3, 0m), ("plain", 2, 0m)]), new(0, 12)).Lines
            .Select(line => line.Each).Should().Equal(2m, 3m);

    [Fact]
    public void The_customer_gets_quantity_times_sets_and_pays_for_spares()
    {
        var plan = Plan([Plain with { Extra = 1 }], [("plain", 9, 18m)]);
        var line = Quote.Of(plan with { Job = plan.Job with { Batch = 4 } }, new(0)).Lines.Single();
        line.Pieces.Should().Be(8);
        line.Each.Should().Be(2.25m);
    }

    [Fact]
    public void Equal_blanks_have_one_price_and_each_its_own_work_at_the_mill()
    {
        // 30.00 and 10.00 for five blanks of one kind: 8.00 each; one of them is milled for two minutes, 3.00.
        var twin = Plain with { Id = "twin", Quantity = 3, MillMinutes = 2 };
        var quote = Quote.Of(Plan([Plain, twin], [("plain", 2, 10m), ("twin", 3, 30m)]), new(0));
        quote.Lines.Select(line => line.Each).Should().Equal(8m, 11m);

        // Another way to lie makes another kind.
        var other = Quote.Of(Plan([Plain, twin with { MayTurn = false }], [("plain", 2, 10m), ("twin", 3, 30m)]), new(0));
        other.Lines.Select(line => line.Each).Should().Equal(5m, 13m);
    }

    /// <summary>Two parts of one size come cut to size, each by a row of its own: 5.00 a piece for both. Where one costs more by the piece they are two kinds: 10.00 and 30.00 for two and three.</summary>
    [Fact]
    public void What_comes_cut_to_size_is_of_one_kind_where_size_and_price_are_the_same()
    {
        Stock Ready(string part, decimal price) => Plate($"ready {part}", 204, 104, 15, price) with { CutFor = part, MinThickness = Mm(15) };
        var twin = Plain with { Id = "twin", Quantity = 3 };
        IEnumerable<decimal> Each(params Stock[] stocks)
        {
            var plan = Plan([Plain, twin], [("plain", 2, 10m), ("twin", 3, 30m)]);
            return Quote.Of(plan with { Job = plan.Job with { Stocks = [.. stocks] } }, new(0)).Lines.Select(line => line.Each);
        }

        Each(Ready("plain", 4), Ready("twin", 4)).Should().Equal(8m, 8m);
        Each(Ready("plain", 4), Ready("twin", 5)).Should().Equal(5m, 10m);

        // Two plates of one size and price are still two kinds of stock.
        Each(Plate("one", 2000, 1000, 15)).Should().Equal(8m, 8m);
    }

    /// <summary>Two hands from the same blanks cost the same though one was planned dearer; another part of the same blank size is a kind of its own.</summary>
    [Fact]
    public void Two_hands_share_their_price()
    {
        var hands = Plain with { Id = "left + right", Quantity = 2, PerBlank = new() { With = "right" }, Gang = new() { Rows = 1, Columns = 2, Blanks = 2, Members = [new("left", 1, 2), new("right", 1, 2)] } };
        var other = Plain with { Id = "other" };
        Quote.Of(Plan([hands, other], [("left + right", 2, 12m), ("other", 2, 10m)]), new(0)).Lines.Select(line => (line.Part.Id, line.Each)).Should().Equal(("left", 3m), ("right", 3m), ("other", 5m));
    }

    [Fact]
    public void Several_from_one_blank_are_quoted_by_the_part()
    {
        var gang = Plain with { Quantity = 6, MillMinutes = 1, Gang = new() { Rows = 1, Columns = 2, Blanks = 3, Members = [new("plain", 2, 6)] } };
        var line = Quote.Of(Plan([gang], [("plain", 3, 12m)]), new(0)).Lines.Single();
        line.Pieces.Should().Be(6);
        line.Each.Should().Be(3.5m); // 12.00 of blanks and 6 minutes at the mill
    }

    [Theory]
    [InlineData(2, null, null, 8, true)]
    [InlineData(2, 15, null, 23, true)]
    [InlineData(2, 15, 2, 38, true)]
    [InlineData(null, 15, 2, 30, true)]
    [InlineData(null, null, 2, 0, false)]
    public void Minutes_at_the_mill_are_by_the_piece_and_by_the_set_up(int? mill, int? setUp, int? setUps, int minutes, bool told)
    {
        var part = Plain with { MillMinutes = mill, SetUpMinutes = setUp, SetUps = setUps };
        Machining.Minutes(part, 4).Should().Be(minutes);
        Machining.IsTold(part).Should().Be(told);
        Machining.Cost(Job([part], []), part, 4).Should().Be(minutes * 1.5m);
    }

    private static Plan Plan(Part[] parts, (string Part, int Pieces, decimal Cost)[] costs) => new()
    {
        Job = Job([.. parts], [Plate("plate", 2000, 1000, 15)]),
        Status = SolveStatus.BestFound,
        Layouts = [],
        TotalCost = Money.FromAmount(costs.Sum(cost => cost.Cost)),
        Bound = Bound.None,
        PartCosts = [.. costs.Select(cost => new PartCost(cost.Part, cost.Pieces, Money.FromAmount(cost.Cost), Money.Zero, Money.Zero))],
    };
}
