using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Planning;
using Nest.Tests.Desk;

namespace Nest.Tests.Planning;

/// <summary>What doing without a supplier costs, planned anew: the arms of the lamp from a plate of Ost, its base plates from one of Nord; West lists what Ost does.</summary>
public class OneSupplierFewerTest
{
    private const string Ost = "Ost (invented)";
    private const string West = "West (invented)";
    private const string Nord = "Nord (invented)";
    private static readonly PlanOptions Long = new() { Work = 200_000, Threads = 1 };

    private static Plan Two(bool twin)
    {
        var from = SignedShop.Plan;
        var plate = from.Job.Stocks.First(stock => stock.Id == from.Layouts[0].StockId) with { Supplier = Ost, Available = null, PriceBasis = PriceBasis.Piece, PiecePrice = Money.FromAmount(128), UnitPrice = 128m };
        var dearer = plate with { Id = "twin", Supplier = West, PiecePrice = Money.FromAmount(130), UnitPrice = 130m };
        var job = from.Job with
        {
            Suppliers = [],
            Stocks = [plate, plate with { Id = "other", Supplier = Nord }, .. twin ? [dearer] : (Stock[])[]],
            StockRules = [new() { Parts = ["arm"], Not = ["other"] }, new() { Parts = ["base plate"], Only = ["other"] }],
        };
        var result = Planner.Plan(job, Long with { Work = 5000 });
        result.Plan.Should().NotBeNull(string.Join("; ", result.Findings.Select(finding => finding.Message)));
        return result.Plan!;
    }

    /// <summary>By hand: the same plate costs 2 more at West; nothing else changes, no delivery is paid, but that the worth of kept rests
    /// follows the price of their plate. So it is 2 for each plate at most.</summary>
    [Fact]
    public void The_same_plate_dearer_elsewhere_is_the_most_that_it_costs()
    {
        var plan = Two(twin: true);
        var plates = plan.Orders.Single(order => order.Supplier == Ost).Lines.Sum(line => line.Count);

        var without = OneSupplierFewer.Of(plan, Long);

        without.Single(one => one.Supplier == Nord).OnlyHis.Should().Equal("base plate");
        var found = without.Single(one => one.Supplier == Ost).Plan!;
        found.Orders.Select(order => order.Supplier).Should().BeEquivalentTo([West, Nord]);
        Planner.Check(found).Should().BeEmpty();
        found.TotalCost.Should().BeLessThanOrEqualTo(plan.TotalCost + Money.FromAmount(2 * plates)).And.BeGreaterThanOrEqualTo(plan.Bound.Value!.Value);
    }

    [Fact]
    public void Parts_that_only_he_serves_are_named_and_a_short_search_is_not_asked()
    {
        var plan = Two(twin: false);
        var without = OneSupplierFewer.Of(plan, Long).Single(one => one.Supplier == Ost);
        without.Plan.Should().BeNull();
        without.OnlyHis.Should().Equal("arm");
        OneSupplierFewer.Of(plan, Long with { Work = 2000 }).Should().BeEmpty();
    }
}
