using System.Text;
using Microsoft.Playwright;
using Nest.Tests.Desk;

namespace Nest.Browser;

/// <summary>An answer that comes late writes over nothing in the fields beside a list or drawing that was dropped, nor over the name of a device.</summary>
public sealed class LateChoicesTest(OpenBrowser browser) : IClassFixture<OpenBrowser>
{
    private const string List = "part;material;length;width;thickness;quantity;seen\narm;6061-T6;300;30;8,250;4;yes\n";
    private static readonly string Drawing = string.Join('\n', "0 SECTION 2 ENTITIES".Split(' ')) + Line(0, 0, 120, 0) + Line(120, 0, 120, 80) + Line(120, 80, 0, 80) + Line(0, 80, 0, 0)
        + "\n" + string.Join('\n', "0 ENDSEC 0 EOF".Split(' ')) + "\n";

    /// <summary>A text is entered and before the desk has answered another is typed in its place.</summary>
    [BrowserFact]
    public async Task A_text_that_is_being_typed_beside_a_drawing_is_not_written_over()
    {
        await using var desk = await OpenDesk.StartAsync();
        var (page, line) = await LatePage.OpenAsync(browser, desk, "/new");
        await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "shim.dxf", MimeType = "image/vnd.dxf", Buffer = Encoding.ASCII.GetBytes(Drawing) });
        var (thickness, material) = (page.GetByLabel("Thickness of drawings (DXF)"), page.GetByLabel("Material, where the list or model names none"));
        await page.GetByLabel("Unit of bare numbers").SelectOptionAsync("mm");
        await EnterAsync(thickness, "4mm");
        await EnterAsync(material, "6061-T6");
        await Cell(page, "120 × 80 × 4").WaitForAsync();

        await TypeTwiceAsync(line, thickness, "5mm", "6mm", Cell(page, "120 × 80 × 5"));
        await Cell(page, "120 × 80 × 6").WaitForAsync();
        await TypeTwiceAsync(line, material, "6082-T6", "S235JR", Cell(page, "6082-T6"));
        await Cell(page, "S235JR").WaitForAsync();
        await page.Context.CloseAsync();
    }

    /// <summary>One word is chosen and then another, of which the desk has not heard when it answers to the first.</summary>
    [BrowserFact]
    public async Task A_choice_beside_a_list_is_not_taken_back_by_the_answer_to_one_before()
    {
        await using var desk = await OpenDesk.StartAsync();
        var (page, line) = await LatePage.OpenAsync(browser, desk, "/new");
        await page.GetByLabel("Or paste a table").FillAsync(List);
        await page.GetByRole(AriaRole.Button, new() { Name = "Read it" }).ClickAsync();
        await page.GetByLabel("Decimal mark").SelectOptionAsync("comma");
        await Cell(page, "300 × 30 × 8.25").WaitForAsync();

        await ChooseTwiceAsync(line, page.GetByLabel("Decimal mark"), "point", "comma", Cell(page, "300 × 30 × 8250"));
        await ChooseTwiceAsync(line, page.GetByLabel("Unit of bare numbers"), "in", "mm", page.GetByText("Numbers without a unit are inches"));
        await ChooseTwiceAsync(line, page.GetByLabel("Read as: seen"), "note", "none", page.GetByText("as asked", new() { Exact = true }));
        await page.GetByText("left out as asked").WaitForAsync();
        await page.Context.CloseAsync();
    }

    /// <summary>The same with the name of a browser that was let in.</summary>
    [BrowserFact]
    public async Task A_name_of_a_device_that_is_being_typed_is_not_written_over()
    {
        await using var desk = await OpenDesk.StartAsync();
        var (page, line) = await LatePage.OpenAsync(browser, desk, "/devices");
        var field = page.GetByRole(AriaRole.Rowheader).GetByRole(AriaRole.Textbox);
        await TypeTwiceAsync(line, field, "bench", "bench by the saw", page.GetByRole(AriaRole.Button, new() { Name = "Throw out bench", Exact = true }));
        await page.GetByRole(AriaRole.Button, new() { Name = "Throw out bench by the saw" }).WaitForAsync();
        await page.Context.CloseAsync();
    }

    /// <param name="answered">What the page shows of the first text.</param>
    private static async Task TypeTwiceAsync(HeldLine line, ILocator field, string first, string second, ILocator answered)
    {
        await field.FillAsync(first);
        line.HoldAnswers();
        await field.PressAsync("Tab");
        await LatePage.UntilAsync(() => line.Waiting > 0);
        await field.FillAsync(second);
        line.Release();
        await answered.WaitForAsync();
        (await field.InputValueAsync()).Should().Be(second);
        await field.PressAsync("Tab");
    }

    /// <param name="answered">What the page shows of the first word.</param>
    private static async Task ChooseTwiceAsync(HeldLine line, ILocator field, string first, string second, ILocator answered)
    {
        line.HoldAnswers();
        await field.SelectOptionAsync(first);
        await LatePage.UntilAsync(() => line.Waiting > 0);
        line.HoldAll();
        await field.SelectOptionAsync(second);
        line.ReleaseAnswers();
        await answered.WaitForAsync();
        (await field.InputValueAsync()).Should().Be(second);
        line.Release();
        await answered.WaitForAsync(new() { State = WaitForSelectorState.Detached });
        (await field.InputValueAsync()).Should().Be(second);
    }

    private static async Task EnterAsync(ILocator field, string text)
    {
        await field.FillAsync(text);
        await field.PressAsync("Tab");
    }

    private static ILocator Cell(IPage page, string text) => page.GetByRole(AriaRole.Cell, new() { Name = text }).First;

    /// <summary>A line in the words of the format: group 0 names it, 10 and 20 its begin, 11 and 21 its end.</summary>
    private static string Line(int fromX, int fromY, int toX, int toY) => $"\n0\nLINE\n8\n0\n10\n{fromX}\n20\n{fromY}\n11\n{toX}\n21\n{toY}";
}
