using AngleSharp;
using AngleSharp.Dom;
using Microsoft.Extensions.DependencyInjection;
using Nest.Desk.Model;
using Nest.Planning;

namespace Nest.Tests.Desk;

/// <summary>Parts are changed on the page in the very file that the command line reads.</summary>
public class DeskPartsTest
{
    private const string List = "# from the drawing\npart,material,length,width,thickness,quantity\nbase plate,6082-T6,120,80,10,2\narm,6082-T6,300,30,10,4\n";

    private static readonly (string Name, string Text)[] Files =
        [("lamp/job.toml", "name = \"Lamp arm\"\nunit = \"mm\"\nbatch = 3\nparts = \"parts.csv\"\n"), ("lamp/parts.csv", List)];

    [Fact]
    public async Task A_change_is_written_at_once_with_its_comments_and_is_taken_back()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var list = Edit(desk);

        list.Set(4, 6, "5");

        list.View.Status.Should().Contain("Written");
        Written(desk).Should().Be(List.Replace("10,4\n", "10,5\n", StringComparison.Ordinal));
        Planner.Read(Path.Combine(desk.Folder, "lamp", "job.toml")).Value!.Job.Parts[1].Quantity.Should().Be(5, "the command line reads it");
        list.Undo();
        list.View.CanRedo.Should().BeTrue();
        Written(desk).Should().Be(List);
        list.Redo();
        list.Add();
        list.Remove(3);
        Written(desk).Should().NotContain("new part", "its sizes are missing, so nothing is written yet");
        list.View.Status.Should().Contain("Not written yet");
        foreach (var _ in Enumerable.Range(0, 3))
        {
            list.Undo();
        }

        Written(desk).Should().Be(List);
    }

    /// <summary>What a page shows may be old by the time that something is done to it: the row that was shown is meant, and not what has its line by now.</summary>
    [Fact]
    public async Task A_row_is_known_after_rows_before_it_went_or_came()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var list = Edit(desk);
        var (plate, arm) = (list.View.Rows[0], list.View.Rows[1]);
        list.Remove(plate);
        list.Remove(plate);
        list.Set(plate, 6, "9");
        list.Set(arm, 6, "7");
        Written(desk).Should().Be(List.Replace("base plate,6082-T6,120,80,10,2\n", "", StringComparison.Ordinal).Replace("10,4\n", "10,7\n", StringComparison.Ordinal));
        list.View.Rows.Single().Key.Should().Be(arm.Key);

        // Taken back, both are there again; a new row is a third one.
        list.Undo();
        list.Undo();
        list.View.Rows.Select(row => row.Key).Should().Equal(plate.Key, arm.Key);
        list.Add();
        list.View.Rows.Select(row => row.Key).Should().OnlyHaveUniqueItems().And.StartWith([plate.Key, arm.Key]).And.HaveCount(3);
    }

    [Fact]
    public async Task A_fault_stands_at_its_cell_and_the_other_rows_keep_their_blanks()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        Edit(desk).Set(3, 3, "12O");

        var page = await PageAsync(desk);

        var cell = page.QuerySelector("input[aria-invalid]")!;
        cell.GetAttribute("aria-label").Should().Be("length of base plate");
        cell.GetAttribute("value").Should().Be("12O");
        page.GetElementById(cell.GetAttribute("aria-describedby")!)!.TextContent.Should().Contain("length");
        page.QuerySelectorAll("svg.mini").Should().ContainSingle().Which.GetAttribute("aria-label").Should().StartWith("The blank of arm in ");
        Written(desk).Should().Be(List, "what is refused on the command line is not written");
    }

    [Fact]
    public async Task What_an_editor_changed_meanwhile_is_shown_beside_and_never_lost()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var list = Edit(desk);
        var theirs = List.Replace("300", "310", StringComparison.Ordinal);
        await File.WriteAllTextAsync(Path.Combine(desk.Folder, "lamp", "parts.csv"), theirs);

        list.Set(3, 6, "7");

        Written(desk).Should().Be(theirs);
        var view = list.View;
        view.Status.Should().Contain("another program");
        view.Other.Select(line => line.Text).Should().BeEquivalentTo("arm,6082-T6,310,30,10,4", "base plate,6082-T6,120,80,10,2", "arm,6082-T6,300,30,10,4", "base plate,6082-T6,120,80,10,7");
        list.KeepMine();
        Written(desk).Should().Be(List.Replace("80,10,2", "80,10,7", StringComparison.Ordinal));
        Directory.GetFiles(Path.Combine(desk.Folder, "lamp"), "parts-other-*.csv").Select(File.ReadAllText).Should().Equal(theirs);

        await File.WriteAllTextAsync(Path.Combine(desk.Folder, "lamp", "parts.csv"), theirs);
        Edit(desk).View.Rows[1].Cells[2].Should().Be("310", "where nothing is open here the file is read anew");
        list.Undo();
        Written(desk).Should().Contain("300", "and that can be taken back too");
    }

    [Fact]
    public async Task The_stock_that_serves_and_what_nearly_does_are_told_with_the_cost_of_a_blank()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var view = Edit(desk).View;

        var (serving, _) = view.Rows[0].Fact!.Stocks(view.Job!);

        serving[0].Should().Contain("EUR").And.Contain("saw ");
        serving[0].Should().Contain(view.Rows[0].Fact!.Cost + " each", "the row shows the cheapest");
    }

    [Fact]
    public async Task A_list_outside_the_shop_is_shown_and_not_changed()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var outside = Directory.CreateTempSubdirectory("nest-outside-");
        await File.WriteAllTextAsync(Path.Combine(outside.FullName, "parts.csv"), List);
        await File.WriteAllTextAsync(Path.Combine(desk.Folder, "lamp", "job.toml"), $"name = \"Lamp\"\nparts = '{Path.Combine(outside.FullName, "parts.csv")}'\n");

        var page = await PageAsync(desk);

        page.QuerySelectorAll("input[data-row]").Should().BeEmpty();
        page.Body!.TextContent.Should().Contain(DeskTexts.CannotChangeHere).And.Contain("base plate");
        outside.Delete(recursive: true);
    }

    [Fact]
    public async Task A_long_list_comes_in_pages_below_300_KiB()
    {
        var rows = string.Concat(Enumerable.Range(1, 2000).Select(number => $"part {number},6082-T6,{100 + (number % 50)},80,10,2\n"));
        await using var desk = await OpenDesk.StartAsync(Files[0], ("lamp/parts.csv", "part,material,length,width,thickness,quantity\n" + rows));
        var guest = await desk.GuestAsync();

        var page = await guest.GetByteArrayAsync(Addresses.Parts("lamp") + "?page=2");

        page.Length.Should().BeLessThan(300 * 1024);
        System.Text.Encoding.UTF8.GetString(page).Should().Contain("part 61").And.NotContain("\"part 60\"");
    }

    private static PartsEdit Edit(OpenDesk desk)
    {
        var services = desk.Server.Services;
        return services.GetRequiredService<PartsDesk>().Of(services.GetRequiredService<Shop>().Job("lamp")!, out _).Should().ContainSingle().Subject;
    }

    private static string Written(OpenDesk desk) => File.ReadAllText(Path.Combine(desk.Folder, "lamp", "parts.csv"));

    private static async Task<IDocument> PageAsync(OpenDesk desk)
    {
        var html = await (await desk.GuestAsync()).GetStringAsync(Addresses.Parts("lamp"));
        return await BrowsingContext.New(Configuration.Default).OpenAsync(request => request.Content(html));
    }
}
