using CsCheck;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

public class CostSheetTest
{
    [Fact]
    public void Shares_add_up_exactly_and_are_within_a_unit_of_the_fraction() =>
        Gen.Select(Gen.Long[-10_000_000, 10_000_000], Gen.Long[0, 1_000_000].Array[1, 12]).Where(pair => pair.Item2.Any(weight => weight > 0))
            .Sample((units, weights) =>
            {
                var shares = CostSheet.Share(Money.FromUnits(units), [.. weights.Select(weight => (Int128)weight)]);
                var whole = weights.Sum();
                return shares.Sum(share => share.Units) == units
                    && shares.Zip(weights).All(pair => Math.Abs(pair.First.Units - ((decimal)units * pair.Second / whole)) < 1m);
            });

    [Fact]
    public void Remainders_go_to_the_largest_then_to_the_first() =>
        // 10 by 1:1:1 is 3⅓ each: the first gets the unit that is left. 10 by 2:3:3 is 2.5, 3.75, 3.75.
        CostSheet.Share(Money.FromUnits(10), [1, 1, 1]).Concat(CostSheet.Share(Money.FromUnits(10), [2, 3, 3]))
            .Select(share => share.Units).Should().Equal(4, 3, 3, 2, 4, 4);

    [Fact]
    public void Parts_of_the_good_plan_by_hand()
    {
        var plan = TestPlan.Good();
        plan.PartCosts.Select(cost => (cost.PartId, cost.Pieces)).Should().Equal(("bracket", 5), ("tab", 10), ("foot", 10));
        plan.PartCosts.Aggregate(Money.Zero, (sum, cost) => sum + cost.Total).Should().Be(plan.TotalCost);
        // Facing 1 mm: five brackets of 122.816 cm³ and ten tabs of 20.4 × 10.4 × 0.1 = 21.216 cm³, 0.05 per cm³.
        plan.PartCosts[0].Facing.Should().Be(Money.FromAmount(5 * 6.1408m));
        plan.PartCosts[1].Facing.Should().Be(Money.FromAmount(10 * 1.0608m));
        // The bar is the feet's alone, and so are its settings: the raw end at a mark, one stop; 1 min each at 50 an hour = 0.8333.
        plan.PartCosts[2].Saw.Should().Be(plan.Layouts[2].Cost.Saw + (Money.FromAmount(0.8333m) * 2));
        // 11 cuts, each 1 min + 8 cm² / 40 = 1.2 min at 50 an hour = 1.00.
        plan.Layouts[2].Cost.Saw.Should().Be(Money.FromAmount(11m));
    }

    [Fact]
    public void What_to_buy_and_to_fetch()
    {
        var lines = CostSheet.BuyLines(TestPlan.Good());
        lines.Select(line => (line.Stock.Id, line.Count, line.FromRack, line.Total.Amount)).Should().Equal(
            ("plate 15", 1, false, 200m), ("R1", 1, true, 20m), ("flat 40x20", 1, false, 40m));
        // 2 m × 1 m × 15 mm × 2700 kg/m³ = 81 kg.
        lines[0].Mass.Kilograms.Should().Be(81m);
    }

    [Fact]
    public void The_metal_of_a_bar_by_hand()
    {
        var plan = TestPlan.Good();
        var balance = MassBalance.Of(plan, plan.Layouts[2]);
        // Section 8 cm², 2.16 kg a metre; ten blanks of 102 mm, an offcut of 1944 mm with the raw end of 8 mm, a trim of 8 − 2 mm, 11 cuts of 2 mm.
        balance.Bought.Kilograms.Should().Be(2.16m * 3m);
        balance.Blanks.Kilograms.Should().Be(2.16m * 1.02m);
        balance.Kept.Kilograms.Should().Be(2.16m * 1.952m);
        balance.Scrap.Kilograms.Should().Be(2.16m * 0.006m);
        balance.Chips.Kilograms.Should().Be(2.16m * 0.022m);
        balance.Finished.Kilograms.Should().Be(10 * 0.1m * 0.034m * 0.016m * 2700m);
        var all = MassBalance.Of(plan);
        all.Taken.Should().Be(all.Oversize + all.Blanks + all.Kept + all.Scrap + all.Chips);
        all.FromRack.Kilograms.Should().Be(0.6m * 0.4m * 0.015m * 2700m);
    }
}
