using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Solve.Choose;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Bounds;

/// <summary>Leftovers at the edge of what they can be worth: nothing, less than their scrap, their scrap, clean all round.</summary>
public sealed class LeftoverValueTest
{
    private static readonly SolveLimits Effort = new() { Seconds = 60, Work = 20_000 };

    private static Stock Rack(Stock stock, CleanEdges clean) => stock with { RackMark = stock.Id, Supplier = null, Available = 1, CleanEdges = clean };

    private static Plan Planned(Job job)
    {
        var blanks = BlankSizer.Size(job);
        var plan = JobSolver.Solve(job, blanks, Effort);
        plan = plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
        PlanChecker.Check(plan).Should().BeEmpty();
        return plan;
    }

    /// <summary>A bar that costs nothing, with a clean left end: kept or scrapped it is worth more than it costs.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(0.2)]
    [InlineData(1.5)]
    public void A_bar_below_its_scrap_is_planned(double value)
    {
        // Scrap: 40 × 15 × 700 mm of 2 700 kg/m³ at 0.90 = 1.0206.
        var job = Job([Part("lug", 100, 35, 10, 4, Forms.FlatBar)], [Rack(Bar("R9", 40, 15, 700, (decimal)value), new(true, false, false, false))]);

        var plan = Planned(job);

        plan.Unplaced.Should().BeEmpty();
        plan.Layouts.Single().Cost.Metal.Amount.Should().Be((decimal)value, "the plan is costed at the leftover's own value");
        plan.Bound.Value!.Value.Should().BeLessThanOrEqualTo(plan.TotalCost);
    }

    /// <summary>Four lugs from a free bar: what its rest brings is more than what sawing costs.</summary>
    [Fact]
    public void A_plan_that_earns_money_is_no_proof_by_itself()
    {
        var saw = BarSaw with { HourlyRate = 0, ChargePerCut = 0, HandlingMinutes = 0, Trims = default };
        var job = Job([Part("lug", 100, 40, 15, 1, Forms.FlatBar)], [Rack(Bar("R9", 40, 15, 3000, 0), default)], saw) with { AllowanceRules = [] };

        var plan = Planned(job);

        plan.TotalCost.Should().BeLessThan(Money.Zero);
        plan.Bound.Value!.Value.Should().BeLessThanOrEqualTo(plan.TotalCost).And.BeLessThan(Money.Zero, "zero would be above the cost");
    }

    /// <summary>The case: six parts from one leftover plate. Clean all round and carried at scrap its bound was 0.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_plate_at_scrap_value_that_is_clean_all_round_keeps_its_bound(bool clean)
    {
        var plate = Rack(Plate("R1", 400, 300, 10, 0), new(clean, clean, clean, clean));
        var job = Job([Part("tab", 100, 80, 6, 6, Forms.Plate)], [plate]);
        var scrap = StockWorth.Of(job, plate).Scrap;
        job = job with { Stocks = [plate with { PiecePrice = scrap }] };

        var plan = Planned(job);

        plan.Unplaced.Should().BeEmpty();
        plan.Bound.Value!.Value.Should().BeGreaterThan(Money.FromUnits(plan.TotalCost.Units / 2)).And.BeLessThanOrEqualTo(plan.TotalCost);
    }

    /// <summary>The linear cost is below the cost of every layout, whatever edges are clean and whatever the plate is carried at.</summary>
    [Fact]
    public void The_linear_cost_is_never_above_a_layouts_own()
    {
        var random = new Random(4);
        for (var trial = 0; trial < 12; trial++)
        {
            var plate = Rack(
                Plate("R1", random.Next(120, 400), random.Next(100, 300), 10, 0),
                new(random.Next(2) == 0, random.Next(2) == 0, random.Next(2) == 0, random.Next(2) == 0));
            var job = Job([Part("a", random.Next(30, 90), random.Next(20, 60), 6, 4, Forms.Plate), Part("b", random.Next(20, 60), 25, 6, 3, Forms.Plate)], [plate]);
            var scrap = StockWorth.Of(job, plate).Scrap;
            job = job with { Stocks = [plate with { PiecePrice = Money.FromUnits(scrap.Units * random.Next(100, 300) / 100) }] };
            var component = Components.Of(job, BlankSizer.Size(job)).FirstOrDefault();
            if (component is null)
            {
                continue;
            }

            component.LowerCosts.Valid.Should().BeTrue();

            // Each column that is built compares its linear cost with its own: above it ends the test.
            var solver = new ComponentSolver(component, Effort.OfJob(), (_, _) => { }, default);
            solver.Run();
            solver.Columns.Should().OnlyContain(column => column.LowerCost <= column.Cost);
        }
    }
}
