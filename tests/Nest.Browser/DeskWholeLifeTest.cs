using System.Diagnostics;
using System.Text;
using Microsoft.Playwright;
using Nest.Tests.Desk;
using Xunit.Abstractions;

namespace Nest.Browser;

/// <summary>A job's whole life by somebody who has nothing but the page, from a messy spreadsheet to the labels of the offcuts: timed, pictures of each step in NEST_SAMPLES. Long: NEST_LONG=1; of a published program: NEST_PROGRAM=PATH-OF-nest.</summary>
public sealed class DeskWholeLifeTest(OpenBrowser browser, ITestOutputHelper output) : IClassFixture<OpenBrowser>
{
    // A list as shops have them (invented): titles, an empty line, sizes in one text with fractions and a decimal comma, words around the alloy, a total.
    private const string List = """
        Crane head rev C;;;;;
        Larkfield Grip, 26 Nov;;;;;

        Part;Material;Size (in);Qty / set;Stock;Note
        tilt plate;aluminum 6061;3/8 x 4 x 7-1/4;2;plate;pocket both sides
        side plate;AL 6061-T6;1/2 x 3 x 9;4;plate;
        yoke arm;6061-T6;3/4 x 2 x 6;4;flat bar;
        shim ear;1018 CRS;1/4 x 1-1/2 x 2;4;flat bar;
        rail;6061-T6;1/2 x 1-1/2 x 8,5;4;flat bar;saw square
        pin;1018;5/8 dia x 3-1/4;2;round;
        Total;;;20;;

        """;

    /// <summary>A published program whose desk is played, with the door for devices open; null: the desk of these tests.</summary>
    private static string? Program => Environment.GetEnvironmentVariable("NEST_PROGRAM") is { Length: > 0 } program ? program : null;

    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private IPage _page = null!;

    [LongFact]
    public async Task From_a_messy_spreadsheet_to_the_labels_of_the_offcuts()
    {
        await using var own = Program is null ? await OpenDesk.SharedAsync() : null;
        using var published = Program is null ? null : await RunningDesk.OpenAsync(Program);
        var (entry, folder) = own is null ? (published!.Entry!, published.Folder!) : (own.Server.NewEntry(), own.Folder);
        _page = await browser.PageAsync(1280, 860);
        var page = _page;
        await page.GotoAsync(entry.ToString());
        await StepAsync("entrance");
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();
        await page.GetByLabel("Unit of sizes").Or(page.Locator("select").First).First.SelectOptionAsync("in");
        await page.GetByLabel("Kerf of the bar saw").FillAsync("0.045");
        await page.GetByLabel("Who sells to you").FillAsync("Larkfield Metals (invented)");
        await StepAsync("five questions");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write the shop" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "New job" }).WaitForAsync();
        await StepAsync("jobs");

        await page.GetByRole(AriaRole.Link, new() { Name = "New job" }).ClickAsync();
        await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
        await UntilAsync(
            () => page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "crane head.csv", MimeType = "text/csv", Buffer = Encoding.Latin1.GetBytes(List) }),
            page.GetByRole(AriaRole.Rowheader, new() { Name = "tilt plate" }));
        await StepAsync("list dropped", whole: true);
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the job" }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new() { Name = "crane head" }).WaitForAsync();
        await StepAsync("parts", whole: true);

        await page.GetByRole(AriaRole.Link, new() { Name = "Plan", Exact = true }).ClickAsync();
        await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
        await page.GetByLabel("Seconds to search at most").FillAsync("5");
        await page.GetByLabel("Sets", new() { Exact = true }).FillAsync("6");
        await page.GetByLabel("Sets", new() { Exact = true }).PressAsync("Tab");
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
        await page.Locator("text=Stop, keep the best").First.WaitForAsync();
        await StepAsync("searching");
        var sign = page.GetByRole(AriaRole.Button, new() { Name = "Sign and write the files" });
        await sign.WaitForAsync(new() { Timeout = 300_000 });
        await StepAsync("planned", whole: true);

        await page.Locator(".layouts input[type=checkbox]").First.CheckAsync();
        await page.GetByText("Change and plan again").ClickAsync();
        var quantity = page.GetByLabel("shim ear");
        await quantity.FillAsync("5");
        await quantity.PressAsync("Tab");
        await page.GetByText("shim ear: 5 a set").WaitForAsync();
        await StepAsync("layout held, quantity changed", whole: true);
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan again" }).ClickAsync();
        var stop = page.GetByRole(AriaRole.Button, new() { Name = "Stop, keep the best" });
        await stop.WaitForAsync(new() { Timeout = 240_000 });
        await stop.WaitForAsync(new() { State = WaitForSelectorState.Detached, Timeout = 300_000 });
        await sign.WaitForAsync(new() { Timeout = 240_000 });
        await StepAsync("planned again", whole: true);
        await sign.ClickAsync();
        await page.GetByText("Written to the folder").WaitForAsync(new() { Timeout = 240_000 });
        await StepAsync("signed");
        await PrintAsync("plan");

        await page.GetByRole(AriaRole.Link, new() { Name = "Order" }).ClickAsync();
        await page.Locator("section.order").First.WaitForAsync();
        await StepAsync("order", whole: true);
        await PrintAsync("order");
        foreach (var at in Enumerable.Range(0, await page.Locator("section.order").CountAsync()))
        {
            var order = page.Locator("section.order").Nth(at);
            await order.GetByLabel("Confirmed as").FillAsync($"AB {at + 1}");
            await UntilAsync(() => order.GetByRole(AriaRole.Button, new() { Name = "The order was given" }).ClickAsync(new() { Timeout = 10_000 }), order.GetByText($"confirmed as AB {at + 1}."));
            await StepAsync($"order {at + 1} given", whole: true);
            for (var enter = order.GetByRole(AriaRole.Button, new() { Name = "Enter on the rack:" }); await enter.CountAsync() is > 0 and var left;)
            {
                var count = order.GetByLabel("Pieces that came").First;
                var all = await count.GetAttributeAsync("max");
                if (Program is null)
                {
                    (await count.InputValueAsync()).Should().Be(all, "mostly all of a line comes at once");
                }

                await count.FillAsync(all!);
                await count.PressAsync("Tab");
                await enter.First.ClickAsync();
                await order.Locator("ul.came li").Nth(left - 1).WaitForAsync(new() { State = WaitForSelectorState.Detached });
            }

            await StepAsync($"order {at + 1} came", whole: true);
        }

        await page.GetByRole(AriaRole.Link, new() { Name = "Saw", Exact = true }).ClickAsync();
        var tablet = page.GetByRole(AriaRole.Link, new() { Name = "Open the page for the saw" });
        await tablet.WaitForAsync();
        await StepAsync("saw room", whole: true);
        var desk1280 = page;
        _page = await page.RunAndWaitForPopupAsync(() => tablet.ClickAsync());
        await _page.SetViewportSizeAsync(360, 740);
        await _page.Locator("#more").WaitForAsync();
        await SawAsync(2);
        // What was counted is sent in a moment: then the desk has both on the rack.
        _page = desk1280;
        await UntilAsync(() => page.ReloadAsync(), page.GetByRole(AriaRole.Cell, new() { Name = "1 of 1" }).Nth(1));
        await StepAsync("sawn as the desk has it", whole: true);

        await page.GetByRole(AriaRole.Navigation, new() { Name = "Rooms of the shop" }).GetByRole(AriaRole.Link, new() { Name = "Rack" }).ClickAsync();
        await page.GetByRole(AriaRole.Checkbox).First.WaitForAsync();
        await StepAsync("rack", whole: true);
        var labels = page.GetByRole(AriaRole.Link, new() { Name = "Labels" });
        await UntilAsync(() => page.GetByRole(AriaRole.Checkbox).First.CheckAsync(), labels);
        await StepAsync("chosen for labels");
        var address = await labels.First.GetAttributeAsync("href");
        var bytes = await (await page.APIRequest.GetAsync(new Uri(entry, address).ToString())).BodyAsync();
        bytes.Should().StartWith("%PDF"u8.ToArray());
        await KeepAsync("labels.pdf", bytes);
        output.WriteLine($"{_clock.Elapsed.TotalSeconds:0} s in all");
        CopyShop(folder);
        await page.Context.CloseAsync();
    }

    /// <summary>So many bars or plates are sawn on the phone, each step counted and gone on from.</summary>
    private async Task SawAsync(int pieces)
    {
        var (shots, groups) = (0, new HashSet<string>(StringComparer.Ordinal));
        for (var step = 0; step < 400; step++)
        {
            var group = await _page.EvaluateAsync<string>("() => { const all = [...document.querySelectorAll('.group')], here = all.find(one => one.classList.contains('here')); return here.dataset.form ? String(all.indexOf(here)) : ''; }");
            if (group.Length > 0 && groups.Add(group) && groups.Count > pieces)
            {
                break;
            }

            if (shots++ < 14)
            {
                await StepAsync($"saw step {shots}");
            }

            for (var tick = 0; tick < 100 && await _page.Locator("#more").IsEnabledAsync(); tick++)
            {
                await _page.Locator("#more").ClickAsync();
            }

            if (!await _page.Locator("#next").IsEnabledAsync())
            {
                break;
            }

            await _page.Locator("#next").ClickAsync();
        }

        await StepAsync("two are sawn");
    }

    private async Task StepAsync(string name, bool whole = false)
    {
        if (whole)
        {
            await _page.EvaluateAsync("() => Promise.all([...document.images].map(one => { one.loading = 'eager'; return one.decode().catch(() => { }); }))");
        }

        output.WriteLine($"{_clock.Elapsed.TotalSeconds,5:0} s  {name}");
        if (OpenBrowser.Samples is { } folder)
        {
            Directory.CreateDirectory(folder);
            await _page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"life-{_clock.ElapsedMilliseconds / 100:00000}-{name.Replace(' ', '-').Replace(",", "", StringComparison.Ordinal)}.png"), FullPage = whole });
        }
    }

    private async Task PrintAsync(string name)
    {
        await _page.EmulateMediaAsync(new() { Media = Media.Print });
        await KeepAsync($"print-{name}.pdf", await _page.PdfAsync(new() { Format = "A4" }));
        await _page.EmulateMediaAsync(new() { Media = Media.Screen });
    }

    private static async Task KeepAsync(string name, byte[] bytes)
    {
        if (OpenBrowser.Samples is { } folder)
        {
            await File.WriteAllBytesAsync(Path.Combine(folder, name), bytes);
        }
    }

    /// <summary>Kept beside the pictures, so that the command line can be asked for the same figures.</summary>
    private static void CopyShop(string shop)
    {
        foreach (var file in OpenBrowser.Samples is null ? [] : Directory.EnumerateFiles(shop, "*", SearchOption.AllDirectories))
        {
            var to = Path.Combine(OpenBrowser.Samples!, "shop", Path.GetRelativePath(shop, file));
            Directory.CreateDirectory(Path.GetDirectoryName(to)!);
            File.Copy(file, to, overwrite: true);
        }
    }

    /// <summary>Acts until the page answers: before its live connection stands, a click does nothing.</summary>
    private static async Task UntilAsync(Func<Task> act, ILocator shown)
    {
        for (var tries = 0; ; tries++)
        {
            try
            {
                // On a busy machine the answer may come after the wait: what it began with may be gone by then.
                if (tries > 0 && await shown.First.IsVisibleAsync())
                {
                    return;
                }

                await act();
                await shown.First.WaitForAsync(new() { Timeout = 1500 });
                return;
            }
            catch (TimeoutException) when (tries < 60)
            {
                // Once more.
            }
        }
    }
}
