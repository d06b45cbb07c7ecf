using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>The planner's amounts and the checker's, which share no code: they agree on made plans, and with what a hand can reckon.</summary>
public sealed class MoneyAgreesTest
{
    private static readonly Money Unit = Money.FromUnits(1);

    [Fact]
    public void A_unit_more_or_less_in_any_amount_is_found()
    {
        for (var seed = 0; seed < 20; seed++)
        {
            var plan = MadePrices.Plan(seed);
            foreach (var unit in (Money[])[Unit, Money.Zero - Unit])
            {
                Refused(plan with { TotalCost = plan.TotalCost + unit });
                foreach (var (cost, at) in plan.Layouts.Select((layout, at) => (layout.Cost, at)))
                {
                    foreach (var wrong in (LayoutCost[])[cost with { Metal = cost.Metal + unit }, cost with { Saw = cost.Saw + unit }, cost with { Facing = cost.Facing + unit },
                        cost with { OffcutCredit = cost.OffcutCredit + unit }, cost with { ScrapCredit = cost.ScrapCredit + unit }])
                    {
                        Refused(plan with { Layouts = plan.Layouts.SetItem(at, plan.Layouts[at] with { Cost = wrong }) });
                    }
                }

                foreach (var (order, at) in plan.Orders.Select((order, at) => (order, at)))
                {
                    var line = order.Lines[^1];
                    foreach (var wrong in (Order[])[order with { Goods = order.Goods + unit }, order with { TopUp = order.TopUp + unit }, order with { Delivery = order.Delivery + unit },
                        order with { Lines = order.Lines.SetItem(order.Lines.Length - 1, line with { Listed = line.Listed + unit }) },
                        order with { Lines = order.Lines.SetItem(order.Lines.Length - 1, line with { Cost = line.Cost + unit }) },
                        order with { Lines = [.. order.Lines, line] }])
                    {
                        Refused(plan with { Orders = plan.Orders.SetItem(at, wrong) });
                    }
                }

                foreach (var (cost, at) in plan.PartCosts.Select((cost, at) => (cost, at)))
                {
                    Refused(plan with { PartCosts = plan.PartCosts.SetItem(at, cost with { Metal = cost.Metal + unit }) });
                    Refused(plan with { PartCosts = plan.PartCosts.SetItem(at, cost with { Saw = cost.Saw + unit }) });
                    Refused(plan with { PartCosts = plan.PartCosts.SetItem(at, cost with { Facing = cost.Facing + unit, Metal = cost.Metal - unit }) });
                    Refused(plan with { PartCosts = plan.PartCosts.SetItem(at, cost with { Pieces = cost.Pieces + 1 }) });
                }
            }

            void Refused(Plan wrong) => PlanChecker.Check(wrong).Should().NotBeEmpty("seed {0}", seed);
        }
    }

    [Fact]
    public void A_share_moved_between_two_parts_is_found()
    {
        var found = 0;
        for (var seed = 0; seed < 30; seed++)
        {
            // More than any rounding: a hundredth part of the plan.
            var plan = MadePrices.Plan(seed);
            var much = Money.FromUnits((Math.Abs(plan.TotalCost.Units) / 100) + 100);
            for (var at = 1; at < plan.PartCosts.Length; at++)
            {
                var (first, other) = (plan.PartCosts[0], plan.PartCosts[at]);
                Refused([first with { Metal = first.Metal + much }, other with { Metal = other.Metal - much }]);
                Refused([first with { Saw = first.Saw - much }, other with { Saw = other.Saw + much }]);
                found++;

                void Refused(PartCost[] wrong) =>
                    PlanChecker.Check(plan with { PartCosts = plan.PartCosts.SetItem(0, wrong[0]).SetItem(at, wrong[1]) }).Should().Contain(finding => finding.Rule == "part-costs", "seed {0}", seed);
            }
        }

        found.Should().BeGreaterThan(30);
    }

    /// <summary>By hand. A plate of 2000 × 1000 × 15 at 2700 kg/m³: 2 m, 2 m², 81 kg; the international foot of 0.3048 m and pound of 0.45359237 kg (1959): 6.561679… ft,
    /// 21.527820… sq ft, 178.574432… lb.</summary>
    [Theory]
    [InlineData(PriceBasis.Piece, 123.4567, 1_234_567)]
    [InlineData(PriceBasis.Metre, 7, 140_000)]
    [InlineData(PriceBasis.SquareMetre, 50.5, 1_010_000)]
    [InlineData(PriceBasis.Kilogram, 3.5, 2_835_000)]
    [InlineData(PriceBasis.Foot, 10, 656_168)]
    [InlineData(PriceBasis.SquareFoot, 4, 861_113)]
    [InlineData(PriceBasis.Pound, 1.5, 2_678_616)]
    public void The_price_of_a_piece_follows_from_the_price_as_it_was_given(PriceBasis basis, decimal given, long right)
    {
        var stock = Plate("sold", 2000, 1000, 15) with { PriceBasis = basis, UnitPrice = given, PiecePrice = Money.FromUnits(right) };
        Prices(stock).Should().BeEmpty();
        Prices(stock with { PiecePrice = stock.PiecePrice + Unit }).Should().Equal("piece-price");
        Prices(stock with { PiecePrice = stock.PiecePrice - Unit }).Should().Equal("piece-price");
    }

    [Fact]
    public void A_price_per_kilogram_of_nothing_is_a_price_and_one_per_piece_of_nothing_is_not_told()
    {
        var stock = Plate("sold", 2000, 1000, 15);
        Prices(stock with { PriceBasis = PriceBasis.Kilogram }).Should().Equal("piece-price");
        Prices(stock).Should().BeEmpty();
        Prices(stock with { UnitPrice = -1m, PiecePrice = Money.Zero }).Should().Equal("job-value");
        Prices(stock with { PiecePrice = Money.Zero - Unit }).Should().Equal("job-value");
        Prices(stock with { UnitPrice = 1_000_000_000m }).Should().Equal("piece-price");
        Prices(stock with { UnitPrice = 1_000_000_000.01m }).Should().Equal("job-value");
        Prices(stock with { PiecePrice = Money.Zero }).Should().BeEmpty();
    }

    /// <summary>By hand: a piece of 500 × 400 is a tenth of its row of 2000 × 1000 for 200: 20, and 5 for cutting it.</summary>
    [Fact]
    public void A_piece_cut_to_size_bears_its_share_of_the_row_and_the_charge()
    {
        var stock = Plate("sold", 500, 400, 15) with
        {
            UnitPrice = 200m,
            CutFor = "bracket",
            CutFrom = new(Mm(2000), Mm(1000), Money.FromAmount(5m)),
            PiecePrice = Money.FromAmount(25m),
        };
        Prices(stock).Should().BeEmpty();
        Prices(stock with { PiecePrice = stock.PiecePrice + Unit }).Should().Equal("piece-price");
        Prices(stock with { PiecePrice = stock.PiecePrice - Unit }).Should().Equal("piece-price");
        Prices(stock with { CutFrom = stock.CutFrom with { Charges = Money.Zero }, PiecePrice = Money.FromAmount(20m) }).Should().BeEmpty();

        // A row of no size, charges below zero, cut for nobody.
        Prices(stock with { CutFrom = stock.CutFrom with { Charges = Money.Zero - Unit } }).Should().Equal("job-value");
        Prices(stock with { CutFrom = stock.CutFrom with { Length = Length.Zero } }).Should().Equal("job-value");
        Prices(stock with { CutFrom = stock.CutFrom with { Width = Length.Zero } }).Should().Equal("job-value");
        Prices(stock with { CutFor = null }).Should().Equal("job-value");

        // An older file does not tell the row: by the kilogram the charge comes on top (0.003 m³ at 2700 kg/m³ and 2 are 16.20), by the piece nothing can be said.
        var older = stock with { CutFrom = null, PriceBasis = PriceBasis.Kilogram, UnitPrice = 2m, PiecePrice = Money.FromAmount(16.2m) };
        Prices(older).Should().BeEmpty();
        Prices(older with { PiecePrice = Money.FromAmount(21.2m) }).Should().BeEmpty();
        Prices(older with { PiecePrice = Money.FromAmount(16.1999m) }).Should().Equal("piece-price");
        Prices(stock with { CutFrom = null }).Should().BeEmpty();
    }

    /// <summary>By hand: 100 each, from 5 on 90, from 10 on 80; of 12, 4 at 100, 5 at 90 and 3 at 80 make 1090, or all at 80 make 960.</summary>
    [Theory]
    [InlineData(BreakRule.AllUnits, 4, 0, 400), InlineData(BreakRule.AllUnits, 5, 0, 450), InlineData(BreakRule.AllUnits, 12, 0, 960)]
    [InlineData(BreakRule.Incremental, 4, 0, 400), InlineData(BreakRule.Incremental, 5, 0, 490), InlineData(BreakRule.Incremental, 9, 0, 850)]
    [InlineData(BreakRule.Incremental, 10, 0, 930), InlineData(BreakRule.Incremental, 12, 0, 1090), InlineData(BreakRule.Incremental, 12, 1090, 1090)]
    [InlineData(BreakRule.Incremental, 12, 1091, 1091), InlineData(BreakRule.AllUnits, 12, 961, 961)]
    public void Price_breaks_by_hand(BreakRule rule, int count, int least, int cost)
    {
        var bar = Bar("bar", Form.FlatBar, 40, 20, price: 100) with
        {
            Terms = new() { Rule = rule, Breaks = [new(5, Money.FromAmount(90)), new(10, Money.FromAmount(80))], LineMinimum = Money.FromAmount(least) },
        };
        var job = Job([Flat("foot", 100, 34, 16, count) with { Forms = Forms.FlatBar }], [bar]);
        var plan = TestPlan.Of(job, TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("foot", 102, 1)]), count));
        plan.Orders.Single().Goods.Amount.Should().Be(cost);
        PlanChecker.Check(plan).Should().BeEmpty();
    }

    /// <summary>By hand: a bar of 100. The order's minimum is reached or topped up; delivery is free from what goods and top-up reach.</summary>
    [Theory]
    [InlineData(100, 100, 0, 0), InlineData(101, 101, 1, 0), InlineData(101, 102, 1, 7), InlineData(99, 101, 0, 7), InlineData(0, null, 0, 7)]
    public void Smallest_order_and_delivery_by_hand(int least, int? freeFrom, int topUp, int delivery)
    {
        var bar = Bar("bar", Form.FlatBar, 40, 20, price: 100) with { Supplier = "Dema" };
        var job = Job([Flat("foot", 100, 34, 16) with { Forms = Forms.FlatBar }], [bar]) with
        {
            Suppliers = [new() { Name = "Dema", MinimumOrder = Money.FromAmount(least), Delivery = Money.FromAmount(7), FreeDeliveryFrom = freeFrom is { } from ? Money.FromAmount(from) : null }],
        };
        var plan = TestPlan.Of(job, TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("foot", 102, 1)])));
        plan.Orders.Single().Should().Match<Order>(order => order.TopUp.Amount == topUp && order.Delivery.Amount == delivery);
        PlanChecker.Check(plan).Should().BeEmpty();
    }

    /// <summary>Halves are rounded away from zero, credits down (the rule of the plan file).</summary>
    [Theory]
    [InlineData(0.00005, 1), InlineData(0.000049, 0), InlineData(-0.00005, -1), InlineData(-0.000049, 0), InlineData(-0.00015, -2), InlineData(1.23455, 12346)]
    public void Amounts_are_rounded_to_the_nearest_ten_thousandth(decimal amount, long units)
    {
        Amounts.Nearest(amount).Units.Should().Be(units);
        Money.FromAmount(amount).Units.Should().Be(units);
        Amounts.Down(amount).Units.Should().Be((long)Math.Floor(amount * 10_000m));
    }

    /// <summary>What a cutter leaves and the shop keeps is no scrap; an edge as wide as the kerf leaves none.</summary>
    [Fact]
    public void Kept_offcuts_of_a_cutter_are_no_scrap()
    {
        var job = Job([Flat("leaf", 96, 96, 12) with { Forms = Forms.Plate }], [Leftover("R", 600, 600, 15)], Cutter) with { OffcutRules = [new() { KeepLength = Mm(400), KeepWidth = Mm(300) }] };
        var layout = TestPlan.OnCutter(job, "R", new PlacedPiece("leaf", Box(20, 20, 100, 100), false));
        var sheet = layout.Sheet;
        ImmutableArray<Offcut> offcuts = [Core.Costing.CostModel.Judge(job, job.Stocks[0], Box(20, 132, 400, 300), sheet), Core.Costing.CostModel.Judge(job, job.Stocks[0], Box(132, 20, 300, 100), sheet)];
        var plan = TestPlan.Of(job, layout with { Offcuts = offcuts });
        offcuts.Select(offcut => offcut.Keep).Should().Equal(true, false);
        PlanChecker.Check(plan).Should().BeEmpty();

        // By hand: 0.36 m² × 15 mm × 2700 = 14.58 kg at 1.20 are 17.496; of 360 000 mm² 10 000 are the blank, 120 000 kept.
        plan.Layouts[0].Cost.ScrapCredit.Amount.Should().Be(decimal.Floor(17.496m * 230 / 360 * 10_000m) / 10_000m);
    }

    /// <summary>By hand: thick plate makes a blank of its own size beside the one of the thinner plate; turned or not, round or flat it is one.</summary>
    [Fact]
    public void A_further_size_is_paid_once_for_each_size_beyond_the_first()
    {
        var job = Job(
            [Flat("tab", 196, 96, 12, 4) with { Forms = Forms.Plate }], [Leftover("R1", 620, 320, 15), Leftover("R2", 620, 320, 15), Leftover("R3", 620, 320, 16)]) with
        {
            Fuss = new() { FurtherSizeMinutes = 8m },
        };
        Layout Of(string stock, bool turned) => TestPlan.OnSaw(job, stock, (usable, tree) => tree.Split(usable, CutDirection.Rip,
            strip => tree.Split(strip(turned ? 200 : 100), CutDirection.Crosscut, [.. tree.Row("tab", turned ? 100 : 200, stock == "R3" ? 2 : 1, turned)])));
        var plan = TestPlan.Of(job, Of("R1", false), Of("R2", true), Of("R3", false));
        PlanChecker.Check(plan).Should().BeEmpty();

        // 8 minutes at 90 an hour.
        var without = TestPlan.Of(job with { Fuss = Fuss.None }, Of("R1", false), Of("R2", true), Of("R3", false));
        (plan.TotalCost - without.TotalCost).Amount.Should().Be(12m);
        PlanChecker.Check(plan with { TotalCost = without.TotalCost, PartCosts = without.PartCosts }).Select(finding => finding.Rule).Should().Contain("total-cost");
    }

    private static List<string> Prices(Stock stock)
    {
        var plan = TestPlan.Good();
        return [.. PlanChecker.Check(plan with { Job = plan.Job with { Stocks = [.. plan.Job.Stocks, stock] } }).Select(finding => finding.Rule)];
    }
}
