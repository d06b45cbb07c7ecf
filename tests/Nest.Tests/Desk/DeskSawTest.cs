using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Tests.Desk;

/// <summary>What devices tell from the saw: kept, and booked on the rack, once each.</summary>
public class DeskSawTest
{
    private sealed record Told(Dictionary<string, int> Counts, Dictionary<string, string> Notes, string[] Messages);

    private static readonly int First = CutSequencer.Order(SignedShop.Plan).Items.First().Layout;

    private static string Done => $"l{First}-done";

    private static string Page => $"/saw/lamp/{SignedShop.Mark}";

    [Fact]
    public async Task A_tick_counts_once_however_often_it_is_told_and_outlasts_a_restart()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        var random = new Random(1);
        var (step, most) = Steps().MaxBy(one => one.Most);
        most.Should().BeGreaterThan(3);

        // Four devices; the network is cut at random: the desk has heard, but the device does not know and tells again.
        var devices = new List<HttpClient>();
        for (var at = 0; at < 4; at++)
        {
            devices.Add(await desk.DeviceAsync($"device {at}"));
        }

        var ticks = Enumerable.Range(0, most - 1).Select(at => (Device: devices[at % 4], Tick: Tick(step, 1), Again: random.Next(4))).ToList();
        await Task.WhenAll(ticks.SelectMany(one => Enumerable.Repeat(one, one.Again + 1)).OrderBy(_ => random.Next()).Select(one => TellAsync(one.Device, one.Tick)));

        (await CountsAsync(devices[0]))[step].Should().Be(most - 1);
        await desk.RestartAsync();
        var phone = await desk.DeviceAsync();
        (await CountsAsync(phone))[step].Should().Be(most - 1);
        (await TellAsync(phone, ticks[0].Tick)).Counts[step].Should().Be(most - 1, "its name is known after the restart too");
        (await TellAsync(phone, Tick(step, 5))).Counts[step].Should().Be(most, "no more than there are");
        (await TellAsync(phone, Tick(step, -1))).Counts[step].Should().Be(most - 1);
    }

    [Fact]
    public async Task A_line_that_was_cut_off_by_a_kill_is_no_tick_and_spoils_none_after_it()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        var step = Steps()[0].Step;
        await TellAsync(await desk.DeviceAsync(), Tick(step, 1));
        var file = Path.Combine(desk.Folder, ".nest-desk", "ticks", SignedShop.Mark + ".jsonl");
        await File.AppendAllTextAsync(file, (await File.ReadAllTextAsync(file))[..40]);
        await desk.RestartAsync();

        await TellAsync(await desk.DeviceAsync(), Tick(step, -1));
        await desk.RestartAsync();

        (await CountsAsync(await desk.DeviceAsync()))[step].Should().Be(0);
    }

    [Fact]
    public async Task A_whole_stock_piece_is_booked_on_the_rack_once_and_taken_back_only_there()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder, onRack: true);
        var phone = await desk.DeviceAsync();
        var tick = Tick(Done, 1);

        var told = await TellAsync(phone, tick);

        told.Counts[Done].Should().Be(1);
        told.Messages[0].Should().Contain("booked");
        (await TellAsync(phone, tick)).Messages.Should().BeEmpty("it was booked before");
        using (var rack = Rack(desk))
        {
            Layout(rack).Cut.Should().Be(1);
            rack.Check().Should().BeEmpty();
            var marks = rack.List(new()).Select(piece => piece.Mark).ToList();
            string.Join(", ", told.Notes.Values).Split(", ", StringSplitOptions.RemoveEmptyEntries).Should().BeSubsetOf(marks);
        }

        (await TellAsync(phone, Tick(Done, -1))).Messages[0].Should().Contain("take that back at the desk");
        using (var rack = Rack(desk))
        {
            Layout(rack).Cut.Should().Be(1);
            rack.Undo();
        }

        (await CountsAsync(phone))[Done].Should().Be(0, "the rack's word counts");
    }

    [Fact]
    public async Task What_the_rack_refuses_is_told_and_booked_nowhere()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder, onRack: true);
        using (var rack = Rack(desk))
        {
            rack.ConfirmCut(1, First, Layout(rack).Open);
        }

        var told = await TellAsync(await desk.DeviceAsync(), Tick(Done, 1));

        told.Messages.Should().ContainSingle().Which.Should().Contain("not booked");
    }

    [Fact]
    public async Task Nonsense_is_refused_or_passed_over()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        var phone = await desk.DeviceAsync();

        foreach (var tick in new object[] { Tick("no-such-step", 1), new { Id = "../x", Step = Done, Add = 1 }, new { Id = (string?)null, Step = (string?)null, Add = 1 }, Tick(Done, int.MaxValue), Tick(Done, int.MinValue) })
        {
            var counts = (await TellAsync(phone, tick)).Counts;
            counts.Values.All(count => count is >= 0 and <= 1000).Should().BeTrue();
            counts.Keys.Should().BeSubsetOf([Done]);
        }

        (await SendAsync(phone, Enumerable.Range(0, 201).Select(_ => Tick(Done, 1)))).StatusCode.Should().Be(HttpStatusCode.BadRequest);
        (await SendAsync(phone, new[] { new { Id = new string('a', 70_000), Step = Done, Add = 1 } })).StatusCode.Should().Be(HttpStatusCode.RequestEntityTooLarge);
        (await SendAsync(phone, new object?[] { null })).StatusCode.Should().Be(HttpStatusCode.BadRequest);
        (await phone.GetAsync("/saw/lamp/AAAAAAAA/ticks")).StatusCode.Should().Be(HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task A_miscut_is_booked_with_what_is_left_of_it()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder, onRack: true);
        var phone = await desk.DeviceAsync();
        var address = $"{Page}/miscut/{First}";
        var fields = OpenDesk.Fields(await phone.GetStringAsync(address)).Where(field => field.Key.StartsWith("__", StringComparison.Ordinal) || field.Key.StartsWith("good", StringComparison.Ordinal)).ToDictionary();
        var layout = SignedShop.Plan.Layouts.First(one => one.Number == First);
        for (var at = 0; at < layout.Pieces.Select(piece => piece.PartId).Distinct().Count(); at++)
        {
            fields[$"good{at}"] = at == 0 ? "1" : "0";
        }

        fields["note"] = "slipped";
        fields["left0"] = "nonsense";
        (await OpenDesk.PostAsync(phone, address, fields)).StatusCode.Should().Be(HttpStatusCode.BadRequest);
        fields["left0"] = SignedShop.Plan.StockOf(layout).Form == Core.Jobs.Form.Plate ? "100 x 50" : "100";
        var answer = await OpenDesk.PostAsync(phone, address, fields);

        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        using var rack = Rack(desk);
        Layout(rack).Lost.Should().Be(1);
        rack.List(new()).Should().Contain(piece => piece.Length == Core.Quantities.Length.FromMillimetres(100));
        (await answer.Content.ReadAsStringAsync()).Should().Contain("Still to make");
        fields.Remove(fields.Keys.First(key => key.StartsWith("__", StringComparison.Ordinal)));
        (await OpenDesk.PostAsync(phone, address, fields)).StatusCode.Should().Be(HttpStatusCode.BadRequest, "a form without its own token");
    }

    [Fact]
    public async Task A_piece_is_looked_up_and_counted_by_its_mark()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder, onRack: true);
        string mark;
        long count;
        using (var rack = Rack(desk))
        {
            rack.ConfirmCut(1, First, 1);
            mark = rack.List(new()).First(piece => piece.State == Core.Racks.PieceState.OnRack).Mark;
            count = rack.StartCount();
        }

        var phone = await desk.DeviceAsync();
        var page = await phone.GetStringAsync($"/piece/{mark}");
        page.Should().Contain(mark).And.Contain("It is here");
        var fields = OpenDesk.Fields(page).Where(field => field.Key.StartsWith("__", StringComparison.Ordinal)).ToDictionary();
        fields["place"] = "shelf <3>";
        (await (await OpenDesk.PostAsync(phone, $"/piece/{mark}/seen", fields)).Content.ReadAsStringAsync()).Should().Contain("Counted").And.NotContain("<3>");
        using (var rack = Rack(desk))
        {
            rack.Count(count).Lines.Single(line => line.Mark == mark).Found.Should().BeTrue();
        }

        // The label's code is this page's address; a device prints none.
        var desks = await desk.GuestAsync();
        var labels = await desks.GetAsync($"/rack/labels.pdf?mark={mark}");
        labels.Content.Headers.ContentType!.MediaType.Should().Be("application/pdf");
        (await desks.GetAsync("/rack/labels.pdf?mark=NOSUCH")).StatusCode.Should().Be(HttpStatusCode.NotFound);
        (await phone.GetAsync($"/rack/labels.pdf?mark={mark}")).StatusCode.Should().Be(HttpStatusCode.NotFound);
        (await phone.GetAsync("/piece/NOSUCH")).StatusCode.Should().Be(HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task The_page_for_the_saw_has_one_script_and_asks_nobody_else()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        var html = await (await desk.DeviceAsync()).GetStringAsync(Page);

        System.Text.RegularExpressions.Regex.Matches(html, "(?:src|href)=\"([^#\"][^\"]*)\"").Select(match => match.Groups[1].Value)
            .Should().OnlyContain(address => address.StartsWith('/') || address == "data:,");
        html.Should().NotContain("<script>").And.NotContain("<style>").And.Contain("<script src=\"/assets/tablet.js\"></script>");
    }

    private static object Tick(string step, int add) => new { Id = Guid.NewGuid().ToString("N"), Step = step, Add = add };

    private static List<(string Step, int Most)> Steps() =>
        [.. Nest.Output.Tablet.TabletServed.Counted(SignedShop.Plan, new()).Where(step => step.Value.Finishes == 0).Select(step => (step.Key, step.Value.Most))];

    private static async Task<Dictionary<string, int>> CountsAsync(HttpClient device) => (await device.GetFromJsonAsync<Told>(Page + "/ticks", JsonSerializerOptions.Web))!.Counts;

    private static async Task<Told> TellAsync(HttpClient device, object tick)
    {
        var answer = await SendAsync(device, new[] { tick });
        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        return (await answer.Content.ReadFromJsonAsync<Told>(JsonSerializerOptions.Web))!;
    }

    private static Task<HttpResponseMessage> SendAsync<T>(HttpClient device, IEnumerable<T> ticks)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, Page + "/ticks") { Content = JsonContent.Create(ticks.ToArray()) };
        request.Headers.Add("Origin", device.BaseAddress!.GetLeftPart(UriPartial.Authority));
        return device.SendAsync(request);
    }

    private static RackStore Rack(OpenDesk desk) => RackStore.Open(Path.Combine(desk.Folder, "rack.db"));

    private static LayoutProgress Layout(RackStore rack) => rack.Plan(1).Layouts.First(layout => layout.Number == First);
}
