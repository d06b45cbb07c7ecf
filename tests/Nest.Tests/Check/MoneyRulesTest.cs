using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>What the checker says of amounts that are wrong: where, what is given and what is right, worked by hand.</summary>
public sealed class MoneyRulesTest
{
    private static Money Unit => Money.FromUnits(1);

    public static TheoryData<string, Func<Plan, Plan>, string[]> Wrong() => new()
    {
        { "metal", plan => Cost(plan, 1, cost => cost with { Metal = cost.Metal + Unit }), ["cost-metal | layout 2 | metal is given as 20.0001, it is 20"] },
        // The bar: 11 cuts of 1.00.
        { "sawing", plan => Cost(plan, 2, cost => cost with { Saw = cost.Saw - Unit }), ["cost-saw | layout 3 | sawing is given as 10.9999, it is 11"] },
        { "facing", plan => Cost(plan, 1, cost => cost with { Facing = Money.Zero }), ["cost-facing | layout 2 | facing is given as 0, it is 6.1408"] },
        // 40 × 0.6 × 1944 ÷ 3000.
        { "credit", plan => Cost(plan, 2, cost => cost with { OffcutCredit = cost.OffcutCredit + Unit }),
            ["cost-offcuts | layout 3 | credit for offcuts is given as 15.5521, it is 15.552"] },
        // 6.48 kg at 1.20 are 7.776; each end less the cut 6 of 3000 mm: 0.015552, rounded down.
        { "scrap", plan => Cost(plan, 2, cost => cost with { ScrapCredit = cost.ScrapCredit + Unit }),
            ["cost-scrap | layout 3 | scrap value is given as 0.0311, it is 0.031"] },
        { "kept value", plan => Offcut(plan, 2, 0, offcut => offcut with { Value = offcut.Value - Unit }),
            ["offcut-value | layout 3, offcut 1 | is valued at 15.5519, by the rule 15.552", "cost-offcuts | layout 3 | credit for offcuts is given as 15.552, it is 15.5519"] },
        { "two orders of one", plan => plan with { Orders = [plan.Orders[0], plan.Orders[0]] },
            ["orders | order from  | the order is there twice, or nothing is bought from this supplier"] },
        { "order of nothing", plan => plan with { Orders = [plan.Orders[0], plan.Orders[0] with { Supplier = "Nobody" }] },
            ["orders | order from Nobody | the order is there twice, or nothing is bought from this supplier"] },
        { "part twice", plan => plan with { PartCosts = [.. plan.PartCosts, plan.PartCosts[2]] }, ["part-costs | cost of part foot | the part is unknown or listed twice"] },
        { "part unknown", plan => plan with { PartCosts = [.. plan.PartCosts, plan.PartCosts[2] with { PartId = "nut" }] },
            ["part-costs | cost of part nut | the part is unknown or listed twice", "part-costs | cost of part nut | bears a cost, but the plan cuts no piece of it"] },
        { "part missing", plan => plan with { PartCosts = plan.PartCosts.RemoveAt(2) }, ["part-costs | cost of part foot | is missing"] },
    };

    [Theory]
    [MemberData(nameof(Wrong))]
    public void A_wrong_amount_is_told_with_the_right_one(string what, Func<Plan, Plan> change, string[] expected)
    {
        var findings = PlanChecker.Check(change(TestPlan.Good())).Select(finding => $"{finding.Rule} | {finding.Where.File} | {finding.Message}").ToList();
        findings.Should().Contain(expected, what);
    }

    [Theory]
    [InlineData(1, 0, 0, 0)]
    [InlineData(0, 30_000, 0, 0)]
    [InlineData(0, 0, 20_000, 0)]
    [InlineData(0, 0, 0, 1)]
    public void What_a_part_bears_is_told_with_what_it_should(int pieces, int metal, int saw, int facing)
    {
        // What the feet bear more the tabs bear less: the sum stays right.
        var plan = TestPlan.Good();
        var (tab, foot) = (plan.PartCosts[1], plan.PartCosts[2]);
        Money[] change = [Money.FromUnits(metal), Money.FromUnits(saw), Money.FromUnits(facing)];
        var wrong = plan with
        {
            PartCosts =
            [
                plan.PartCosts[0],
                tab with { Metal = tab.Metal - change[0], Saw = tab.Saw - change[1], Facing = tab.Facing - change[2] },
                foot with { Pieces = foot.Pieces + pieces, Metal = foot.Metal + change[0], Saw = foot.Saw + change[1], Facing = foot.Facing + change[2] },
            ],
        };
        var findings = PlanChecker.Check(wrong);
        findings.Select(finding => finding.Rule).Distinct().Should().Equal("part-costs");
        // The feet: 10 of the bar alone. 40 − 15.552 − 0.031 of metal; 11.00 of sawing and two settings of 0.8333; 10 × 0.5916 of facing.
        findings.Last().Where.File.Should().Be("cost of part foot");
        findings.Last().Message.Should().EndWith("right are 10, 24.4170, 12.6666, 5.916");
    }

    [Fact]
    public void The_total_is_told_with_its_parts_added_up()
    {
        var plan = TestPlan.Good();
        var right = plan.TotalCost.Amount;
        PlanChecker.Check(plan with { TotalCost = plan.TotalCost + Unit }).Single(finding => finding.Rule == "total-cost").Message
            .Should().Be(string.Create(System.Globalization.CultureInfo.InvariantCulture,
                $"the total is given as {(plan.TotalCost + Unit).Amount}, layouts, settings, orders and further sizes add up to {right}"));
    }

    private static Plan Cost(Plan plan, int index, Func<LayoutCost, LayoutCost> change) =>
        plan with { Layouts = plan.Layouts.SetItem(index, plan.Layouts[index] with { Cost = change(plan.Layouts[index].Cost) }) };

    private static Plan Offcut(Plan plan, int layout, int offcut, Func<Offcut, Offcut> change)
    {
        var one = plan.Layouts[layout];
        return plan with { Layouts = plan.Layouts.SetItem(layout, one with { Offcuts = one.Offcuts.SetItem(offcut, change(one.Offcuts[offcut])) }) };
    }
}
