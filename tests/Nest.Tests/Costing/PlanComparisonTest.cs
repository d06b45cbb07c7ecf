using Nest.Core.Costing;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;

namespace Nest.Tests.Costing;

/// <summary>What is said of two plans and their costs, and what of it is proven.</summary>
public sealed class PlanComparisonTest
{
    private static Plan Good => TestPlan.Good();

    [Theory]
    [InlineData(100, 99, 120, 119, "B against A: costs 20.00 EUR more (proven: at least 19.00 of it remains however well both are planned).")]
    [InlineData(120, 119, 100, 99, "B against A: costs 20.00 EUR less (proven: at least 19.00 of it remains however well both are planned).")]
    [InlineData(100, 99, 120, 100, "B against A: costs 20.00 EUR more (not proven: it lies within the gap of the plans).")]
    [InlineData(100, 90, 101, 90, "B against A: costs 1.00 EUR more (not proven: it lies within the gap of the plans).")]
    [InlineData(100, 90, 100, 90, "B against A: costs the same (not proven: it lies within the gap of the plans).")]
    [InlineData(125, 100, 120, 100, "B against A: costs 5.00 EUR less (not proven: it lies within the gap of the plans).")]
    [InlineData(126, 100, 120, 100, "B against A: the difference is smaller than what is not known yet (gaps of 20.0 % and 26.0 %): give more seconds.")]
    [InlineData(100, 75, 120, 119, "B against A: costs 20.00 EUR more (proven: at least 19.00 of it remains however well both are planned).")]
    [InlineData(100, null, 101, 100, "B against A: the difference is smaller than what is not known yet (gaps of 1.0 % and unknown size): give more seconds.")]
    [InlineData(100, 99, 101, null, "B against A: the difference is smaller than what is not known yet (gaps of unknown size and 1.1 %): give more seconds.")]
    public void A_difference_is_proven_where_the_bound_of_the_dearer_is_above_the_cheaper(int cost, int? bound, int otherCost, int? otherBound, string verdict) =>
        PlanComparison.Verdict("A", Costing(cost, bound), "B", Costing(otherCost, otherBound), "give more seconds").Should().Be(verdict);

    [Fact]
    public void Equal_costs_are_proven_where_both_plans_are()
    {
        var proven = Costing(100, 100) with { Status = SolveStatus.Proven };
        PlanComparison.Verdict("A", proven, "B", proven, "").Should().Be("B against A: costs the same (both are proven).");
        PlanComparison.IsProven(proven, Costing(100, 100)).Should().BeFalse();
        PlanComparison.IsProven(Costing(100, 100), proven).Should().BeFalse();
    }

    [Fact]
    public void A_bound_that_its_own_plan_contradicts_proves_nothing() =>
        PlanComparison.IsProven(Costing(100, 99), Costing(120, 121)).Should().BeFalse();

    [Fact]
    public void Plans_that_do_not_cut_all_are_not_compared()
    {
        var part = Costing(100, 99) with { Unplaced = [new("tab", 1, "too large")] };
        PlanComparison.AreComparable(Good, Good).Should().BeTrue();
        PlanComparison.AreComparable(part, Good).Should().BeFalse();
        PlanComparison.AreComparable(Good, part).Should().BeFalse();
        PlanComparison.Verdict("A", Good, "B", part, "").Should().Be("B: not all parts are cut in both, so the costs cannot be compared.");
    }

    [Fact]
    public void Rows_of_the_good_plan_by_hand()
    {
        var plan = Good with { Bound = Bound.Of(Good.TotalCost - Money.FromAmount(10), "a test"), Unplaced = [new("tab", 3, "x"), new("foot", 2, "x")] };
        var rows = PlanComparison.Rows("EUR").ToDictionary(row => row.Name, row => row.Of(plan));
        rows["cost"].Should().Be(Good.TotalCost.Amount);
        rows["lower_bound"].Should().Be(Good.TotalCost.Amount - 10m);
        decimal.Round(rows["gap_percent"]!.Value, 12).Should().Be(decimal.Round(1000m / (Good.TotalCost.Amount - 10m), 12));
        rows["orders"].Should().Be(240m); // a plate and a bar
        rows["suppliers"].Should().Be(1m);
        rows["stock_pieces"].Should().Be(3m);
        rows["rack_pieces"].Should().Be(1m);

        // 81 kg of plate, 0.6 m × 0.4 m × 15 mm = 9.72 kg of the leftover, 6.48 kg of bar.
        rows["metal_taken_kg"].Should().Be(97.2m);

        // Blanks: 5 × 404 × 304 and 10 × 204 × 104 mm² of 15 mm plate, 10 × 102 mm of bar.
        var kilograms = ((5 * 404m * 304m) + (10 * 204m * 104m)) * 15m * 2.7e-6m + (10 * 102m * 800m * 2.7e-6m);
        rows["yield_percent"].Should().Be(kilograms / 97.2m * 100m);
        rows["leftovers_kept"].Should().Be(11.016m + 55.1232m + 15.552m);
        rows["pieces_not_cut"].Should().Be(5m);
        PlanComparison.Rows("EUR")[0].Label.Should().Be("cost, EUR");
    }

    /// <summary>By hand: two orders of 200.00 and 40.00 with one of 30.00 more are 270.00; three of the first layout and the others once, and both leftovers are from the rack; what is kept of the first layout counts three times.</summary>
    [Fact]
    public void Rows_add_up_orders_leftovers_and_what_is_kept()
    {
        var leftovers = Good.Job with { Stocks = [.. Good.Job.Stocks.Select(stock => stock.Id.StartsWith("flat", StringComparison.Ordinal) ? stock with { RackMark = "R9" } : stock)] };
        Order Order(string supplier, decimal total) => new(supplier, [], Money.FromAmount(total), Money.Zero, Money.Zero);
        var plan = Good with { Job = leftovers, Orders = [Order("A", 200), Order("B", 70)], Layouts = Good.Layouts.SetItem(0, Good.Layouts[0] with { Count = 3 }) };
        var rows = PlanComparison.Rows("EUR").ToDictionary(row => row.Name, row => row.Of(plan));
        rows["orders"].Should().Be(270m);
        rows["rack_pieces"].Should().Be(2m);
        rows["leftovers_kept"].Should().Be((3 * (11.016m + 55.1232m)) + 15.552m);
    }

    [Fact]
    public void Changes_name_what_the_other_takes_more_and_less()
    {
        var other = Good with { Layouts = [Good.Layouts[0] with { Count = 3 }, Good.Layouts[2]] };
        PlanComparison.Changes(Good, other).Should().Equal(("R1", -1), ("plate 15", 2));
        PlanComparison.Changes(other, Good).Should().Equal(("R1", 1), ("plate 15", -2));
        PlanComparison.Changes(Good, Good).Should().BeEmpty();
    }

    private static Plan Costing(decimal cost, decimal? bound) => Good with
    {
        TotalCost = Money.FromAmount(cost),
        Bound = bound is { } least ? Bound.Of(Money.FromAmount(least), "a test") : Bound.None,
    };
}
