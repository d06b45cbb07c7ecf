using System.Globalization;
using Nest.Rack.Plans;

namespace Nest.Tests.Rack;

/// <summary>Stock that is paid for is not bought again, whoever inherits it: whole commands, as the shop typed them.</summary>
/// <remarks>By hand: a bar gives 9 feet (<see cref="BarShop"/>). 22 feet want 3 bars of 73.22. One bar is miscut after 6 good feet: 16 are missing, which the other two bars give.</remarks>
public sealed class PaidStockTest : IDisposable
{
    private readonly BarShop shop = new();

    private RackConsole Rack => shop.Console;

    public void Dispose() => shop.Dispose();

    [Fact]
    public void What_was_paid_for_is_free_for_the_plan_that_inherits_it()
    {
        var job = shop.Job(feet: 22, price: "73.22");
        shop.Plan(job, "first");
        Rack.Good("reserve", Rack.In("first"));
        Rack.Good("receive P1");
        Rack.Good("miscut P1 1", "slipped in the vise", "--made", "6:foot");
        shop.Plan(job, "rest", "--rest", "P1").Orders.Should().BeEmpty("two bars came and are whole");
        Rack.Error.Should().Contain("2 pieces of these are paid for by P1");
        Rack.Good("replan P1", Rack.In("rest"));

        shop.Plan(job, "again", "--rest", "P2").Orders.Should().BeEmpty("P2 holds all of it");
        Rack.Output.Should().Contain("To pay now USD 0.00");
        Rack.Error.Should().Contain("2 pieces of these are paid for by P2");
    }

    // The price fell since: to buy a new bar now costs less than what one that came is worth whole on the rack (0.6 of 73.22 = 43.93).
    [Theory]
    [InlineData("P1"), InlineData("P2")]
    public void What_was_paid_for_is_used_before_anything_is_bought_however_cheap_that_became(string last)
    {
        shop.Plan(shop.Job(feet: 22, price: "73.22"), "first");
        Rack.Good("reserve", Rack.In("first"));
        Rack.Good("receive P1");
        Rack.Good("miscut P1 1", "slipped in the vise", "--made", "6:foot");
        var cheaper = shop.Job(feet: 22, price: "20.00");
        if (last == "P2")
        {
            shop.Plan(cheaper, "rest", "--rest", "P1");
            Rack.Good("replan P1", Rack.In("rest"));
        }

        shop.Plan(cheaper, "again", "--rest", last).Orders.Should().BeEmpty();
    }

    [Fact]
    public void What_was_bought_too_much_is_told_and_stays_free_for_the_rest()
    {
        shop.Plan(shop.Job(feet: 22, price: "73.22"), "first");
        Rack.Good("reserve", Rack.In("first"));
        Rack.Good("receive P1");
        Rack.Good("cut P1 1");
        string[] came;
        using (var store = Rack.Open())
        {
            came = [.. store.Plan(1).Purchases.SelectMany(purchase => purchase.InHand)];
        }

        // Of 22 now only 12: 3 are missing at most, whichever layout was cut.
        came.Should().HaveCount(2);
        var fewer = shop.Job(feet: 12, price: "73.22");
        shop.Plan(fewer, "rest", "--rest", "P1").Orders.Should().BeEmpty();
        Rack.Output.Should().MatchRegex("Bought too much: 1 × bar \\([2-9A-Z]{4,5}\\)");
        Rack.Good("replan P1", Rack.In("rest"));
        Rack.Error.Should().MatchRegex("bought too much: 1 × bar \\([2-9A-Z]{4,5}\\)");

        // The one that was too much is free on the rack, yet still paid for by this line of plans: the next rest takes it for nothing.
        Rack.Good("miscut P2 1", "slipped again");
        shop.Plan(fewer, "again", "--rest", "P2").Orders.Should().BeEmpty();
    }

    [Fact]
    public void A_leftover_of_a_paid_bar_is_entered_at_what_the_first_plan_counted_it_for()
    {
        shop.Plan(shop.Job(feet: 20, price: "73.22"), "first");
        Rack.Good("reserve", Rack.In("first"));
        Rack.Good("receive P1");
        Rack.Good("miscut P1 1", "slipped in the vise", "--made", "6:foot");
        var rest = shop.Plan(shop.Job(feet: 20, price: "73.22"), "rest", "--rest", "P1");
        Rack.Good("replan P1", Rack.In("rest"));
        foreach (var layout in rest.Layouts)
        {
            Rack.Good(string.Create(CultureInfo.InvariantCulture, $"cut P2 {layout.Number}"));
        }

        using var store = Rack.Open();
        store.Plan(2).State.Should().Be(PlanState.Finished);

        // By hand: 0.6 of 73.22 by length. Not the little that a paid bar is planned at.
        store.List(new()).Where(piece => piece.MaterialId == "6061-T6").Should().NotBeEmpty().And.OnlyContain(piece =>
            Math.Abs(piece.Value.Amount - (73.22m * 0.6m * (decimal)piece.Length.ToMillimetres() / 3000m)) < 0.01m);
    }
}
