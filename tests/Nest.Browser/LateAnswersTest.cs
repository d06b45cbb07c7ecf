using Microsoft.Playwright;
using Nest.Tests.Desk;

namespace Nest.Browser;

/// <summary>On a busy machine the desk's answers come late: what is typed meanwhile is neither lost nor put elsewhere.</summary>
public sealed class LateAnswersTest(OpenBrowser browser) : IClassFixture<OpenBrowser>
{
    private static readonly (string Name, string Text)[] Files =
    [
        SignedShop.Files[0],
        ("lamp/parts.csv", "part,material,length,width,thickness,quantity\nbase plate,6082-T6,120,80,10,2\narm,6082-T6,300,30,10,4\nfoot,6082-T6,60,40,10,8\n"),
    ];

    /// <summary>The page of the parts is drawn and somebody is in a cell before the desk hears that it was drawn and gives the focus to the page's head.</summary>
    [BrowserFact]
    public async Task A_cell_keeps_the_focus_when_the_page_is_done_late()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var (page, line) = await LatePage.OpenAsync(browser, desk, "/job/lamp/plan");
        line.HoldDrawn();
        await page.GetByRole(AriaRole.Link, new() { Name = "Parts", Exact = true }).ClickAsync();
        await page.GetByLabel("quantity of base plate").FocusAsync();
        var answers = line.Answers;
        line.Release();
        await LatePage.UntilAsync(() => line.Answers > answers);
        (await page.EvaluateAsync<string?>("() => document.activeElement.getAttribute('aria-label')")).Should().Be("quantity of base plate");
        await page.Keyboard.PressAsync("Control+A");
        await page.Keyboard.TypeAsync("3");
        await page.Keyboard.PressAsync("Enter");
        await page.GetByText("Written to parts.csv").WaitForAsync();
        (await ListAsync(desk)).Should().Contain("base plate,6082-T6,120,80,10,3");
        await page.Context.CloseAsync();
    }

    /// <summary>Who goes to another page by a link hears its head first.</summary>
    [BrowserFact]
    public async Task The_head_of_a_page_has_the_focus_where_nobody_is_typing()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var (page, _) = await LatePage.OpenAsync(browser, desk, "/job/lamp/plan");
        await page.WaitForFunctionAsync("() => document.activeElement.tagName === 'H1'");
        await page.GetByRole(AriaRole.Link, new() { Name = "Parts", Exact = true }).ClickAsync();
        await page.GetByLabel("quantity of base plate").WaitForAsync();
        await page.WaitForFunctionAsync("() => document.activeElement.tagName === 'H1'");
        await page.GetByRole(AriaRole.Navigation, new() { Name = "Rooms of the shop" }).GetByRole(AriaRole.Link, new() { Name = "Rack" }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new() { Name = "Rack", Level = 1 }).WaitForAsync();
        await page.WaitForFunctionAsync("() => document.activeElement.tagName === 'H1'");
        await page.Context.CloseAsync();
    }

    /// <summary>A 3 is entered and before the desk has answered a 4 is typed in its place: the answer to the 3 leaves it.</summary>
    [BrowserFact]
    public async Task A_figure_that_is_being_typed_is_not_written_over()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var (page, line) = await LatePage.OpenAsync(browser, desk, "/job/lamp/parts");
        var cell = page.GetByLabel("quantity of base plate");
        await cell.FillAsync("3");
        line.HoldAnswers();
        await cell.PressAsync("Tab");
        await LatePage.UntilAsync(() => line.Waiting > 0);
        await cell.FocusAsync();
        await page.Keyboard.PressAsync("Control+A");
        await page.Keyboard.TypeAsync("4");
        line.Release();
        await page.GetByText("Written to parts.csv").WaitForAsync();
        (await cell.InputValueAsync()).Should().Be("4");
        await cell.PressAsync("Tab");
        await LatePage.UntilAsync(() => ListAsync(desk).Result.Contains("base plate,6082-T6,120,80,10,4", StringComparison.Ordinal));
        await page.Context.CloseAsync();
    }

    /// <summary>The same beside a plan, where quantities may be changed too.</summary>
    [BrowserFact]
    public async Task A_quantity_that_is_being_typed_beside_a_plan_is_not_written_over()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder, whole: true);
        var (page, line) = await LatePage.OpenAsync(browser, desk, "/job/lamp/plan");
        await page.GetByText("Change and plan again").ClickAsync();
        foreach (var (name, first, second) in new[] { ("arm", "5", "6"), ("Suppliers at most", "3", "4") })
        {
            var field = page.Locator("details.change").GetByLabel(name);
            await field.FillAsync(first);
            line.HoldAnswers();
            await field.PressAsync("Tab");
            await LatePage.UntilAsync(() => line.Waiting > 0);
            await field.FillAsync(second);
            var answered = page.GetByText(first == "5" ? "arm: 5 a set" : "The most suppliers are changed");
            line.Release();
            await answered.First.WaitForAsync();
            (await field.InputValueAsync()).Should().Be(second);
            await field.PressAsync("Tab");
        }

        await LatePage.UntilAsync(() => ListAsync(desk).Result.Contains("300,30,10,6", StringComparison.Ordinal));
        await page.Context.CloseAsync();
    }

    /// <summary>A row is deleted and before it is gone from the page a figure is entered in a later row: it belongs to that row, whatever line it has by now.</summary>
    [BrowserFact]
    public async Task A_figure_goes_to_the_row_where_it_was_typed_though_a_row_before_it_goes()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var (page, line) = await LatePage.OpenAsync(browser, desk, "/job/lamp/parts");
        line.HoldAnswers();
        await page.GetByRole(AriaRole.Button, new() { Name = "Delete base plate" }).ClickAsync();
        await LatePage.UntilAsync(() => line.Waiting > 0);
        await page.GetByLabel("quantity of arm").FillAsync("7");
        await page.GetByLabel("quantity of arm").PressAsync("Tab");
        await LatePage.UntilAsync(() => !ListAsync(desk).Result.Contains("quantity\nbase plate", StringComparison.Ordinal));
        line.Release();
        await LatePage.UntilAsync(() => ListAsync(desk).Result.Contains(",7\n", StringComparison.Ordinal));
        (await ListAsync(desk)).Should().Be("part,material,length,width,thickness,quantity\narm,6082-T6,300,30,10,7\nfoot,6082-T6,60,40,10,8\n");
        await page.Context.CloseAsync();
    }

    /// <summary>Deleted by two clicks, the second before the row is gone from the page; and a figure is typed in what is deleted already. Only that row goes.</summary>
    [BrowserFact]
    public async Task What_is_done_to_a_deleted_row_does_nothing_to_another()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var (page, line) = await LatePage.OpenAsync(browser, desk, "/job/lamp/parts");
        line.HoldAnswers();
        await page.GetByRole(AriaRole.Button, new() { Name = "Delete base plate" }).DblClickAsync();
        await page.GetByLabel("quantity of base plate").FillAsync("9");
        await page.GetByLabel("quantity of base plate").PressAsync("Tab");

        // The last of what was done: when it is written, the desk has done all before it.
        await page.GetByLabel("quantity of foot").FillAsync("5");
        await page.GetByLabel("quantity of foot").PressAsync("Tab");
        await LatePage.UntilAsync(() => ListAsync(desk).Result.Contains(",5\n", StringComparison.Ordinal));
        (await ListAsync(desk)).Should().Be("part,material,length,width,thickness,quantity\narm,6082-T6,300,30,10,4\nfoot,6082-T6,60,40,10,5\n");
        line.Release();
        await page.GetByLabel("quantity of base plate").WaitForAsync(new() { State = WaitForSelectorState.Detached });
        (await page.GetByLabel("quantity of arm").InputValueAsync()).Should().Be("4");
        await page.Context.CloseAsync();
    }

    private static Task<string> ListAsync(OpenDesk desk) => File.ReadAllTextAsync(Path.Combine(desk.Folder, "lamp", "parts.csv"));
}
