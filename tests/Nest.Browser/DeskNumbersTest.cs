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
        await using var desk = await OpenDesk.SharedAsync(("lamp/job.toml", SignedShop.Files[0].Text.Replace("batch = 3", "batch = 334", StringComparison.Ordinal)), SignedShop.Files[1]);
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

        await PagesAsync(desk, plan);
        await TicksAsync(desk, plan);
        await DevicesAsync(desk, plan);
        await ClicksAsync(desk, given);
        await MemoryAsync(desk);
    }

    /// <summary>The program as it is installed: NEST_PROGRAM names it.</summary>
    [LongFact]
    public async Task The_program_opens_soon_and_a_kill_loses_nothing_that_was_confirmed()
    {
        if (Environment.GetEnvironmentVariable("NEST_PROGRAM") is not { Length: > 0 } program)
        {
            output.WriteLine("NEST_PROGRAM names no program: neither the first page nor kills were measured");
            return;
        }

        var folder = Directory.CreateTempSubdirectory("nest-numbers-");
        foreach (var (name, text) in SignedShop.Files)
        {
            Directory.CreateDirectory(Path.Combine(folder.FullName, Path.GetDirectoryName(name)!));
            await File.WriteAllTextAsync(Path.Combine(folder.FullName, name), text);
        }

        SignedShop.Sign(folder.FullName, onRack: true);
        try
        {
            var first = new List<double>();
            for (var at = 0; at < 5; at++)
            {
                using var desk = await RunningDesk.StartAsync(program, folder.FullName);
                first.Add(desk.FirstPage.TotalMilliseconds);
            }

            Row("first page after the command, the middle one of 5", first.Order().ElementAt(2) / 1000, "s");
            await KillsAsync(program, folder.FullName);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>NEST_KILLS says how often it is killed. Ticks are told one at a time, up and down, each until it is confirmed, under the same name:
    /// a kill between booking and answer makes it be told twice.</summary>
    private async Task KillsAsync(string program, string folder)
    {
        var wanted = int.TryParse(Environment.GetEnvironmentVariable("NEST_KILLS"), CultureInfo.InvariantCulture, out var given) ? given : 3;
        var steps = TabletServed.Counted(SignedShop.Plan, new()).Where(step => step.Value.Finishes == 0).ToList();
        var address = Addresses.Tablet("lamp", SignedShop.Mark) + "/ticks";
        var (random, told, confirmed, kills) = (new Random(1), new Dictionary<string, int>(StringComparer.Ordinal), 0, 0);
        var tick = Next();
        using var first = await RunningDesk.StartAsync(program, folder);
        first.Kill();
        while (kills < wanted)
        {
            using var desk = await RunningDesk.StartAsync(program, folder, first);
            using var end = new CancellationTokenSource();
            using var kill = end.Token.Register(desk.Kill);
            for (var left = random.Next(10); ; left--)
            {
                if (left == 0)
                {
                    end.CancelAfter(random.Next(12));
                }

                try
                {
                    using var answer = await desk.TellAsync(address, tick);
                    answer.EnsureSuccessStatusCode();
                    told[tick.Step] = told.GetValueOrDefault(tick.Step) + tick.Add;
                    confirmed++;
                    tick = Next();
                }
                catch (Exception cut) when (cut is HttpRequestException or OperationCanceledException or IOException)
                {
                    kills++;
                    break;
                }
            }
        }

        (string Id, string Step, int Add) Next()
        {
            var step = steps[random.Next(steps.Count)];
            var now = told.GetValueOrDefault(step.Key);
            return (Guid.NewGuid().ToString("N"), step.Key, now == 0 || (now < step.Value.Most && random.Next(2) == 0) ? 1 : -1);
        }

        using var last = await RunningDesk.StartAsync(program, folder, first);
        using var counted = await last.TellAsync(address, tick);
        told[tick.Step] = told.GetValueOrDefault(tick.Step) + tick.Add;
        var counts = (await counted.Content.ReadFromJsonAsync<Told>(JsonSerializerOptions.Web))!.Counts;
        told.Should().AllSatisfy(step => counts.GetValueOrDefault(step.Key).Should().Be(step.Value, "what was confirmed is there, once"));
        using var rack = RackStore.Open(Path.Combine(folder, "rack.db"));
        rack.Check().Should().BeEmpty();
        Row("the program was killed while it was told ticks", kills, "times");
        Row("ticks confirmed before and between the kills, each there once", confirmed, "ticks");
    }

    private async Task PagesAsync(OpenDesk desk, Plan plan)
    {
        var page = await browser.PageAsync(1440, 900);
        await page.GotoAsync(desk.Server.NewEntry().ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();
        await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
        var times = new List<double>();
        for (var at = 0; at < 5; at++)
        {
            var clock = Stopwatch.StartNew();
            await page.GotoAsync(new Uri(desk.Server.Address, Addresses.Plan("lamp")).ToString(), new() { WaitUntil = WaitUntilState.DOMContentLoaded });
            await page.Locator(".layouts img").First.WaitForAsync();
            times.Add(clock.Elapsed.TotalMilliseconds);
        }

        Row($"a plan of {plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length)} pieces shown: the middle one of 5", times.Order().ElementAt(2), "ms");
        foreach (var path in new[] { "/", Addresses.Parts("lamp"), Addresses.Plan("lamp"), Addresses.Variants("lamp"), Addresses.Order("lamp"), Addresses.Saw("lamp"), "/rack", "/settings", "/devices" })
        {
            await page.GotoAsync(new Uri(desk.Server.Address, path).ToString());
            var bytes = await page.EvaluateAsync<double>("() => performance.getEntriesByType('resource').concat(performance.getEntriesByType('navigation')).filter(one => !one.name.includes('/pictures/')).reduce((sum, one) => sum + one.decodedBodySize, 0)");
            Row($"page {path} with style and scripts, without pictures", bytes / 1024, "KiB");
        }

        await page.Context.CloseAsync();
    }

    /// <summary>Four devices tell their ticks while the network is cut at random: before a request arrives, or after, so that the device tells again what was booked.</summary>
    private async Task TicksAsync(OpenDesk desk, Plan plan)
    {
        var steps = TabletServed.Counted(plan, new()).Where(step => step.Value.Finishes == 0).ToList();
        var ticks = steps.SelectMany(step => Enumerable.Repeat(step.Key, step.Value.Most)).Take(Ticks).Select(step => (Id: Guid.NewGuid().ToString("N"), Step: step)).ToList();
        ticks.Should().HaveCount(Ticks);
        var cuts = 0;
        var devices = await PairedAsync(desk, 4);
        var clock = Stopwatch.StartNew();
        await Task.WhenAll(Enumerable.Range(0, 4).Select(async number =>
        {
            var device = devices[number];
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
        Row("ticks told by four devices; each booked once and the rack check clean", Ticks, "ticks");
        Row("of them cut off by the network (seeded random) and told again", cuts, "times");
        Row("a tick told and kept on the disk", clock.Elapsed.TotalMilliseconds * 4 / (Ticks + cuts), "ms");
    }

    /// <summary>One after the other: a new code makes the one before void.</summary>
    private static async Task<List<HttpClient>> PairedAsync(OpenDesk desk, int count)
    {
        var devices = new List<HttpClient>();
        while (devices.Count < count)
        {
            devices.Add(await desk.DeviceAsync($"tablet {devices.Count + 1}"));
        }

        return devices;
    }

    private async Task DevicesAsync(OpenDesk desk, Plan plan)
    {
        var devices = await PairedAsync(desk, Devices);
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

        Row($"{Devices} devices at once; answer: 95th percentile", High(times), "ms");
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
        var (before, open) = (Held(), Handles());
        await UseAsync(TimeSpan.FromMinutes(LongFactAttribute.Minutes));
        var later = string.Create(CultureInfo.InvariantCulture, $"after {LongFactAttribute.Minutes:0.#} minutes more");
        Row("memory held after the first 20 s of use", before, "MiB");
        Row(later, Held(), "MiB");
        Row("files and sockets open after the first 20 s of use", open, "");
        Row(later, Handles(), "");

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

        static double Handles()
        {
            using var own = Process.GetCurrentProcess();
            return own.HandleCount;
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
        var row = string.Create(CultureInfo.InvariantCulture, $"{DateTime.UtcNow:yyyy-MM-dd},{Environment.GetEnvironmentVariable("NEST_COMMIT")},{what},{value:0.##},{unit},{Environment.ProcessorCount},{Environment.GetEnvironmentVariable("NEST_NOTE")}");
        output.WriteLine(row);
        if (Environment.GetEnvironmentVariable("NEST_RESULTS") is { Length: > 0 } file)
        {
            if (!File.Exists(file))
            {
                File.WriteAllText(file, "date,commit,what,value,unit,cores,note\n");
            }

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
