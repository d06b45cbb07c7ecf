using System.Net;
using AngleSharp;
using AngleSharp.Dom;
using Nest.Desk.Model;

namespace Nest.Tests.Desk;

/// <summary>What the pages say, as they come from the server.</summary>
public class DeskPagesTest
{
    private const string Parts = "part,material,length,width,thickness,quantity\nbase plate,6082-T6,120,80,10,2\n";

    private static readonly (string Name, string Text)[] Shop =
    [
        ("lamp/job.toml", "name = \"Lamp arm\"\nunit = \"mm\"\nbatch = 3\nparts = \"parts.csv\"\n"), ("lamp/parts.csv", Parts),
        ("broken/job.toml", "name = \"Broken\"\nparts = \"none.csv\"\n"), ("notes/readme.txt", "no job here"),
    ];

    [Fact]
    public async Task The_jobs_are_the_folders_with_a_job_file()
    {
        await using var desk = await OpenDesk.StartAsync(Shop);

        var page = await PageAsync(desk, "/");

        page.QuerySelectorAll("tbody th").Select(cell => cell.TextContent).Should().Equal("broken", "Lamp arm");
        page.QuerySelector("tbody")!.TextContent.Should().Contain("the files are refused").And.Contain("not planned yet");
    }

    [Fact]
    public async Task The_parts_show_finished_size_blank_and_stock()
    {
        await using var desk = await OpenDesk.StartAsync(Shop);

        var page = await PageAsync(desk, Addresses.Parts("lamp"));

        page.QuerySelector("h1")!.TextContent.Should().Be("Lamp arm");
        page.QuerySelector("caption")!.TextContent.Should().Contain("1 parts, 3 sets, 6 pieces");
        page.QuerySelectorAll("tbody input").Select(cell => cell.GetAttribute("value")).Should().Equal("base plate", "6082-T6", "120", "80", "10", "2");
        page.QuerySelector("tbody")!.TextContent.Should().Contain("123 × 83", "the blank has its allowance");
    }

    [Fact]
    public async Task Faults_of_the_files_are_shown_with_their_place()
    {
        await using var desk = await OpenDesk.StartAsync(Shop);

        var page = await PageAsync(desk, Addresses.Plan("broken"));

        page.QuerySelector(".findings .error")!.TextContent.Should().Contain("none.csv");
    }

    [Fact]
    public async Task The_saws_of_all_jobs_are_told_once_and_one_machine_with_two_kerfs_is_doubted()
    {
        (string, string) Saws(string job, string kerf) => ($"{job}/saws.toml", $"[[saw]]\nname = \"old iron\"\nkind = \"bar saw\"\nkerf = {kerf}\ntrim_left = 8\nshortest_held = 60\nlargest_cut = 250\nlongest_stock = \"3.2 m\"\n");
        (string, string)[] files = [.. new[] { "a", "b", "c" }.SelectMany(job => new[] { ($"{job}/job.toml", "unit = \"mm\"\nparts = \"parts.csv\"\nsaws = \"saws.toml\"\n"), ($"{job}/parts.csv", Parts), Saws(job, job == "c" ? "2" : "1.5") })];
        await using var desk = await OpenDesk.StartAsync([.. files, ("broken/job.toml", "parts = \"none.csv\"\n")]);

        var page = await PageAsync(desk, "/saws");

        page.QuerySelectorAll("tbody tr").Select(row => string.Join(" | ", row.Children.Select(cell => cell.TextContent.Replace('\u00A0', ' ')))).Should().Equal(
            "old iron (bar saw) | 1.5 mm | 8 mm left, 0 mm right | must hold 60 mm; bars up to 250 mm wide; stock up to 3200 mm long | 0 a cut, 0 a setting, 0 to load | a, b",
            "old iron (bar saw) | 2 mm | 8 mm left, 0 mm right | must hold 60 mm; bars up to 250 mm wide; stock up to 3200 mm long | 0 a cut, 0 a setting, 0 to load | c");
        page.QuerySelector("[role=alert]")!.TextContent.Trim().Should().StartWith("old iron: 1.5 mm in a, b; 2 mm in c.").And.EndWith(DeskTexts.OneKerf);
        page.Body!.TextContent.Should().Contain($"{DeskTexts.SawsUnread}: broken");
    }

    [Fact]
    public async Task Hostile_names_are_text()
    {
        await using var desk = await OpenDesk.StartAsync(("a/job.toml", "name = \"<script>alert(1)</script>\"\nparts = \"parts.csv\"\n"), ("a/parts.csv", Parts));

        var guest = await desk.GuestAsync();
        var html = await guest.GetStringAsync("/");

        html.Should().Contain("&lt;script&gt;alert(1)").And.NotContain("<script>alert(1)");
    }

    [Fact]
    public async Task A_job_that_is_not_there_says_so()
    {
        await using var desk = await OpenDesk.StartAsync(Shop);

        (await PageAsync(desk, Addresses.Plan("nothing"))).Body!.TextContent.Should().Contain(DeskTexts.NoSuchJob);
    }

    [Fact]
    public async Task Nothing_is_asked_of_any_other_server_and_the_page_is_small()
    {
        await using var desk = await OpenDesk.StartAsync(Shop);
        var guest = await desk.GuestAsync();

        var page = await PageAsync(desk, "/");
        var addresses = page.QuerySelectorAll("[src],link[href]").Select(element => element.GetAttribute("src") ?? element.GetAttribute("href")!).ToList();
        var bytes = (await guest.GetByteArrayAsync("/")).Length;
        foreach (var address in addresses.Where(address => !address.StartsWith("data:", StringComparison.Ordinal)))
        {
            address.Should().StartWith("/");
            bytes += (await guest.GetByteArrayAsync(address)).Length;
        }

        bytes.Should().BeLessThan(300 * 1024);
    }

    private static async Task<IDocument> PageAsync(OpenDesk desk, string path)
    {
        var guest = await desk.GuestAsync();
        var answer = await guest.GetAsync(path);
        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        return await BrowsingContext.New(Configuration.Default).OpenAsync(async request => request.Content(await answer.Content.ReadAsStringAsync()));
    }
}
