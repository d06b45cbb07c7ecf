using Microsoft.Playwright;
using Nest.Tests.Desk;

namespace Nest.Browser;

/// <summary>A job's life on the pages, and the saw on a phone whose network comes and goes.</summary>
public sealed class DeskJourneyTest(OpenBrowser browser) : IClassFixture<OpenBrowser>
{
    private static readonly string Parts = "Part;Material;Length;Width;Thickness;Qty\nbase plate;6082-T6;120;80;10;2\narm <b>left</b>;6082-T6;300;30;10;4\n";

    [BrowserFact]
    public async Task From_a_dropped_list_to_the_page_for_the_saw_and_the_rack()
    {
        await using var desk = await OpenDesk.SharedAsync();
        var page = await browser.PageAsync(1440, 900);
        var faults = Faults(page);
        await page.GotoAsync(desk.Server.NewEntry().ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();

        // An empty folder: five answers make a shop of it.
        await page.GetByLabel("Kerf of the bar saw").FillAsync("1.3");
        await page.GetByLabel("Who sells to you").FillAsync("Larkfield Metals (invented)");
        await OpenBrowser.PictureAsync(page, "desk-begin");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write the shop" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "New job" }).WaitForAsync();
        (await File.ReadAllTextAsync(Path.Combine(desk.Folder, "suppliers.toml"))).Should().Contain("Larkfield Metals (invented)");

        await page.GetByRole(AriaRole.Link, new() { Name = "New job" }).ClickAsync();
        await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
        await UntilAsync(
            () => page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "lamp.csv", MimeType = "text/csv", Buffer = System.Text.Encoding.UTF8.GetBytes(Parts) }),
            page.GetByRole(AriaRole.Rowheader, new() { Name = "base plate" }));
        (await page.GetByText("arm <b>left</b>").CountAsync()).Should().BePositive("a hostile name is text");
        await OpenBrowser.PictureAsync(page, "desk-new");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the job" }).ClickAsync();

        await page.GetByRole(AriaRole.Heading, new() { Name = "lamp" }).WaitForAsync();
        await ChangeParts(desk, page);
        await page.GetByRole(AriaRole.Link, new() { Name = "Plan", Exact = true }).ClickAsync();
        var sign = page.GetByRole(AriaRole.Button, new() { Name = "Sign and write the files" });
        await page.GetByLabel("Seconds to search at most").FillAsync("2");
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
        await sign.WaitForAsync(new() { Timeout = 240_000 });
        await ChangePlan(desk, page, sign);
        await OpenBrowser.PictureAsync(page, "desk-plan");
        await page.GetByRole(AriaRole.Link, new() { Name = "Variants side by side" }).ClickAsync();
        await page.GetByText("Variant B against Variant A").WaitForAsync();
        await OpenBrowser.PictureAsync(page, "desk-variants");
        await page.GetByRole(AriaRole.Navigation, new() { Name = "Of this job" }).GetByRole(AriaRole.Link, new() { Name = "Plan" }).ClickAsync();
        await sign.WaitForAsync();
        await sign.ClickAsync();
        await page.GetByText("Written to the folder").WaitForAsync(new() { Timeout = 240_000 });

        await page.GetByRole(AriaRole.Link, new() { Name = "Order" }).ClickAsync();
        await OrderAndReceive(page);
        await page.GetByRole(AriaRole.Link, new() { Name = "Saw", Exact = true }).ClickAsync();
        var tablet = page.GetByRole(AriaRole.Link, new() { Name = "Open the page for the saw" });
        await tablet.WaitForAsync();
        await page.GetByText("On the rack as P1").WaitForAsync();
        await OpenBrowser.PictureAsync(page, "desk-saw");
        File.Exists(Path.Combine(desk.Folder, "lamp", "plan", "data", "plan.json")).Should().BeTrue("the desk writes the files of the command line");

        var saw = await page.RunAndWaitForPopupAsync(() => tablet.ClickAsync());
        await saw.Locator("#more").ClickAsync();
        (await saw.Locator("#less").IsEnabledAsync()).Should().BeTrue();

        // The rack: a piece is entered, found by the box that it holds, moved, and the move taken back.
        await page.GetByRole(AriaRole.Link, new() { Name = "Rack", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Enter a piece" }).ClickAsync();
        // The page before has a field that is called much the same.
        await page.GetByRole(AriaRole.Heading, new() { Name = "Enter a piece" }).WaitForAsync();
        await page.GetByLabel("Material").FillAsync("6082-T6");
        await page.GetByLabel("Size:").FillAsync("300x200x10");
        await page.GetByLabel("Place").FillAsync("shelf 2");
        await page.GetByRole(AriaRole.Button, new() { Name = "Enter a piece" }).ClickAsync();
        await page.WaitForFunctionAsync("() => document.querySelector('main .status')?.textContent.length > 0");
        (await page.Locator("main .status").First.InnerTextAsync()).Should().StartWith("Paint ");
        await page.GetByRole(AriaRole.Navigation, new() { Name = "Rooms of the shop" }).GetByRole(AriaRole.Link, new() { Name = "Rack" }).ClickAsync();
        await page.GetByLabel("What can this box be cut from?").FillAsync("280x150x8");
        await page.GetByRole(AriaRole.Button, new() { Name = "Show" }).ClickAsync();
        var place = page.GetByLabel("Move the chosen to");
        await UntilAsync(() => page.GetByRole(AriaRole.Checkbox).First.CheckAsync(), place);
        await place.FillAsync("shelf 7");
        await OpenBrowser.PictureAsync(page, "desk-rack");
        await page.GetByRole(AriaRole.Button, new() { Name = "Move", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Cell, new() { Name = "shelf 7" }).WaitForAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "History" }).ClickAsync();
        await UntilAsync(() => page.GetByRole(AriaRole.Button, new() { Name = "Take it back" }).First.ClickAsync(), page.GetByText("Taken back: moved"));
        await OpenBrowser.PictureAsync(page, "desk-history");
        faults.Should().BeEmpty();
        await page.Context.CloseAsync();
    }

    /// <summary>By keyboard alone: a quantity is changed, taken back and done again; a fault stands at its cell; a model brings one more part.</summary>
    private static async Task ChangeParts(OpenDesk desk, IPage page)
    {
        var file = Path.Combine(desk.Folder, "lamp", "parts.csv");
        await page.GetByRole(AriaRole.Link, new() { Name = "Parts", Exact = true }).ClickAsync();
        var cell = page.GetByLabel("quantity of base plate");
        await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
        await cell.FocusAsync();
        await page.Keyboard.PressAsync("Control+A");
        await page.Keyboard.TypeAsync("3");
        await page.Keyboard.PressAsync("Enter");
        await page.GetByText("Written to parts.csv").WaitForAsync();
        (await page.EvaluateAsync<string>("() => document.activeElement.getAttribute('aria-label')")).Should().Be("quantity of arm <b>left</b>", "Enter goes to the next row");
        (await File.ReadAllTextAsync(file)).Should().Contain("base plate,6082-T6,120,80,10,3");
        await page.Keyboard.PressAsync("Control+z");
        await page.WaitForFunctionAsync("() => document.querySelector(\"[aria-label='quantity of base plate']\").value === '2'");
        await page.GetByLabel("length of base plate").FillAsync("12O");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("input[aria-invalid]").WaitForAsync();
        await OpenBrowser.PictureAsync(page, "desk-parts-fault");
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await page.Locator("input[aria-invalid]").WaitForAsync(new() { State = WaitForSelectorState.Detached });

        await page.GetByText("Add parts from a list or models").ClickAsync();
        await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "foot.stl", MimeType = "model/stl", Buffer = BoxModel.Stl(60, 40, 12) });
        var material = page.GetByLabel("Material, where the list or model names none");
        await material.FillAsync("6082-T6");
        await material.PressAsync("Tab");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add these parts" }).ClickAsync();
        await page.GetByLabel("quantity of foot").WaitForAsync();
        await page.GetByText("Written to parts.csv").WaitForAsync();
        await OpenBrowser.PictureAsync(page, "desk-parts");
    }

    /// <summary>A layout is held, a quantity changed: planned again, it stays.</summary>
    private static async Task ChangePlan(OpenDesk desk, IPage page, ILocator sign)
    {
        var hold = page.Locator(".layouts input[type=checkbox]").First;
        await hold.CheckAsync();
        await page.GetByText("Change and plan again").ClickAsync();
        var quantity = page.GetByLabel("arm <b>left</b>");
        await quantity.FillAsync("5");
        await quantity.PressAsync("Tab");
        await page.GetByText("arm <b>left</b>: 5 a set").WaitForAsync();
        await OpenBrowser.PictureAsync(page, "desk-change");
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan again" }).ClickAsync();
        var stop = page.GetByRole(AriaRole.Button, new() { Name = "Stop, keep the best" });
        await stop.WaitForAsync(new() { Timeout = 240_000 });
        await stop.WaitForAsync(new() { State = WaitForSelectorState.Detached, Timeout = 240_000 });
        await sign.WaitForAsync(new() { Timeout = 240_000 });
        (await page.Locator(".layouts input[type=checkbox]:checked").CountAsync()).Should().Be(1);
        (await File.ReadAllTextAsync(Path.Combine(desk.Folder, "lamp", "parts.csv"))).Should().Contain(",300,30,10,5");
    }

    /// <summary>The first order is given, and its first line comes: a mark to paint, and its label.</summary>
    private static async Task OrderAndReceive(IPage page)
    {
        var order = page.Locator("section.order").First;
        await order.GetByLabel("Confirmed as").FillAsync("AB 12");
        await UntilAsync(() => order.GetByRole(AriaRole.Button, new() { Name = "The order was given" }).ClickAsync(Soon), page.GetByText("confirmed as AB 12."));
        await order.GetByLabel("Heat:").First.FillAsync("H 77");
        await order.GetByRole(AriaRole.Button, new() { Name = "Enter on the rack:" }).First.ClickAsync();
        await order.GetByText(": paint ").WaitForAsync();
        await order.GetByRole(AriaRole.Link, new() { Name = "labels" }).First.WaitForAsync();
        await OpenBrowser.PictureAsync(page, "desk-order");
    }

    [BrowserFact]
    public async Task Two_jobs_are_ticked_planned_as_one_and_written()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.WithShelf);
        var page = await browser.PageAsync(768, 1024);
        var faults = Faults(page);
        await page.GotoAsync(desk.Server.NewEntry().ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();
        await page.GetByLabel("Together with others: Lamp").CheckAsync();
        await page.GetByLabel("Together with others: Shelf").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan the ticked jobs together" }).ClickAsync();

        await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
        await page.GetByLabel("lamp: Sets").FillAsync("1");
        await page.GetByLabel("shelf: Sets").FillAsync("3");
        var seconds = page.GetByLabel("Seconds to search at most");
        await seconds.FillAsync("1");
        await seconds.PressAsync("Tab");
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
        var write = page.GetByRole(AriaRole.Button, new() { Name = "Write the files" });
        await write.WaitForAsync(new() { Timeout = 240_000 });
        (await page.Locator(".verdicts li").First.InnerTextAsync()).Should().Contain("(1 set,").And.Contain("(3 sets,");
        (await page.Locator(".layouts img").CountAsync()).Should().BePositive();
        await OpenBrowser.PictureAsync(page, "desk-together");
        await write.ClickAsync();
        await page.GetByText("Written to the folder lamp+shelf-plan").WaitForAsync(new() { Timeout = 240_000 });
        File.Exists(Path.Combine(desk.Folder, "lamp+shelf-plan", "data", "plan.json")).Should().BeTrue("the desk writes the files of the command line");
        faults.Should().BeEmpty();
        await page.Context.CloseAsync();
    }

    [BrowserFact]
    public async Task A_phone_is_paired_by_the_code_counts_without_network_and_each_tick_arrives_once()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder, onRack: true);
        var page = await browser.PageAsync(1440, 900);
        await page.GotoAsync(desk.Server.NewEntry().ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Devices" }).ClickAsync();
        var address = page.Locator(".address");
        await UntilAsync(() => page.GetByRole(AriaRole.Button, new() { Name = "Show a code" }).ClickAsync(Soon), address);
        await OpenBrowser.PictureAsync(page, "desk-devices");

        var phone = await browser.PageAsync(390, 844, touch: true);
        await phone.GotoAsync(await address.InnerTextAsync());
        await phone.GetByLabel("Name of this device").FillAsync("phone at the saw");
        await OpenBrowser.PictureAsync(phone, "phone-pair");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Pair" }).ClickAsync();
        await phone.GetByRole(AriaRole.Link, new() { Name = "Lamp arm" }).ClickAsync();
        var other = await phone.Context.NewPageAsync();
        await other.GotoAsync(phone.Url);

        var step = await phone.EvaluateAsync<string>("() => [...document.querySelectorAll('.step')].find(step => step.dataset.first && step.dataset.count > 3).id");
        await phone.GotoAsync(phone.Url + "#" + step);
        await phone.ReloadAsync();
        await phone.Locator("#more").ClickAsync();
        await Counted(desk, phone, step, 1);

        await phone.Context.SetOfflineAsync(true);
        await phone.Locator("#more").ClickAsync();
        await phone.Locator("#more").ClickAsync();
        (await phone.Locator("#count").InnerTextAsync()).Should().StartWith("3 /");
        await phone.GetByText("not sent yet").WaitForAsync();
        await OpenBrowser.PictureAsync(phone, "phone-offline");
        await phone.Context.SetOfflineAsync(false);
        await Counted(desk, phone, step, 3);
        await phone.GetByText("not sent yet").WaitForAsync(new() { State = WaitForSelectorState.Hidden });
        // The second device sees it too.
        await other.WaitForFunctionAsync("step => document.querySelector('#' + step + ' .tally').textContent.startsWith('3 /')", step);

        // The whole bar: booked on the rack, and the marks to write are told.
        var done = step[..(step.IndexOf('-', StringComparison.Ordinal) + 1)] + "done";
        await phone.GotoAsync(phone.Url[..phone.Url.IndexOf('#', StringComparison.Ordinal)] + "#" + done);
        await phone.ReloadAsync();
        await phone.Locator("#more").ClickAsync();
        await phone.GetByText("is booked on the rack").WaitForAsync();
        await OpenBrowser.PictureAsync(phone, "phone-booked");

        await page.ReloadAsync();
        await UntilAsync(() => page.GetByRole(AriaRole.Button, new() { Name = "Throw out phone at the saw" }).ClickAsync(Soon), page.GetByText("No device is paired."));
        await phone.GetByText("not let in any more").WaitForAsync();
        await phone.Context.CloseAsync();
        await page.Context.CloseAsync();
    }

    private static async Task Counted(OpenDesk desk, IPage phone, string step, int count)
    {
        var address = new Uri(phone.Url).AbsolutePath + "/ticks";
        await phone.WaitForFunctionAsync("args => fetch(args[0]).then(answer => answer.json()).then(told => told.counts[args[1]] === args[2])", new object[] { address, step, count });
    }

    /// <summary>What the browser complains about: a breach of the content policy above all.</summary>
    private static List<string> Faults(IPage page)
    {
        var faults = new List<string>();
        page.Console += (_, message) =>
        {
            if (message.Type == "error")
            {
                faults.Add(message.Text);
            }
        };
        page.PageError += (_, fault) => faults.Add(fault);
        return faults;
    }

    /// <summary>A click that is tried anew where the page was made live meanwhile.</summary>
    private static LocatorClickOptions Soon => new() { Timeout = 10_000 };

    /// <summary>Acts until the page answers: before its live connection stands, a click does nothing.</summary>
    private static async Task UntilAsync(Func<Task> act, ILocator shown)
    {
        for (var tries = 0; tries < 60; tries++)
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
            catch (TimeoutException)
            {
                // Once more.
            }
        }

        throw new TimeoutException("The page did not answer.");
    }
}
