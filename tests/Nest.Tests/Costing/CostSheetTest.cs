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

    [Fact]
    public void What_the_orders_cost_beyond_their_lines_is_borne_by_what_is_bought()
    {
        var plan = TestPlan.Good();
        var blanks = Core.Blanks.BlankSizer.Size(plan.Job);
        Money[] Metal(Job job, params Core.Plans.Layout[] more) => [.. CostSheet.PartCosts(job, blanks, [.. plan.Layouts, .. more]).Select(cost => cost.Metal)];
        var before = Metal(plan.Job);

        // Delivery of 24.00 for 240.00 of metal is a tenth. The plate of 200.00 is shared by area, 491 264 : 212 160 mm²: 139.6779 and 60.3221; the bar of
        // 40.00 is the feet's; the leftover is not bought.
        var delivered = Metal(plan.Job with { Suppliers = [new() { Name = "", Delivery = Money.FromAmount(24) }] });
        delivered.Zip(before, (after, was) => (after - was).Units).Should().Equal(139_678, 60_322, 40_000);

        // Two plates bought whole for the rack cost 30.00 less a credit of 12.00 each: 36.00 by the same weights.
        var whole = plan.Layouts[0] with
        {
            Number = 4,
            StockId = "plate 12",
            Count = 2,
            Pieces = [],
            Offcuts = [],
            Tree = null,
            Cost = new(Money.FromAmount(30), Money.Zero, Money.Zero, Money.FromAmount(12), Money.Zero),
        };
        Metal(plan.Job, whole).Zip(before, (after, was) => (after - was).Units).Should().Equal(209_517, 90_483, 60_000);
    }

    [Fact]
    public void Where_all_metal_is_free_what_is_common_is_shared_by_pieces()
    {
        var plan = TestPlan.Good();
        var free = plan.Job with
        {
            Stocks = [.. plan.Job.Stocks.Select(stock => stock with { PiecePrice = Money.Zero })],
            Suppliers = [new() { Name = "", Delivery = Money.FromAmount(25) }],
        };
        var layouts = plan.Layouts.Select(layout => layout with { Cost = default }).ToList();
        var blanks = Core.Blanks.BlankSizer.Size(free);

        // 25.00 for 5 + 10 + 10 pieces.
        CostSheet.PartCosts(free, blanks, [.. layouts]).Select(cost => cost.Metal.Amount).Should().Equal(5m, 10m, 10m);
        CostSheet.PartCosts(free, blanks, []).Should().BeEmpty("no part is cut");
    }
}
