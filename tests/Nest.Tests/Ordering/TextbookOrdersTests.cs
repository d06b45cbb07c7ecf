using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Tests.Makers;

namespace Nest.Tests.Ordering;

/// <summary>Price functions inside the order-quantity examples of textbooks and courses: the yearly cost that the example works out,
/// D·C(Q)/Q + K·D/Q + i·C(Q)/2 with C(Q) from <see cref="PriceTerms.LineCost"/>, must come out as printed.</summary>
public sealed class TextbookOrdersTests
{
    private static PriceTerms AllUnits(params (int From, decimal Price)[] breaks) =>
        new() { Breaks = [.. breaks.Select(step => new PriceBreak(step.From, Money.FromAmount(step.Price)))] };

    private static decimal Yearly(PriceTerms terms, decimal listed, int quantity, decimal demand, decimal orderCost, decimal interest)
    {
        var line = terms.LineCost(Money.FromAmount(listed), quantity).Amount;
        return (demand * line / quantity) + (orderCost * demand / quantity) + (interest * line / 2);
    }

    // Course MGSC 487, "Quantity discounts example" (coursehero.com/file/6315045): demand 1000, set-up 200, holding 25 %, 100 to 100 pieces,
    // 90 from 101, 85 from 301. Printed: C(101) = 93 116.45, C(133) = 93 000.01, C(301) = 88 862.58.
    [Theory]
    [InlineData(101, 93116.45), InlineData(133, 93000.01), InlineData(301, 88862.58)]
    public void All_units_three_prices(int quantity, decimal printed) =>
        Yearly(AllUnits((101, 90), (301, 85)), 100, quantity, 1000, 200, 0.25m).Should().BeApproximately(printed, 0.01m);

    // Problem printed at nursingexpertshelp.com (its textbook is not named): demand 800, order 60, holding 30 %; 53, from 50 pieces 51.50, from 100
    // 49.50, from 200 48, from 500 47. Printed: 79 → 42 417.9, 100 → 40 822.5, 200 → 40 080, 500 → 41 221; best 200.
    [Theory]
    [InlineData(79, 42417.9), InlineData(100, 40822.5), InlineData(200, 40080), InlineData(500, 41221)]
    public void All_units_five_prices(int quantity, decimal printed) =>
        Yearly(AllUnits((50, 51.5m), (100, 49.5m), (200, 48), (500, 47)), 53, quantity, 800, 60, 0.3m).Should().BeApproximately(printed, 0.1m);

    // Nahmias, "Production and Operations Analysis", chapter 4, trash bags (from memory; demand 600 a year, order 8, interest 20 %): all units
    // G(400) = 204, G(500) = 198.10, G(1000) = 200.80: 500 is best. Incremental (the first 500 at 0.30): the least with 0.29 is Q = 519, G = 204.58, and 400 at 0.30 with 204.00
    // stays best.
    [Theory]
    [InlineData(400, 204.00), InlineData(500, 198.10), InlineData(1000, 200.80)]
    public void All_units_trash_bags(int quantity, decimal printed) =>
        Yearly(AllUnits((500, 0.29m), (1000, 0.28m)), 0.30m, quantity, 600, 8, 0.2m).Should().BeApproximately(printed, 0.005m);

    [Fact]
    public void Incremental_trash_bags()
    {
        var terms = AllUnits((501, 0.29m), (1001, 0.28m)) with { Rule = BreakRule.Incremental };
        Yearly(terms, 0.30m, 519, 600, 8, 0.2m).Should().BeApproximately(204.58m, 0.005m);
        Enumerable.Range(501, 500).MinBy(quantity => Yearly(terms, 0.30m, quantity, 600, 8, 0.2m)).Should().Be(519);
    }

    // Carload discount (Nahmias, chapter 4, problem; data at tutorsglobe.com question 52258906): a carload of 500 costs 3 000, single pieces 10.
    // As a break from 500 pieces at 6 each, who may buy more than needed pays min(10 Q, 3 000) up to 500: a carload pays from 300 on.
    [Theory]
    [InlineData(200, 2000, 200), InlineData(299, 2990, 299), InlineData(301, 3000, 500), InlineData(450, 3000, 500), InlineData(500, 3000, 500)]
    public void A_carload_pays_from_300_on(int needed, decimal cost, int bought)
    {
        var terms = AllUnits((500, 6));
        var best = Enumerable.Range(needed, 501 - needed).MinBy(count => terms.LineCost(Money.FromAmount(10), count));
        best.Should().Be(bought);
        terms.LineCost(Money.FromAmount(10), best).Amount.Should().Be(cost);
    }

    // Freight and smallest order, worked by hand after the freight-threshold exercises of Silver, Pyke, Thomas, "Inventory and Production
    // Management in Supply Chains" (rule from memory): plates at 40, smallest order 100, delivery 24, free from 200.
    // 1: 40 + 60 up to the smallest order + 24; 2: 80 + 20 + 24; 3: 120 + 24; 4: 160 + 24; 5: 200, free. So 5 cost 16 more than 4, not 40.
    [Theory]
    [InlineData(1, 124), InlineData(2, 124), InlineData(3, 144), InlineData(4, 184), InlineData(5, 200), InlineData(6, 240)]
    public void Freight_threshold_and_smallest_order(int count, decimal total)
    {
        var job = JobMaker.Job([JobMaker.Part("P", 100, 40, 10, 1)], [JobMaker.Plate("plate", 1000, 500, 15, 40)]) with
        {
            Suppliers =
            [
                new() { Name = "Invented Metals", MinimumOrder = Money.FromAmount(100), Delivery = Money.FromAmount(24), FreeDeliveryFrom = Money.FromAmount(200) },
            ],
        };
        Purchasing.Orders(job, new Dictionary<string, int> { ["plate"] = count }).Single().Total.Amount.Should().Be(total);
    }
}
