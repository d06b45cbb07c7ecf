using System.Globalization;
using Nest.Core.Plans;

namespace Nest.Tests.Rack;

/// <summary>The customer changes the order after the stock came and some of it is cut: worked out by hand, by whole commands.</summary>
public sealed class ChangeOrderTest : IDisposable
{
    private readonly BarShop shop = new();
    private int made;

    public void Dispose() => shop.Dispose();

    private RackConsole Rack => shop.Console;

    /// <summary>22 feet from three bars, all three came, the first layout's first bar is cut.</summary>
    private void Begin(string job)
    {
        var first = shop.Plan(job, "first");
        first.Layouts.Sum(layout => layout.Count).Should().Be(3);
        made = first.Layouts[0].Pieces.Length;
        Rack.Good("reserve", Rack.In("first"));
        Rack.Good("receive P1");
        Rack.Good("cut P1 1");
    }

    private Plan Changed(string job) => shop.Plan(job, "rest", "--rest", "P1");

    private static int Pieces(Plan plan) => plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length);

    [Fact]
    public void More_are_wanted_after_the_delivery()
    {
        Begin(shop.Job(22));
        var rest = Changed(shop.Job(30));

        // By hand: of 30, m are made; two bars are there and hold 9 each; 30 − m ≥ 21 > 18, so one bar more, which holds the rest.
        made.Should().BeInRange(4, 9);
        Pieces(rest).Should().Be(30 - made);
        rest.Orders.Single().Lines.Should().ContainSingle().Which.Count.Should().Be(1);
        rest.Layouts.Count(layout => rest.StockOf(layout).IsLeftover).Should().Be(2, "both that came are used first");
        Rack.Error.Should().Contain("change order against P1:").And.Contain(string.Create(CultureInfo.InvariantCulture, $"  foot: 30 wanted instead of 22; {made} made; {30 - made} to make"));

        // The rest of the changed plan is asked for without a change.
        Rack.Good("replan P1", Rack.In("rest"));
        Rack.Good("receive P2");
        shop.Plan(shop.Job(30), "again", "--rest", "P2").Orders.Should().BeEmpty();
        Rack.Error.Should().NotContain("change order");
    }

    [Fact]
    public void The_batch_is_cut_down_to_what_is_made()
    {
        Begin(shop.Job(22));
        var none = Rack.Run("plan", shop.Job(3), "--out", Rack.In("rest"), "--work", "500", "--rest", "P1");
        none.Should().Be(Nest.Cli.ExitCode.InputRefused);
        Rack.Error.Should().Contain(string.Create(CultureInfo.InvariantCulture, $"  foot: 3 wanted instead of 22; {made} made; {made - 3} too many; none to make"))
            .And.Contain("P1 has nothing left to make — 'nest cancel P1' frees what it still holds");
    }

    [Fact]
    public void A_smaller_size_still_comes_out_of_what_is_cut_and_a_larger_one_does_not()
    {
        Begin(shop.Job(22));
        Pieces(Changed(shop.JobOf("foot,6061-T6,290,38,10,22,flat bar\n"))).Should().Be(22 - made);
        Rack.Error.Should().Contain(string.Create(CultureInfo.InvariantCulture, $"  foot: 22 wanted; it was 300 × 38 × 10 mm 6061-T6; {made} made; their blanks are large enough; {22 - made} to make"));

        // 306 would come out of a blank of 310 with 2 mm at each end, but the shop wants 5.
        Pieces(Changed(shop.JobOf("foot,6061-T6,306,38,10,22,flat bar\n"))).Should().Be(22);
        Rack.Error.Should().Contain(string.Create(CultureInfo.InvariantCulture, $"{made} made; {made} of them no longer fit; 22 to make"));

        Pieces(Changed(shop.JobOf("foot,6061-T6,300,38,9,22,flat bar\n"))).Should().Be(22 - made, "one millimetre more is faced away");
    }

    [Fact]
    public void Parts_come_and_go()
    {
        Begin(shop.JobOf("foot,6061-T6,300,38,10,20,flat bar\npad,6061-T6,120,38,10,6,flat bar\n"));
        var rest = Changed(shop.JobOf("foot,6061-T6,300,38,10,20,flat bar\nclip,6061-T6,60,38,10,4,flat bar\n"));
        rest.Layouts.SelectMany(layout => Enumerable.Repeat(layout.Pieces, layout.Count)).SelectMany(pieces => pieces).Count(piece => piece.PartId == "clip").Should().Be(4);
        rest.Layouts.SelectMany(layout => layout.Pieces).Should().NotContain(piece => piece.PartId == "pad");
        rest.Orders.Should().BeEmpty();
        Rack.Error.Should().Contain("  clip: new, 4 wanted; 4 to make").And.Contain("  pad: no longer in the job (6 were wanted)").And.NotContain("  foot:");

        var stranger = Rack.Run("plan", shop.JobOf("bolt,6061-T6,60,38,10,4,flat bar\n"), "--out", Rack.In("rest"), "--rest", "P1");
        stranger.Should().Be(Nest.Cli.ExitCode.InputRefused);
        Rack.Error.Should().Contain("nothing that it makes is part of this job — name the job that P1 was made from");
    }

    [Fact]
    public void More_after_all_is_cut_is_said_to_be_a_change()
    {
        var first = shop.Plan(shop.Job(18), "first");
        Rack.Good("reserve", Rack.In("first"));
        foreach (var layout in first.Layouts)
        {
            Rack.Good(string.Create(CultureInfo.InvariantCulture, $"cut P1 {layout.Number} --count {layout.Count}"));
        }

        Pieces(Changed(shop.Job(20))).Should().Be(2);
        Rack.Refused("replan P1", Rack.In("rest"));
        Rack.Error.Should().Contain("P1 is finished — where the job was changed since and more is to be made, say --changed");
        Rack.Good("replan P1", Rack.In("rest"), "--changed");
        Rack.Good("plans P1").Should().MatchRegex(@"foot\s+18\s+18\s+0\s+2");
        using var store = Rack.Open();
        store.Check().Should().BeEmpty();
    }
}
