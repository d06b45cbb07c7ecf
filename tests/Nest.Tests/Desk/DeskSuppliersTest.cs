using Microsoft.Extensions.DependencyInjection;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Toml;
using Nest.Desk.Model;
using Nest.Planning;
using Nest.Solve;

namespace Nest.Tests.Desk;

/// <summary>One supplier fewer in the desk's folder: what it would cost stands on the sheets, and as a limit in the job file it is kept.</summary>
public class DeskSuppliersTest
{
    // Invented. Ost sells the bar cheaper, Nord alone has the plate; Nord's bar serves too.
    private const string Metal = """
        id,form,material,thickness,width,length,price,supplier
        ost-bar,flat bar,6082-T6,15,40,3000,40,Ost (invented)
        nord-bar,flat bar,6082-T6,15,40,3000,52,Nord (invented)
        nord-plate,plate,6082-T6,12,500,500,60,Nord (invented)

        """;

    private static readonly (string Name, string Text)[] Files =
    [
        ("lamp/job.toml", "name = \"Lamp arm\"\nparts = \"parts.csv\"\ncatalogue = \"metal.csv\"\nsaws = \"starter\"\n[[offcuts]]\nkeep_length = 3000\nkeep_width = 3000\nfraction = 0\nleftover_fraction = 0\n"),
        ("lamp/metal.csv", Metal),
        ("lamp/parts.csv", "part,material,length,width,thickness,quantity,forms\nbase plate,6082-T6,120,80,10,2,plate\narm,6082-T6,300,30,10,4,flat bar\n"),
    ];

    [Fact]
    public async Task What_it_costs_is_told_and_as_a_limit_it_is_kept()
    {
        await using var desk = await OpenDesk.StartAsync(Files);
        var services = desk.Server.Services;
        var (job, searches) = (services.GetRequiredService<Shop>().Job("lamp")!, services.GetRequiredService<Searches>());
        JobInput Given() => services.GetRequiredService<JobDesk>().Read(job).Given!;

        var search = searches.Start("lamp", Given(), new() { Work = 200_000, Threads = 1 });
        await DeskVariantsTest.EndAsync(search);
        var plan = search.Now.Plan!;
        plan.Orders.Select(order => order.Supplier).Should().BeEquivalentTo("Ost (invented)", "Nord (invented)");
        var fewer = search.Without.Single(one => one.Supplier == "Ost (invented)").Plan!;
        (fewer.TotalCost - plan.TotalCost).Should().BeGreaterThan(Money.Zero).And.BeLessThanOrEqualTo(Money.FromAmount(12m), "by hand: the bar is 12 dearer at Nord, and nothing else changes");
        search.Without.Single(one => one.Supplier == "Nord (invented)").OnlyHis.Should().Equal("base plate");

        PlanKeeper.Keep(plan, job, Given(), services.GetRequiredService<Plans>().WorkOf(plan), null, false, search.Without).Problem.Should().BeEmpty();
        Planner.Load(Path.Combine(job.Output, "data", "plan.json")).Plan!.TotalCost.Should().Be(plan.TotalCost);

        // The page writes the limit into the job file; planned again there is one order.
        JobText.Change(job, text => TomlText.With(text, "most_suppliers", "1")).Should().BeEmpty();
        var again = searches.Start("lamp", Given(), new() { Work = 2000, Threads = 1 });
        await DeskVariantsTest.EndAsync(again);
        again.Now.Plan!.Orders.Should().ContainSingle().Which.Supplier.Should().Be("Nord (invented)");
        again.Now.Plan.TotalCost.Should().Be(fewer.TotalCost);
    }

    /// <summary>By hand: from 775.92 − 7.45 to 900.07 + 7.45, that is 6 % of room on both sides, the multiples of 50 are 800, 850 and 900.</summary>
    [Fact]
    public void The_charts_marks_are_round_amounts() =>
        Chart.Of([new SolveProgress(1, Money.FromAmount(900.07m), Bound.Of(Money.FromAmount(775.92m), "a test"), true)], 5)!.Marks.Select(mark => mark.Text).Should().Equal("800", "850", "900");
}
