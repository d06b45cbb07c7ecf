using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Nest.Desk.Model;
using Nest.Tests.Desk;

namespace Nest.Browser;

/// <summary>No page has a serious finding of the accessibility checker axe, on a phone, a tablet and a screen, light and dark; none is wider than its window.</summary>
public sealed class DeskAccessTest(OpenBrowser browser) : IClassFixture<OpenBrowser>
{
    private static readonly (int Width, int Height)[] Windows = [(360, 740), (768, 1024), (1440, 900)];

    // With NEST_SAMPLES all six; each width and each look is in the ordinary run.
    private static readonly (int Width, ColorScheme Look)[] Ordinary = [(360, ColorScheme.Light), (768, ColorScheme.Dark), (1440, ColorScheme.Light)];

    [BrowserFact]
    public async Task Every_page_may_be_used_by_everybody()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.WithShelf);
        SignedShop.Sign(desk.Folder, whole: true);
        Prepare(desk.Server.Services);
        await TogetherAsync(desk.Server.Services);
        var page = await browser.PageAsync(1440, 900);
        await page.GotoAsync(desk.Server.NewEntry().ToString());
        var found = await FindingsAsync(page, "entrance");
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();
        await OpenBrowser.ThereAsync(page, desk.Server.Address);
        var saw = $"/saw/lamp/{SignedShop.Mark}";
        foreach (var path in new[]
        {
            "/", "/new", "/rack", "/rack/add", "/rack/history", "/devices", "/settings?file=lamp%2Fjob.toml", "/saws", "/job/lamp/parts", "/job/lamp/plan", $"/job/lamp/plan/layout/{SignedShop.Plan.Layouts[0].Number}", "/job/lamp/plan/variants", "/job/lamp/order", "/job/lamp/saw",
            "/together?job=lamp", "/together?job=lamp&job=shelf", "/saw", saw, saw + "#view", $"{saw}/miscut/{SignedShop.Plan.Layouts[0].Number}", "/pair",
        })
        {
            await page.GotoAsync(new Uri(desk.Server.Address, path).ToString());
            if (path.EndsWith("#view", StringComparison.Ordinal))
            {
                await page.Locator("#view").ClickAsync();
            }

            found.AddRange(await FindingsAsync(page, path));
            await OpenBrowser.PictureAsync(page, "page-" + path.Replace('/', '_').Replace('?', '_').Replace('&', '_'));
        }

        found.Should().BeEmpty();
        await page.Context.CloseAsync();
    }

    /// <summary>Else no finding would mean nothing: faults of a single thing, of its colours and of the page as a whole.</summary>
    [BrowserFact]
    public async Task A_page_with_faults_is_found_out()
    {
        var page = await browser.PageAsync(360, 740);
        await page.SetContentAsync("<!DOCTYPE html><html><head><title>t</title></head><body><img src=\"data:,\"><p style=\"color:#ccc;background:#fff\">pale</p><p style=\"width:900px\">wide</p></body></html>");
        var found = string.Join('\n', await FindingsAsync(page, "made"));
        found.Should().Contain("image-alt").And.Contain("html-has-lang").And.Contain("color-contrast").And.Contain("wider than the window");
        await page.Context.CloseAsync();
    }

    /// <summary>An order is given and partly come, and there is a second variant: so the pages have all that they may show.</summary>
    private static void Prepare(IServiceProvider services)
    {
        var (orders, order, job) = (services.GetRequiredService<OrderRoom>(), SignedShop.Plan.Orders[0], services.GetRequiredService<Shop>().Job("lamp")!);
        orders.Ordered(job, SignedShop.Plan, order.Supplier, "2026-11-28", "AB 12").Should().Contain("ordered from");
        orders.Came(orders.Find(SignedShop.Plan).Record!, order.Lines[0].StockId, 1, "", "", "").Should().Contain("paint");
        services.GetRequiredService<Searches>().Remember("lamp", SignedShop.Plan with { Layouts = SignedShop.Plan.Layouts.RemoveAt(0) });
    }

    /// <summary>Both jobs are planned as one, with what that saves.</summary>
    private static async Task TogetherAsync(IServiceProvider services)
    {
        var room = services.GetRequiredService<TogetherRoom>();
        var (search, _) = room.Start([.. room.Folders(["lamp", "shelf"]).Select(folder => (folder, 1))], new() { Work = 100, Threads = 1 });
        while (search!.Now.State != SearchState.Done)
        {
            await Task.Delay(20);
        }
    }

    private static AxeRunOptions Only(params string[] tags) => new() { RunOnly = new() { Type = "tag", Values = [.. tags] } };

#pragma warning disable CS0618 // The pages have no frames. The newer call opens a second window for each run, to put the findings of frames together: twice the processor time.
    private static Task<AxeResult> AxeAsync(IPage page, AxeRunOptions options) => page.Locator(":root").RunAxeLegacy(options);
#pragma warning restore CS0618

    private static async Task<List<string>> FindingsAsync(IPage page, string name)
    {
        var found = new List<string>();
        // The live connection sets the title anew when it begins.
        await page.WaitForFunctionAsync("() => document.title.length > 0");
        foreach (var (width, height) in Windows)
        {
            await page.SetViewportSizeAsync(width, height);
            foreach (var look in new[] { ColorScheme.Light, ColorScheme.Dark }.Where(look => OpenBrowser.Samples is not null || Ordinary.Contains((width, look))))
            {
                await page.EmulateMediaAsync(new() { ColorScheme = look });
                // What depends on neither width nor colours is looked at once a page.
                var options = (width, look) switch
                {
                    (360, ColorScheme.Light) => new AxeRunOptions(),
                    (_, ColorScheme.Light) => Only("wcag2aa", "wcag22aa"),
                    _ => Only("cat.color"),
                };
                options.ResultTypes = [ResultType.Violations];
                var result = await AxeAsync(page, options);
                if (result.Violations.Any(one => one.Id == "document-title"))
                {
                    // For a moment there is none, when the live connection begins and sets it anew. One that stays away fails here.
                    await page.WaitForFunctionAsync("() => document.title.length > 0");
                    result = await AxeAsync(page, options);
                }

                found.AddRange(result.Violations.Where(one => one.Impact is "serious" or "critical")
                    .Select(one => $"{name}, {width}, {look}: {one.Id}: {string.Join("; ", one.Nodes.Take(3).Select(node => node.Html))}"));
            }

            if (await page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > innerWidth + 1"))
            {
                found.Add($"{name}, {width}: wider than the window");
            }
        }

        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        return found;
    }
}
