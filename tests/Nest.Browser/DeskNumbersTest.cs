using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Nest.Core.Plans;
using Nest.Desk.Model;
using Nest.Output.Tablet;
using Nest.Planning;
using Nest.Rack;
using Nest.Tests.Desk;
using Xunit.Abstractions;

namespace Nest.Browser;

/// <summary>The desk's numbers: a long run, asked for by NEST_LONG=MINUTES. It adds rows to tests/Nest.Bench/results/desk.csv when NEST_RESULTS names that file.</summary>
public sealed class DeskNumbersTest(OpenBrowser browser, ITestOutputHelper output) : IClassFixture<OpenBrowser>
{
    private const int Ticks = 1000;
    private const int Devices = 20;
    private const int Clicks = 60;

    private sealed record Told(Dictionary<string, int> Counts);

    [LongFact]
    public async Task Ticks_devices_clicks_bytes_and_memory()
    {
        await using var desk = await OpenDesk.SharedAsync(("lamp/job.toml", SignedShop.Files[0].Text.Replace("batch = 3", "batch = 160", StringComparison.Ordinal)), SignedShop.Files[1]);
        var services = desk.Server.Services;
        var folder = services.GetRequiredService<Shop>().Job("lamp")!;
        var given = services.GetRequiredService<JobDesk>().Read(folder).Given!;
        var plan = Planner.Plan(given, new() { Seconds = 5 }).Plan!;
        Directory.CreateDirectory(Path.Combine(folder.Output, "data"));
        Planner.Save(plan, Path.Combine(folder.Output, "data", "plan.json")).Should().BeEmpty();
        using (var rack = RackStore.Open(Path.Combine(desk.Folder, "rack.db")))
        {
            rack.Reserve(plan);
        }

        await TicksAsync(desk, plan);
        await DevicesAsync(desk, plan);
        await ClicksAsync(desk, given);
        await MemoryAsync(desk);
    }

    /// <summary>Four devices tell their ticks while the network is cut at random: before a request arrives, or after, so that the device tells again what was booked.</summary>
    private async Task TicksAsync(OpenDesk desk, Plan plan)
    {
        var steps = TabletServed.Counted(plan, new()).Where(step => step.Value.Finishes == 0).ToList();
        var ticks = steps.SelectMany(step => Enumerable.Repeat(step.Key, step.Value.Most)).Take(Ticks).Select(step => (Id: Guid.NewGuid().ToString("N"), Step: step)).ToList();
        ticks.Should().HaveCount(Ticks);
        var cuts = 0;
        var clock = Stopwatch.StartNew();
        await Task.WhenAll(Enumerable.Range(0, 4).Select(async number =>
        {
            var device = await desk.DeviceAsync($"device {number}");
            var random = new Random(number);
            for (var at = number; at < ticks.Count; at += 4)
            {
                for (var arrived = false; !arrived;)
                {
                    var luck = random.Next(10);
                    arrived = luck > 2;
                    cuts += arrived ? 0 : 1;
                    if (luck != 0)
                    {
                        // Nought: cut on the way there. One and two: on the way back.
                        (await SendAsync(device, plan, [ticks[at]])).EnsureSuccessStatusCode();
                    }
                }
            }
        }));
        var counts = (await (await SendAsync(await desk.DeviceAsync(), plan, [])).Content.ReadFromJsonAsync<Told>(JsonSerializerOptions.Web))!.Counts;
        foreach (var step in ticks.GroupBy(tick => tick.Step))
        {
            counts[step.Key].Should().Be(step.Count(), "each tick counts once");
        }

        using var rack = RackStore.Open(Path.Combine(desk.Folder, "rack.db"));
        rack.Check().Should().BeEmpty();
        Row("ticks told by four devices, each booked once", Ticks, "ticks");
        Row("of them cut off by the network and told again", cuts, "times");
        Row("a tick, told and kept on the disk", clock.Elapsed.TotalMilliseconds * 4 / (Ticks + cuts), "ms");
    }

    private async Task DevicesAsync(OpenDesk desk, Plan plan)
    {
        var devices = await Task.WhenAll(Enumerable.Range(0, Devices).Select(number => desk.DeviceAsync($"tablet {number}")));
        var times = new List<double>();
        for (var round = 0; round < 5; round++)
        {
            times.AddRange(await Task.WhenAll(devices.Select(async device =>
            {
                var clock = Stopwatch.StartNew();
                (await SendAsync(device, plan, [])).EnsureSuccessStatusCode();
                return clock.Elapsed.TotalMilliseconds;
            })));
        }

        Row($"{Devices} devices at once: answer, 95th percentile", High(times), "ms");
        var page = await devices[0].GetByteArrayAsync(Addresses.Tablet("lamp", Fingerprint.Of(plan)));
        Row("page for the saw", page.Length / 1024.0, "KiB");
    }

    /// <summary>A click, from the press to the changed page, while a search runs on all processors.</summary>
    private async Task ClicksAsync(OpenDesk desk, Nest.Data.JobInput given)
    {
        var page = await browser.PageAsync(1440, 900);
        await page.GotoAsync(desk.Server.NewEntry().ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();
        await page.GotoAsync(new Uri(desk.Server.Address, Addresses.Parts("lamp")).ToString());
        await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
        var bytes = await page.EvaluateAsync<double>("() => performance.getEntriesByType('resource').concat(performance.getEntriesByType('navigation')).reduce((sum, one) => sum + one.decodedBodySize, 0)");
        Row("page Parts with all that it loads", bytes / 1024, "KiB");
        foreach (var (name, search) in new[] { ("no search", false), ("a search on all processors", true) })
        {
            using var running = search ? desk.Server.Services.GetRequiredService<Searches>().Start("lamp", given, new() { Seconds = 600 }) : null;
            await Task.Delay(search ? 3000 : 0);
            var times = new List<double>();
            for (var at = 0; at < Clicks; at++)
            {
                times.Add(await page.EvaluateAsync<double>("""
                    () => new Promise(done => {
                      const button = document.querySelector(".acts button[aria-expanded]");
                      const begin = performance.now();
                      new MutationObserver((_, watch) => { watch.disconnect(); done(performance.now() - begin); }).observe(button, { attributes: true, attributeFilter: ["aria-expanded"] });
                      button.click();
                    })
                    """));
            }

            running?.Stop();
            Row($"a click beside {name}: 95th percentile", High(times), "ms");
        }

        await page.Context.CloseAsync();
    }

    private async Task MemoryAsync(OpenDesk desk)
    {
        var guest = await desk.GuestAsync();
        var pages = new[] { "/", Addresses.Parts("lamp"), Addresses.Plan("lamp"), Addresses.Order("lamp"), Addresses.Saw("lamp"), "/rack", "/settings", "/devices" };
        await UseAsync(TimeSpan.FromSeconds(20));
        var before = Held();
        await UseAsync(TimeSpan.FromMinutes(LongFactAttribute.Minutes));
        Row("memory held after the first 20 s of use", before, "MiB");
        Row(string.Create(CultureInfo.InvariantCulture, $"after {LongFactAttribute.Minutes:0.#} minutes more"), Held(), "MiB");

        async Task UseAsync(TimeSpan time)
        {
            for (var clock = Stopwatch.StartNew(); clock.Elapsed < time;)
            {
                foreach (var page in pages)
                {
                    (await guest.GetAsync(page)).EnsureSuccessStatusCode();
                }
            }
        }

        static double Held()
        {
            GC.Collect();
            GC.WaitForPendingFinalizers();
            return GC.GetTotalMemory(forceFullCollection: true) / 1048576.0;
        }
    }

    private void Row(string what, double value, string unit)
    {
        var row = string.Create(CultureInfo.InvariantCulture, $"{what},{value:0.#},{unit},{Environment.ProcessorCount} cores");
        output.WriteLine(row);
        if (Environment.GetEnvironmentVariable("NEST_RESULTS") is { Length: > 0 } file)
        {
            File.AppendAllText(file, row + "\n");
        }
    }

    private static double High(List<double> times) => times.Order().ElementAt((int)Math.Ceiling(times.Count * 0.95) - 1);

    private static Task<HttpResponseMessage> SendAsync(HttpClient device, Plan plan, (string Id, string Step)[] ticks)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, Addresses.Tablet("lamp", Fingerprint.Of(plan)) + "/ticks") { Content = JsonContent.Create(ticks.Select(tick => new { tick.Id, tick.Step, Add = 1 }).ToArray()) };
        request.Headers.Add("Origin", device.BaseAddress!.GetLeftPart(UriPartial.Authority));
        return device.SendAsync(request);
    }
}
