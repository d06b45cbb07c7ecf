using AngleSharp;
using AngleSharp.Dom;
using Microsoft.Extensions.DependencyInjection;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Desk.Model;
using Nest.Planning;

namespace Nest.Tests.Desk;

/// <summary>Plans of a job side by side: what differs, what of the difference is proven, and the way back.</summary>
public class DeskVariantsTest
{
    [Fact]
    public async Task A_changed_job_is_a_variant_beside_the_signed_plan_and_one_may_go_back()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        SignedShop.Sign(desk.Folder);
        var services = desk.Server.Services;
        var (room, searches, jobs, job) = (services.GetRequiredService<VariantRoom>(), services.GetRequiredService<Searches>(), services.GetRequiredService<JobDesk>(), services.GetRequiredService<Shop>().Job("lamp")!);
        var before = await File.ReadAllTextAsync(job.File);

        await EndAsync(searches.Start("lamp", jobs.Read(job).Given!, new() { Work = 1000, Threads = 1 }, texts: room.Texts(job)));
        JobText.Change(job, text => text.Replace("batch = 3", "batch = 4", StringComparison.Ordinal)).Should().BeEmpty();
        await EndAsync(searches.Start("lamp", jobs.Read(job).Given!, new() { Work = 1000, Threads = 1 }, texts: room.Texts(job)));

        var variants = room.Of("lamp", job);
        var (first, last) = (variants[^2], variants[^1]);
        VariantRoom.Differences(first.Plan, last.Plan).Should().Equal("4 sets, not 3");
        VariantRoom.Verdict(first, last).Should().StartWith("Variant B against Variant A").And.Contain("They do not make the same pieces");
        var html = await (await desk.GuestAsync()).GetStringAsync(Addresses.Variants("lamp"));
        var page = await BrowsingContext.New(Configuration.Default).OpenAsync(request => request.Content(html));
        page.QuerySelectorAll("thead th").Select(cell => cell.TextContent).Should().Equal(variants.Select(one => one.Name));
        page.QuerySelector("tbody tr")!.TextContent.Should().Contain(OrderView.Amount(first.Plan.TotalCost)).And.Contain(OrderView.Amount(last.Plan.TotalCost));

        room.Take(job, first).Should().BeEmpty();
        (await File.ReadAllTextAsync(job.File)).Should().Be(before);
        searches.Of("lamp")!.Now.Plan.Should().BeSameAs(first.Plan, "it is the one to sign");

        await File.AppendAllTextAsync(job.File, "# my own words\n");
        room.Take(job, last).Should().Contain("was changed", "what a person wrote is not lost");
        (await File.ReadAllTextAsync(job.File)).Should().EndWith("# my own words\n");
    }

    [Fact]
    public void Cheaper_is_proven_only_where_the_bound_of_the_dearer_plan_says_so()
    {
        var plan = SignedShop.Plan with { Bound = Bound.None, Status = SolveStatus.BestFound };
        var dearer = plan with { TotalCost = plan.TotalCost + Money.FromAmount(5m), Bound = Bound.Of(plan.TotalCost + Money.FromAmount(2m), "a test") };
        string Said(Plan other) => VariantRoom.Verdict(new("A", plan with { Bound = Bound.Of(plan.TotalCost - Money.FromAmount(1m), "a test") }, null), new("B", other, null));

        Said(dearer).Should().Contain("costs 5.00 EUR more (proven: at least 2.00 of it remains");
        Said(dearer with { Bound = Bound.Of(plan.TotalCost, "a test") }).Should().Contain("not proven");
        Said(dearer with { Bound = Bound.None }).Should().Contain("not known yet").And.NotContain("--seconds");
    }

    internal static async Task EndAsync(Search search)
    {
        var ended = new TaskCompletionSource();
        using var handle = search.Subscribe(() =>
        {
            if (search.Now.State is SearchState.Done or SearchState.Refused)
            {
                ended.TrySetResult();
            }
        }).Handle;
        if (search.Now.State is SearchState.Waiting or SearchState.Running)
        {
            await ended.Task;
        }
    }
}
