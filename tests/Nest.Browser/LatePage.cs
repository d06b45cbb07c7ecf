using Microsoft.Playwright;
using Nest.Tests.Desk;

namespace Nest.Browser;

/// <summary>A page of the desk on a line that may be held.</summary>
internal static class LatePage
{
    /// <summary>Opens a page whose line may be held, once it is alive.</summary>
    public static async Task<(IPage Page, HeldLine Line)> OpenAsync(OpenBrowser browser, OpenDesk desk, string path)
    {
        var page = await browser.PageAsync(1440, 900);
        var line = await HeldLine.OfAsync(page);
        await page.GotoAsync(desk.Server.NewEntry().ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();
        await OpenBrowser.ThereAsync(page, desk.Server.Address);
        await page.GotoAsync(new Uri(desk.Server.Address, path).ToString());
        await page.Locator("fieldset.live:not([disabled]) h1").WaitForAsync();
        return (page, line);
    }

    /// <summary>Waits for what must come at last, on however busy a machine.</summary>
    public static async Task UntilAsync(Func<bool> reached)
    {
        for (var tries = 0; !reached(); tries++)
        {
            tries.Should().BeLessThan(1800, "it must come at last");
            await Task.Delay(50);
        }
    }
}
