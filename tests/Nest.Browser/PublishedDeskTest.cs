using Microsoft.Playwright;
using Nest.Tests.Desk;

namespace Nest.Browser;

/// <summary>What only the network and the file system of a real program show: a phone is paired and thrown out, a model is dropped. Of the program that NEST_PROGRAM names; long: NEST_LONG=1.</summary>
public sealed class PublishedDeskTest(OpenBrowser browser) : IClassFixture<OpenBrowser>
{
    [LongFact]
    public async Task A_phone_is_paired_and_thrown_out_and_a_model_is_dropped()
    {
        var program = Environment.GetEnvironmentVariable("NEST_PROGRAM") ?? throw new InvalidOperationException("NEST_PROGRAM names the published program.");
        var folder = Directory.CreateTempSubdirectory("nest-published-").FullName;
        foreach (var (name, text) in SignedShop.Files)
        {
            Directory.CreateDirectory(Path.Combine(folder, Path.GetDirectoryName(name)!));
            await File.WriteAllTextAsync(Path.Combine(folder, name), text);
        }

        SignedShop.Sign(folder, onRack: true);
        using var desk = await RunningDesk.OpenAsync(program, folder);
        var page = await browser.PageAsync(1280, 860);
        await page.GotoAsync(desk.Entry!.ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "Devices" }).ClickAsync();
        var address = page.Locator(".address");
        await UntilAsync(() => page.GetByRole(AriaRole.Button, new() { Name = "Show a code" }).ClickAsync(new() { Timeout = 5000 }), address);
        await OpenBrowser.PictureAsync(page, "published-devices");
        var phone = await browser.PageAsync(360, 740, touch: true);
        await phone.GotoAsync(await address.InnerTextAsync());
        await phone.GetByLabel("Name of this device").FillAsync("phone");
        await OpenBrowser.PictureAsync(phone, "published-pair");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Pair" }).ClickAsync();
        await phone.GetByRole(AriaRole.Link, new() { Name = "Lamp arm" }).ClickAsync();
        await phone.Locator("#more").WaitForAsync();
        await phone.Locator("#more").ClickAsync();
        await phone.GetByText("not sent yet").WaitForAsync(new() { State = WaitForSelectorState.Hidden });
        await OpenBrowser.PictureAsync(phone, "published-tick");
        var miscut = new Uri(new Uri(phone.Url), $"/saw/lamp/{SignedShop.Mark}/miscut/{SignedShop.Plan.Layouts[0].Number}").ToString();
        var saw = phone.Url;
        (await phone.GotoAsync(miscut))!.Ok.Should().BeTrue("a paired device may report a miscut");
        await OpenBrowser.PictureAsync(phone, "published-miscut");
        (await phone.GotoAsync(new Uri(new Uri(saw), "/settings").ToString()))!.Ok.Should().BeFalse("settings are the desk's alone");
        await phone.GotoAsync(saw);

        await page.ReloadAsync();
        await UntilAsync(() => page.GetByRole(AriaRole.Button, new() { Name = "Throw out phone" }).ClickAsync(new() { Timeout = 5000 }), page.GetByText("No device is paired."));
        await phone.GetByText("not let in any more").WaitForAsync();
        await OpenBrowser.PictureAsync(phone, "published-out");

        await page.GetByRole(AriaRole.Navigation, new() { Name = "Rooms of the shop" }).GetByRole(AriaRole.Link, new() { Name = "Jobs" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "New job" }).ClickAsync();
        await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
        await UntilAsync(
            () => page.Locator("input[type=file]").SetInputFilesAsync(Model("cap_not_closed_binary_mm.stl")),
            page.GetByText("cap_not_closed_binary_mm").First);
        await OpenBrowser.PictureAsync(page, "published-open-model");
        await page.GetByLabel("Material, where the list or model names none").FillAsync("6082-T6");
        await page.GetByLabel("Material, where the list or model names none").PressAsync("Tab");
        await UntilAsync(
            () => page.Locator("input[type=file]").SetInputFilesAsync(Model("l_bracket_ap242_mm.step")),
            page.GetByRole(AriaRole.Rowheader).First);
        (await page.GetByLabel("Name of the job").InputValueAsync()).Should().Be("l_bracket_ap242_mm", "a name that came from a file follows the file");
        await OpenBrowser.PictureAsync(page, "published-model");
    }

    private static string Model(string name)
    {
        var root = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(root.FullName, "Nest.sln")))
        {
            root = root.Parent!;
        }

        return Path.Combine(root.FullName, "tests", "Nest.Tests", "Models", "files", name);
    }

    /// <summary>Again until it shows: the live connection may not be there yet at the first click.</summary>
    private static async Task UntilAsync(Func<Task> act, ILocator shows)
    {
        for (var tries = 0; ; tries++)
        {
            await act();
            try
            {
                await shows.WaitForAsync(new() { Timeout = 10_000 });
                return;
            }
            catch (TimeoutException) when (tries < 5)
            {
            }
        }
    }
}
