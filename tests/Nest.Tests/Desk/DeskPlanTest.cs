using AngleSharp;
using AngleSharp.Dom;
using Microsoft.Extensions.DependencyInjection;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Desk.Model;
using Nest.Planning;
using Nest.Rack;

namespace Nest.Tests.Desk;

/// <summary>What is changed on the plan's page stands in the job's own file, and the rack's leftovers are planned with.</summary>
public class DeskPlanTest
{
    [Fact]
    public async Task The_page_offers_what_may_be_changed_and_names_what_is_left_out()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        var stock = SignedShop.Plan.StockOf(SignedShop.Plan.Layouts[0]);
        var job = JobOf(desk);
        JobText.Change(job, text => Nest.Data.Toml.TomlText.Listed(text, "leave_out", stock.Id, true)).Should().BeEmpty();

        var html = await (await desk.GuestAsync()).GetStringAsync(Addresses.Plan("lamp"));
        var page = await BrowsingContext.New(Configuration.Default).OpenAsync(request => request.Content(html));

        page.QuerySelectorAll(".change input[type=number]").Should().HaveCount(3, "two quantities and the most suppliers");
        page.QuerySelector($"button[aria-label='{DeskTexts.AllowAgain} {stock.Id}']").Should().NotBeNull();
        page.QuerySelectorAll(".layouts input[type=checkbox]").Length.Should().Be(SignedShop.Plan.Layouts.Count(layout => layout.SawId != Saw.SupplierId && layout.Pieces.Length > 0));
        Planner.Read(job.File).Value!.Job.StockRules.Should().ContainSingle().Which.Not.Should().Equal(stock.Id);
    }

    [Fact]
    public async Task A_job_file_that_is_broken_is_left_alone()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        var job = JobOf(desk);
        await File.AppendAllTextAsync(job.File, "this is = = no setting\n");
        var before = await File.ReadAllTextAsync(job.File);

        JobText.Change(job, text => text + "x").Should().Contain("mended first");

        (await File.ReadAllTextAsync(job.File)).Should().Be(before);
    }

    [Fact]
    public async Task A_job_is_planned_with_the_free_leftovers_of_the_shops_rack()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        var jobs = desk.Server.Services.GetRequiredService<JobDesk>();
        jobs.Read(JobOf(desk)).Given!.Job.Stocks.Should().NotContain(stock => stock.IsLeftover);
        string mark;
        using (var rack = RackStore.Open(Path.Combine(desk.Folder, "rack.db")))
        {
            rack.Learn(SignedShop.Plan.Job.Materials);
            mark = rack.Add(new RackPiece
            {
                Form = Form.Plate, MaterialId = "6082-T6", Length = Length.FromMillimetres(600m), Width = Length.FromMillimetres(400m), Thickness = Length.FromMillimetres(15m), Value = Money.FromAmount(9m),
            }).Mark;
        }

        jobs.Read(JobOf(desk)).Given!.Job.Stocks.Where(stock => stock.IsLeftover).Should().ContainSingle().Which.RackMark.Should().Be(mark);
        await File.WriteAllTextAsync(JobOf(desk).File, (await File.ReadAllTextAsync(JobOf(desk).File)).Replace("batch = 3", $"batch = 3\nuse_first = [\"{mark}\"]", StringComparison.Ordinal));
        jobs.Read(JobOf(desk)).Given!.Job.Stocks.Single(stock => stock.IsLeftover).UseFirst.Should().BeTrue();
    }

    [Fact]
    public async Task A_rule_by_age_that_finds_no_day_of_entry_is_told_on_the_plans_page()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        var job = JobOf(desk);
        await File.WriteAllTextAsync(Path.Combine(Path.GetDirectoryName(job.File)!, "rack.csv"), "mark,form,material,thickness,width,length,value\nA,plate,6082-T6,15,400,600,9\n");
        await File.WriteAllTextAsync(job.File, (await File.ReadAllTextAsync(job.File)).Replace("batch = 3", "batch = 3\nrack = \"rack.csv\"\nuse_first_older_than_days = 30", StringComparison.Ordinal));

        desk.Server.Services.GetRequiredService<JobDesk>().Read(job).Findings.Should().ContainSingle().Which.Rule.Should().Be("leftovers-without-day");
        (await (await desk.GuestAsync()).GetStringAsync(Addresses.Plan("lamp"))).Should().Contain("so none goes first by its age");
    }

    [Fact]
    public async Task Planned_again_a_plan_is_shown_while_the_search_goes_on()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        var services = desk.Server.Services;
        var given = services.GetRequiredService<JobDesk>().Read(JobOf(desk)).Given!;
        var shown = new List<bool>();
        var ended = new TaskCompletionSource();

        var search = services.GetRequiredService<Searches>().Start("lamp", given, new() { Work = 1000, Threads = 1 }, SignedShop.Plan);
        using var handle = search.Subscribe(() =>
        {
            var now = search.Now;
            shown.Add(now is { State: SearchState.Running, Plan: not null });
            if (now.State is SearchState.Done or SearchState.Refused)
            {
                ended.TrySetResult();
            }
        }).Handle;
        if (search.Now.State is SearchState.Waiting or SearchState.Running)
        {
            await ended.Task;
        }

        search.Now.Plan!.TotalCost.Should().BeLessThanOrEqualTo(SignedShop.Plan.TotalCost, "the plan that is there counts too");
        shown.Should().Contain(true);
    }

    private static JobFolder JobOf(OpenDesk desk) => desk.Server.Services.GetRequiredService<Shop>().Job("lamp")!;
}
