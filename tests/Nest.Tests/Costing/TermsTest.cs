using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

/// <summary>Lines, orders and the worth of metal, worked by hand. All-units and incremental discounts as in textbooks on inventory
/// (Silver, Pyke, Thomas, "Inventory and Production Management in Supply Chains").</summary>
public sealed class TermsTest
{
    private static readonly PriceTerms Breaks = new() { Breaks = [new(3, Money.FromAmount(9)), new(6, Money.FromAmount(7))] };

    [Theory]
    [InlineData(BreakRule.AllUnits, 0, 0)]
    [InlineData(BreakRule.AllUnits, 2, 20)]
    [InlineData(BreakRule.AllUnits, 3, 27)]
    [InlineData(BreakRule.AllUnits, 5, 45)]
    [InlineData(BreakRule.AllUnits, 6, 42)]
    [InlineData(BreakRule.Incremental, 0, 0)]
    [InlineData(BreakRule.Incremental, 2, 20)]
    [InlineData(BreakRule.Incremental, 3, 29)]
    [InlineData(BreakRule.Incremental, 5, 47)]
    [InlineData(BreakRule.Incremental, 6, 54)]
    [InlineData(BreakRule.Incremental, 8, 68)]
    public void A_line_costs_what_its_breaks_say(BreakRule rule, int count, int cost)
    {
        var ten = Money.FromAmount(10);
        (Breaks with { Rule = rule }).LineCost(ten, count).Should().Be(Money.FromAmount(cost));
        (Breaks with { Rule = rule, LineMinimum = Money.FromAmount(29) }).LineCost(ten, count)
            .Should().Be(Money.FromAmount(count == 0 ? 0 : Math.Max(cost, 29)), "nothing bought costs nothing");
    }

    [Fact]
    public void Terms_are_plain_without_breaks_and_minimum()
    {
        PriceTerms.None.IsPlain.Should().BeTrue();
        Breaks.IsPlain.Should().BeFalse();
        (PriceTerms.None with { LineMinimum = Money.FromUnits(1) }).IsPlain.Should().BeFalse();
        PriceTerms.None.LowestPrice(Money.FromAmount(10)).Should().Be(Money.FromAmount(10));
        Breaks.LowestPrice(Money.FromAmount(10)).Should().Be(Money.FromAmount(7));
        Breaks.LowestPrice(Money.FromAmount(6)).Should().Be(Money.FromAmount(6));
    }

    [Fact]
    public void An_order_pays_up_to_the_smallest_and_delivery_below_the_free_threshold()
    {
        var supplier = new Supplier { Name = "North", MinimumOrder = Money.FromAmount(50), Delivery = Money.FromAmount(12), FreeDeliveryFrom = Money.FromAmount(60) };
        Stock[] stocks =
        [
            Plate("a", 2000, 1000, 15, 30) with { Supplier = "North" }, Plate("b", 2000, 1000, 12, 20) with { Supplier = "north" },
            Plate("c", 2000, 1000, 10, 5) with { Supplier = "South" }, Leftover("R1", 600, 400, 15),
        ];
        var job = Job([], [.. stocks]) with { Suppliers = [supplier] };

        Order Of(int a, int b) => Purchasing.Orders(job, new Dictionary<string, int> { ["a"] = a, ["b"] = b, ["R1"] = 1 }).Single();
        Amounts(Of(1, 0)).Should().Be((30m, 20m, 12m, 62m), "30.00 pays up to 50.00, which is below 60.00");
        Amounts(Of(1, 1)).Should().Be((50m, 0m, 12m, 62m));
        Amounts(Of(0, 3)).Should().Be((60m, 0m, 0m, 60m), "60.00 is delivered free");
        Of(1, 0).Terms.Should().Be(Money.FromAmount(32));
        Of(1, 1).Supplier.Should().Be("North");
        Of(2, 1).Lines.Select(line => (line.StockId, line.Count, line.Listed.Amount, line.Cost.Amount)).Should().Equal(("a", 2, 60m, 60m), ("b", 1, 20m, 20m));

        // Free where goods and what is paid up to the minimum reach the threshold.
        var generous = job with { Suppliers = [supplier with { FreeDeliveryFrom = Money.FromAmount(50) }] };
        Amounts(Purchasing.Orders(generous, new Dictionary<string, int> { ["a"] = 1 }).Single()).Should().Be((30m, 20m, 0m, 50m));
        Purchasing.Orders(job, new Dictionary<string, int> { ["c"] = 2, ["a"] = 1 }).Select(order => (order.Supplier, order.Total.Amount)).Should().Equal(("North", 62m), ("South", 10m));
        Purchasing.Orders(job, new Dictionary<string, int> { ["R1"] = 1, ["a"] = 0 }).Should().BeEmpty("what lies on the rack is not bought");

        static (decimal, decimal, decimal, decimal) Amounts(Order order) => (order.Goods.Amount, order.TopUp.Amount, order.Delivery.Amount, order.Total.Amount);
    }

    [Fact]
    public void Metal_is_worth_what_the_rule_of_offcuts_says_and_never_less_than_its_scrap()
    {
        // 2 m × 1 m × 15 mm of 2 700 kg/m³ are 81 kg, at 1.20 97.20 of scrap; 0.6 of 200.00 is 120.00, and of a leftover 0.9.
        var plate = Plate("plate", 2000, 1000, 15);
        var job = Job([], [plate]);
        StockWorth.Of(job, plate).Should().Be(new StockWorth(Money.FromAmount(120), Money.FromAmount(97.2m)));
        StockWorth.Of(job, plate with { RackMark = "R1" }).Keep.Should().Be(Money.FromAmount(180));
        StockWorth.Of(job, plate with { PiecePrice = Money.FromAmount(100) }).Keep.Should().Be(Money.FromAmount(97.2m));
        StockWorth.Of(job, plate with { Terms = new() { Breaks = [new(5, Money.FromAmount(180))] } }).Keep.Should().Be(Money.FromAmount(108));
        StockWorth.Of(job with { OffcutRules = [] }, plate).Keep.Should().Be(Money.FromAmount(97.2m));

        // A bar 40 × 20 × 3 000: 6.48 kg.
        StockWorth.Of(job, Bar("bar", Form.FlatBar, 40, 20)).Should().Be(new StockWorth(Money.FromAmount(24), Money.FromAmount(7.776m)));
        StockWorth.Share(Money.FromUnits(10), Mm(1) * Mm(1), Mm(3) * Mm(1)).Should().Be(Money.FromUnits(3), "3.33 is rounded down");
    }

    [Fact]
    public void Leftovers_to_use_up_are_nearly_free_and_never_below_their_scrap()
    {
        var today = new DateOnly(2026, 3, 31);
        var old = Leftover("R1", 600, 400, 15, 200) with { Entered = new(2026, 1, 1) };

        // 0.24 m² × 15 mm × 2 700 kg/m³ × 1.20 = 11.664; a tenth of 200.00 is 20.00, a tenth of 100.00 less than the scrap.
        Priced(old, new() { OlderThanDays = 89 }).Should().Be((true, Money.FromAmount(20)));
        Priced(old with { PiecePrice = Money.FromAmount(100) }, new() { OlderThanDays = 89 }).Should().Be((true, Money.FromAmount(11.664m)));
        Priced(old with { PiecePrice = Money.FromAmount(5) }, new() { OlderThanDays = 89 }).Should().Be((true, Money.FromAmount(5)), "never dearer than it was");
        Priced(old, new() { OlderThanDays = 90 }).Should().Be((false, Money.FromAmount(200)), "it is 89 days old");
        Priced(old with { Entered = null }, new() { OlderThanDays = 0 }).Should().Be((false, Money.FromAmount(200)));
        Priced(old, new() { Names = ["R1"] }).Should().Be((true, Money.FromAmount(20)));
        Priced(old with { UseFirst = true }, new() { Names = ["R1"] }).Should().Be((true, Money.FromAmount(200)), "twice is as once");
        Priced(Plate("R1", 600, 400, 15), new() { Names = ["R1"] }).Should().Be((false, Money.FromAmount(200)), "it is no leftover");
        LeftoversFirst.Apply(Job([], [old]) with { UseFirst = new() { OlderThanDays = 1 } }, null).Stocks[0].UseFirst.Should().BeFalse();
        LeftoversFirst.Apply(Job([], [old]), today).Stocks[0].UseFirst.Should().BeFalse();

        (bool, Money) Priced(Stock stock, UseFirst first)
        {
            var priced = LeftoversFirst.Apply(Job([], [stock]) with { UseFirst = first }, today).Stocks[0];
            return (priced.UseFirst, priced.PiecePrice);
        }
    }
}
