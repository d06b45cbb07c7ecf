using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Tests.Ordering;

/// <summary>Price breaks against worked examples. Both readings of a discount schedule are those of textbooks on inventory:
/// Silver, Pyke, Thomas, "Inventory and Production Management in Supply Chains" (quantity discounts), and
/// Nahmias, "Production and Operations Analysis", chapter 4 (the trash-bag example: 0.30 below 500, 0.29 from 500, 0.28 from 1000;
/// schedule and the formulas for C(Q) from memory).</summary>
public sealed class PriceBreakTests
{
    private static readonly Money Listed = Money.FromAmount(0.30m);

    private static PriceTerms Bags(BreakRule rule) => new()
    {
        Rule = rule,
        Breaks = [new(500, Money.FromAmount(0.29m)), new(1000, Money.FromAmount(0.28m))],
    };

    // C(Q) = 0.30 Q; 0.29 Q; 0.28 Q.
    [Theory]
    [InlineData(400, 120.00), InlineData(499, 149.70), InlineData(500, 145.00), InlineData(999, 289.71), InlineData(1000, 280.00)]
    public void All_units(int count, decimal cost) => Bags(BreakRule.AllUnits).LineCost(Listed, count).Amount.Should().Be(cost);

    // C(Q) = 0.30 Q; 150 + 0.29 (Q − 500); 295 + 0.28 (Q − 1000). In the book the first 500 cost 0.30 each: the break is from the
    // 501st piece on, so here the steps lie at 501 and 1001.
    [Theory]
    [InlineData(400, 120.00), InlineData(500, 150.00), InlineData(501, 150.29), InlineData(1000, 295.00), InlineData(1500, 435.00)]
    public void Incremental(int count, decimal cost)
    {
        var terms = new PriceTerms
        {
            Rule = BreakRule.Incremental,
            Breaks = [new(501, Money.FromAmount(0.29m)), new(1001, Money.FromAmount(0.28m))],
        };
        terms.LineCost(Listed, count).Amount.Should().Be(cost);
    }

    // Buying more may cost less: 500 bags are 4.70 cheaper than 499 (149.70 − 145.00), the textbooks' reason to look at the break points.
    [Fact]
    public void With_all_units_a_break_may_be_cheaper_than_the_quantity_below_it() =>
        Bags(BreakRule.AllUnits).LineCost(Listed, 500).Should().BeLessThan(Bags(BreakRule.AllUnits).LineCost(Listed, 499));

    [Theory]
    [InlineData(10, 50.00), InlineData(166, 50.00), InlineData(167, 50.10)]
    public void A_line_costs_its_minimum(int count, decimal cost) =>
        new PriceTerms { LineMinimum = Money.FromAmount(50) }.LineCost(Listed, count).Amount.Should().Be(cost);
}
