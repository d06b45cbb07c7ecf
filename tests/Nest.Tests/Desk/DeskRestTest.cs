using System.Net;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Desk.Model;
using Nest.Planning;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Tests.Desk;

/// <summary>After a miscut the rest is planned anew at the saw, and takes the plan's place on the rack and in the job's folder.</summary>
public class DeskRestTest
{
    [Fact]
    public async Task After_a_miscut_the_rest_is_planned_anew_and_takes_the_plans_place()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        await File.AppendAllTextAsync(Path.Combine(desk.Folder, "lamp", "job.toml"), "[limits]\nseconds = 0.2\n");
        SignedShop.Sign(desk.Folder, onRack: true, whole: true);
        var phone = await desk.DeviceAsync();
        var saw = $"/saw/lamp/{SignedShop.Mark}";
        var layout = CutSequencer.Order(SignedShop.Plan).Items.First().Layout;
        var miscut = OpenDesk.Fields(await phone.GetStringAsync($"{saw}/miscut/{layout}"));
        miscut["note"] = "slipped";
        for (var at = 0; at < SignedShop.Plan.Layouts.First(one => one.Number == layout).Pieces.Select(piece => piece.PartId).Distinct().Count(); at++)
        {
            miscut[$"good{at}"] = "0";
        }

        var booked = await (await OpenDesk.PostAsync(phone, $"{saw}/miscut/{layout}", miscut)).Content.ReadAsStringAsync();
        booked.Should().Contain(DeskTexts.PlanRest).And.Contain("Still to make");

        // The plate that went wrong was the only one to buy: it counts as come, so nothing can be ordered twice and nothing is asked.
        var form = OpenDesk.Fields(booked);
        form.Should().NotContainKey("notOrdered");
        (await OpenDesk.PostAsync(phone, saw + "/rest", form)).StatusCode.Should().Be(HttpStatusCode.Redirect);
        var page = await phone.GetStringAsync(saw + "/rest");
        for (var tries = 0; tries < 600 && !page.Contains(DeskTexts.TakeRest, StringComparison.Ordinal); tries++)
        {
            await Task.Delay(100);
            page = await phone.GetStringAsync(saw + "/rest");
        }

        var taken = await OpenDesk.PostAsync(phone, saw + "/rest/take", OpenDesk.Fields(page));

        taken.StatusCode.Should().Be(HttpStatusCode.Redirect, "{0}", await taken.Content.ReadAsStringAsync());
        var saved = Planner.Load(Path.Combine(desk.Folder, "lamp", "plan", "data", "plan.json")).Plan!;
        taken.Headers.Location!.ToString().Should().Be(Addresses.Tablet("lamp", Fingerprint.Of(saved)));
        (await phone.GetAsync(taken.Headers.Location)).StatusCode.Should().Be(HttpStatusCode.OK);
        (await phone.GetAsync(saw)).StatusCode.Should().Be(HttpStatusCode.NotFound, "it is not the signed plan any more");
        using var rack = RackStore.Open(Path.Combine(desk.Folder, "rack.db"));
        rack.Plan(1).State.Should().Be(PlanState.Replaced);
        rack.Plan(2).Continues.Should().Be(1);
        rack.Find(saved)!.Id.Should().Be(2);
        rack.Check().Should().BeEmpty();
    }

    [Fact]
    public async Task Without_a_miscut_the_desk_offers_no_new_plan_and_a_plan_that_is_not_on_the_rack_has_no_rest()
    {
        await using var desk = await OpenDesk.SharedAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        var phone = await desk.DeviceAsync();

        (await phone.GetAsync($"/saw/lamp/{SignedShop.Mark}/rest")).StatusCode.Should().Be(HttpStatusCode.NotFound);
        SignedShop.Sign(desk.Folder, onRack: true);
        (await (await desk.GuestAsync()).GetStringAsync(Addresses.Saw("lamp"))).Should().NotContain(DeskTexts.PlanRest);
    }
}
