using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using Nest.Desk.Model;
using Nest.Planning;

namespace Nest.Tests.Desk;

/// <summary>Several jobs in one plan on the desk: the figures and sentences of the command line, the way from the page Jobs, and a plan that is written whole.</summary>
public class DeskTogetherTest
{
    [Fact]
    public async Task Ticked_jobs_are_planned_as_one_and_told_what_that_saves()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.WithShelf);
        var services = desk.Server.Services;
        var (room, plans) = (services.GetRequiredService<TogetherRoom>(), services.GetRequiredService<Plans>());
        var guest = await desk.GuestAsync();
        (await guest.GetStringAsync("/")).Should().Contain("action=\"/together\"").And.Contain("name=\"job\" value=\"lamp\"").And.Contain("name=\"job\" value=\"shelf\"");
        (await guest.GetStringAsync("/together?job=lamp")).Should().Contain(DeskTexts.TogetherFew);
        (await guest.GetStringAsync("/together?job=lamp&job=shelf")).Should().Contain("lamp: Sets").And.Contain("shelf: Sets");

        var folders = room.Folders(["shelf", "lamp", "no such job"]);
        folders.Select(folder => (folder.Name, TogetherRoom.SetsOf(folder))).Should().Equal(("lamp", 3), ("shelf", 2));
        (Nest.Desk.Model.JobFolder Folder, int Sets)[] wanted = [(folders[0], 1), (folders[1], 3)];
        var (search, findings) = room.Start(wanted, new() { Work = 300, Threads = 1 });
        findings.Should().BeEmpty();
        await DeskVariantsTest.EndAsync(search!);

        // The same as by the facade, which the command line stands on.
        var joined = TogetherStudy.Join([.. wanted.Select(one => (one.Folder.Name, Planner.Read(one.Folder.File).Value! is var given ? given with { Job = given.Job.ForBatch(one.Sets) } : null!))]).Value!;
        var plan = Planner.Plan(joined, new() { Work = 300, Threads = 1 }).Plan!;
        search!.Now.Plan!.TotalCost.Should().Be(plan.TotalCost);
        search.Told.Should().HaveCountGreaterThan(3);
        search.Told[0].Should().Be(TogetherWords.Shares(plan)).And.Contain("lamp ").And.Contain("(1 set, 6 blanks)").And.Contain("(3 sets, 6 blanks)");
        search.Told.Should().Contain(line => line.StartsWith("Together ", StringComparison.Ordinal)).And.Contain(line => line.StartsWith("Waiting for shelf is worth ", StringComparison.Ordinal));

        var html = await guest.GetStringAsync("/together?job=lamp&job=shelf");
        html.Should().Contain(System.Net.WebUtility.HtmlEncode(search.Told[1])).And.Contain(search.Now.Plan.TotalCost.Amount.ToString("0.00", CultureInfo.InvariantCulture));
        var picture = LayoutCard.Of("lamp+shelf", search.Now.Plan)[0].Picture;
        (await guest.GetStringAsync(picture)).Should().Contain("<svg").And.Contain("bracket", "layouts are drawn with the parts of both jobs, or this one has its own");

        room.Keep(wanted, search, replace: false).Should().StartWith("Written to the folder lamp+shelf-plan");
        Planner.Load(Path.Combine(desk.Folder, "lamp+shelf-plan", "data", "plan.json")).Plan!.TotalCost.Should().Be(plan.TotalCost);
        services.GetRequiredService<Shop>().Jobs().Should().HaveCount(2, "the plan of both is no job of its own");
        plans.Find("lamp+shelf", "another").Should().BeNull();
    }
}
