using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Output;
using Nest.Output.Orders;
using Nest.Output.Sheets;
using Nest.Solve;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Costing;

/// <summary>What fuss costs, worked by hand: loading, order lines, suppliers, further sizes of a part's blanks.</summary>
public sealed class FussTest
{
    // 45 an hour: a line of 4 minutes 3.00, a supplier of 20 minutes 15.00. Mill 60 an hour: a further size of 25 minutes 25.00.
    private static readonly Fuss Some = new() { HourlyRate = 45, OrderLineMinutes = 4, SupplierMinutes = 20, FurtherSizeMinutes = 25 };

    private static readonly Part Lug = Part("lug", 300, 42, 10, 4, Forms.FlatBar) with { MayTurn = false };

    // Blanks 302 long: three on a bar of 1 000 less two trims of 10.
    private static Job Bars(params Stock[] stocks) => Job([Lug], stocks) with
    {
        Mill = new() { HourlyRate = 60, DefaultRemovalRate = 60 },
        OffcutRules = [],
        Fuss = Some,
        Saws = [BarSaw with { LoadMinutes = 6, HourlyRate = 40 }, PlateSaw],
    };

    private static Stock Rack(Stock stock) => stock with { RackMark = "B1", Supplier = null, Available = 1 };

    /// <summary>Two bars, one line of one supplier, a further size: 8.00 of loading, 18.00 of ordering, 25.00 of further sizes.</summary>
    internal static Plan Sample() => Planned(Bars(Rack(Bar("old", 50, 20, 1000, 5)), Bar("new", 50, 25, 400, 9)));

    private static Plan Planned(Job job)
    {
        var blanks = BlankSizer.Size(job);
        var plan = JobSolver.Solve(job, blanks, new() { Seconds = 60, Work = 20_000, Threads = 1 });
        plan = plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
        PlanChecker.Check(plan).Should().BeEmpty();
        return plan;
    }

    [Fact]
    public void Loading_lines_suppliers_and_sizes_are_charged_once_each()
    {
        // Four lugs: the only bar of 50 × 20 on the rack gives three, the fourth comes from a bought bar of 50 × 25: another size.
        var plan = Sample();

        var fuss = FussCosts.Of(plan.Job, plan.Layouts);
        fuss.Loading.Amount.Should().Be(2 * 4m, "two bars of 6 minutes at 40 an hour");
        fuss.Orders.Amount.Should().Be(3m + 15m, "one line, one supplier");
        fuss.FurtherSizes.Amount.Should().Be(25m, "50 × 20 and 50 × 25");
        var without = plan.Job with { Fuss = Fuss.None, Saws = [BarSaw, PlateSaw] };
        (plan.TotalCost - Planned(without with { Parts = [Lug] }).TotalCost).Amount.Should().Be(8m + 18m + 25m, "there is no other way to cut four");
        plan.Status.Should().Be(SolveStatus.Proven, "the bound counts it too");
    }

    [Fact]
    public void A_further_size_is_left_where_it_costs_more_than_it_saves()
    {
        // The rack's three are nearly free; a bar of 25 gives the fourth. For 25.00 more at the mill two bars of 25 for all four are cheaper.
        var stocks = new[] { Rack(Bar("old", 50, 20, 1000, 1)), Bar("new", 50, 25, 1000, 12) };
        Planned(Bars(stocks)).Layouts.Select(layout => layout.StockId).Distinct().Should().Equal("new");
        Planned(Bars(stocks) with { Fuss = Some with { FurtherSizeMinutes = 0 } }).Layouts.Select(layout => layout.StockId).Should().Contain("old");
    }

    [Fact]
    public void A_second_supplier_and_a_second_line_must_be_worth_it()
    {
        // The fourth lug from a short bar saves 3.00 against a second long one, less 1.60 of scrap; Owl sells it 2.00 cheaper. A second line
        // costs 3.00, a second supplier 15.00.
        var job = Bars(Bar("long", 50, 20, 1000, 30), Bar("short", 50, 20, 400, 27), Bar("cheap", 50, 20, 400, 25) with { Supplier = "Owl (invented)" });
        string[] Bought(Fuss fuss) => [.. Planned(job with { Fuss = fuss }).Orders.SelectMany(order => order.Lines).Select(line => line.StockId).Order(StringComparer.Ordinal)];
        Bought(Some).Should().Equal("long");
        Bought(Some with { OrderLineMinutes = 0 }).Should().Equal("long", "short");
        Bought(Fuss.None).Should().Equal("cheap", "long");
    }

    [Fact]
    public void The_checker_works_it_out_again_and_the_file_keeps_it()
    {
        var plan = Sample();
        foreach (var job in new[]
        {
            plan.Job with { Fuss = Some with { OrderLineMinutes = 5 } }, plan.Job with { Fuss = Some with { SupplierMinutes = 21 } },
            plan.Job with { Fuss = Some with { FurtherSizeMinutes = 26 } },
        })
        {
            PlanChecker.Check(plan with { Job = job }).Select(finding => finding.Rule).Should().Contain("total-cost");
        }

        PlanChecker.Check(plan with { Job = plan.Job with { Saws = [plan.Job.Saws[0] with { LoadMinutes = 7 }, PlateSaw] } })
            .Select(finding => finding.Rule).Should().Contain("cost-saw");

        var text = PlanFile.ToText(plan);
        text.Should().Contain("\"loading\": 8,").And.Contain("\"ordering\": 18,").And.Contain("\"furtherSizes\": 25,").And.Contain("\"loadMinutes\": 6");
        var path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            PlanFile.ToText(PlanFile.Read(path).Value!).Should().Be(text);
            File.WriteAllText(path, text.Replace("\"furtherSizes\": 25,", "\"furtherSizes\": 20,", StringComparison.Ordinal));
            PlanFile.Read(path).Findings.Should().Contain(finding => finding.Message.Contains("furtherSizes does not follow", StringComparison.Ordinal));
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void The_sheets_name_it()
    {
        var plan = Sample();
        var steps = Cash.Of(new SheetContext(plan, new OutputOptions())).Steps.ToDictionary(step => step.Label, step => step.Amount, StringComparer.Ordinal);
        steps["fetching, loading and labelling stock"].Should().Be(8m);
        steps["work with order lines and suppliers"].Should().Be(18m);
        steps["setting the mill up for further sizes of a part"].Should().Be(25m);
    }

    // Two plates of 15 and 20 serve; what is bought by the piece of 15 is short for all.
    [Fact]
    public void A_part_keeps_to_one_stock_or_one_size_where_that_is_asked()
    {
        var lug = Part("lug", 180, 90, 10, 7, Forms.Plate);
        Job Plates(Part part) => Job(
            [part],
            [
                Plate("rack-a", 420, 220, 15, 2, 1) with { RackMark = "A", Supplier = null, Heat = "H1" },
                Plate("rack-b", 420, 220, 20, 2, 1) with { RackMark = "B", Supplier = null },
                Plate("new-15", 500, 420, 15, 40), Plate("new-20", 500, 420, 20, 41),
            ]);

        string[] From(Part part) => [.. Planned(Plates(part)).Layouts.Select(layout => layout.StockId).Distinct().Order(StringComparer.Ordinal)];
        From(lug).Should().Equal("rack-a", "rack-b");
        From(lug with { OneSize = true }).Should().Equal("new-15", "rack-a");
        From(lug with { OneStock = true }).Should().Equal("new-15");

        var free = Planned(Plates(lug));
        PlanChecker.Check(free with { Job = free.Job with { Parts = [lug with { OneSize = true }] } }).Select(finding => finding.Rule).Should().Equal("one-size");
        PlanChecker.Check(free with { Job = free.Job with { Parts = [lug with { OneStock = true }] } }).Select(finding => finding.Rule).Should().Equal("one-stock");
        PlanChecker.Check(free with { Job = free.Job with { Parts = [lug with { Certificate = true }] } }).Select(finding => finding.Rule).Should().Equal("no-certificate");

        // Heat H1 is known of A alone; the supplier gives none.
        Planned(Plates(lug with { Certificate = true, Quantity = 4 })).Layouts.Select(layout => layout.StockId).Should().Equal("rack-a");
    }
}
