using AngleSharp;
using AngleSharp.Dom;
using Microsoft.Extensions.DependencyInjection;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Desk.Model;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Tests.Desk;

/// <summary>Orders are given and received on the page as the command line does it.</summary>
public class DeskOrderTest
{
    private static Order First => SignedShop.Plan.Orders[0];

    [Fact]
    public async Task An_order_is_given_and_comes_line_by_line()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder, whole: true);
        var (room, job) = (desk.Server.Services.GetRequiredService<OrderRoom>(), desk.Server.Services.GetRequiredService<Shop>().Job("lamp")!);

        room.Ordered(job, SignedShop.Plan, First.Supplier, "2026-11-28", "AB 12").Should().Contain("confirmed as AB 12", "it is entered on the rack with the order");
        room.Ordered(job, SignedShop.Plan, First.Supplier, "soon", "").Should().Contain("day");
        var record = room.Find(SignedShop.Plan).Record!;
        record.Orders.Should().Equal(new OrderGiven(First.Supplier, new(2026, 11, 28), "AB 12"));

        var line = First.Lines[0];
        var told = room.Came(record, line.StockId, 1, "H 77", "", "shelf 3");
        using var rack = RackStore.Open(Path.Combine(desk.Folder, "rack.db"));
        var piece = rack.List(new()).Single();
        told.Should().Contain(piece.Mark);
        (piece.Heat, piece.Place).Should().Be(("H 77", "shelf 3"));
        rack.Unit.Should().Be("mm", "the rack takes the job's unit");
        room.Came(record, line.StockId, line.Count, "", "", "").Should().Contain("still to come").And.NotContain("nest ", "the page names the page");
        OrderRoom.Lines(SignedShop.Plan, First, room.Find(SignedShop.Plan).Record)[0].Should().Match<OrderLineView>(one => one.Came == 1 && one.Marks.Contains(piece.Mark));

        var html = await (await desk.GuestAsync()).GetStringAsync(Addresses.Order("lamp"));
        var page = await BrowsingContext.New(Configuration.Default).OpenAsync(request => request.Content(html));
        page.Body!.TextContent.Should().Contain("confirmed as AB 12").And.Contain($"1 of {line.Count}");
        page.QuerySelectorAll("a[href*='orders/']").Select(link => link.TextContent).Should().Contain("Order to print (PDF)");
        page.QuerySelector("a[href^='mailto:']")!.GetAttribute("href").Should().StartWith("mailto:?subject=order%20").And.Contain("body=");
        page.QuerySelectorAll(".came button").Length.Should().Be(First.Lines.Sum(one => one.Count > (one == line ? 1 : 0) ? 1 : 0));
    }

    [Fact]
    public async Task Of_a_plan_that_is_not_signed_nothing_can_be_ordered()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        // As a search would leave it: one that ran would offer plans of its own before or after this one.
        var searches = desk.Server.Services.GetRequiredService<Searches>();
        searches.Remember("lamp", SignedShop.Plan with { Seed = 77, Layouts = SignedShop.Plan.Layouts.RemoveAt(0) });
        searches.Show("lamp", searches.Found("lamp")[^1].Search);

        var html = await (await desk.GuestAsync()).GetStringAsync(Addresses.Order("lamp"));

        html.Should().Contain(DeskTexts.NotSigned).And.NotContain(DeskTexts.OrderGiven);
    }

    [Theory]
    [InlineData("'Item' is not read", "--columns \"HEAD = column\" reads one", "choose what a column is under 'Read as'")]
    [InlineData("x", "--columns \"Stock = none\" leaves it out", "choose 'not read' for 'Stock' under 'Read as'")]
    [InlineData("x", "is it 'L'? Then say --columns \"L = length\"", "is it 'L'? Then choose 'length' for 'L' under 'Read as'")]
    [InlineData("x", "write it in a head, as Length (mm) or Length (in), or say --unit mm or --unit in", "or choose it under 'Unit of bare numbers'")]
    [InlineData("x", "see 'nest plans P3'; what came on top is entered with 'nest rack add --whole'", "see the page Saw; what came on top is entered on the page Rack, Enter a piece")]
    [InlineData("x", "run 'nest rack check'", "on the command line: run 'nest rack check'")]
    public void What_a_message_advises_is_said_for_the_page(string message, string advice, string shown) =>
        PageWords.Of(new Finding(Severity.Error, "a-rule", new("list.csv", 4, 1), message, advice)).Should().StartWith($"list.csv:4:1: {message} — ").And.EndWith(shown);

    [Fact]
    public async Task A_plan_is_given_up_and_the_way_back_is_told()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder, onRack: true);
        var room = desk.Server.Services.GetRequiredService<OrderRoom>();
        var record = room.Find(SignedShop.Plan).Record!;
        OrderRoom.MayGiveUp(record).Should().BeTrue();
        System.Net.WebUtility.HtmlDecode(await (await desk.GuestAsync()).GetStringAsync(Addresses.Order("lamp"))).Should().Contain(DeskTexts.GiveUp);

        var told = room.GiveUp(record);

        told.Should().StartWith(record.Number + " is given up; ").And.Contain("call off what is ordered").And.Contain("To take it back: Rack, ");
        room.Find(SignedShop.Plan).Record.Should().BeNull();
        var change = long.Parse(told.TrimEnd('.').Split(' ')[^1], System.Globalization.CultureInfo.InvariantCulture);
        desk.Server.Services.GetRequiredService<RackRoom>().Undo(change).Should().StartWith("Taken back");
        room.Find(SignedShop.Plan).Record!.State.Should().Be(record.State);
        room.GiveUp(record with { Id = 99 }).Should().Contain("no plan P99");
    }
}
