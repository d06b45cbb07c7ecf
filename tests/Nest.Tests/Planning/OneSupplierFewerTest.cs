using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Planning;
using Nest.Tests.Desk;

namespace Nest.Tests.Planning;

/// <summary>What doing without a supplier costs, planned anew.</summary>
public class OneSupplierFewerTest
{
    private static readonly PlanOptions Options = new() { Work = 200_000, Threads = 1 };

    private static Plan Two(Func<Stock, IEnumerable<Stock>> others)
    {
        var from = SignedShop.Plan;
        Stock[] used = [.. from.Job.Stocks.Where(stock => from.Orders.Any(order => order.Lines.Any(line => line.StockId == stock.Id)))];
        used.Should().HaveCountGreaterThan(1, "one piece of stock for each of two suppliers");
        var his = used.Select((stock, at) => stock with { Supplier = at == 0 ? "Ost (invented)" : "West (invented)", Available = null }).ToArray();
        var job = from.Job with { Suppliers = [], Stocks = [.. his, .. others(his[0])] };
        return Planner.Plan(job, Options).Plan!;
    }

    /// <summary>By hand: West lists the same size for 2 more a piece, nothing else serves, and there is neither delivery nor break; so each piece costs 2
    /// more. The worth of kept rests follows the price of their stock, so it can only become less than that.</summary>
    [Fact]
    public void What_the_same_size_costs_more_elsewhere_is_the_most_that_it_costs()
    {
        var plan = Two(stock => [stock with { Id = stock.Id + "-west", Supplier = "West (invented)", PiecePrice = stock.PiecePrice + Money.FromAmount(2) }]);
        var pieces = plan.Orders.Single(order => order.Supplier == "Ost (invented)").Lines.Sum(line => line.Count);

        var without = OneSupplierFewer.Of(plan, Options).Single(one => one.Supplier == "Ost (invented)");

        without.Plan!.Orders.Should().OnlyContain(order => order.Supplier == "West (invented)");
        Planner.Check(without.Plan).Should().BeEmpty();
        (without.Plan.TotalCost - plan.TotalCost).Should().BeInRange(Money.Zero, Money.FromAmount(2 * pieces));
    }

    [Fact]
    public void Parts_that_only_he_serves_are_named()
    {
        var without = OneSupplierFewer.Of(Two(_ => []), Options).Single(one => one.Supplier == "Ost (invented)");
        without.Plan.Should().BeNull();
        without.OnlyHis.Should().NotBeEmpty();
    }

    [Fact]
    public void A_short_search_is_not_asked()
    {
        OneSupplierFewer.Of(Two(_ => []), Options with { Work = 2000 }).Should().BeEmpty();
    }
}
