using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Output;
using Nest.Solve;
using Nest.Solve.Choose;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Bounds;

/// <summary>What becomes of a bound that is above the cost of a plan.</summary>
public sealed class ContradictionTest
{
    [Fact]
    public void Ends_every_test()
    {
        Contradictions.Throws.Should().BeTrue("the test projects set the switch");
        var assembled = () => Assembled(1.01m);
        assembled.Should().Throw<BoundContradictedException>().WithMessage("*a faulty method*");
        var kernel = () => Contradictions.Found(5, 4, "a kernel");
        kernel.Should().Throw<BoundContradictedException>();
    }

    [Fact]
    public void One_component_above_its_part_of_the_plan_is_found_though_the_sum_is_not_above_the_cost()
    {
        var assembled = () => Assembled(0.5m, component: 1.01m);
        assembled.Should().Throw<BoundContradictedException>().WithMessage("*a faulty kernel*");
    }

    [Fact]
    public void In_a_shop_the_plan_is_given_without_a_proof_and_says_so()
    {
        Contradictions.AsInAShop();
        var plan = Assembled(1.01m);

        plan.Status.Should().Be(SolveStatus.BestFound);
        plan.IsContradicted.Should().BeTrue();
        plan.Bound.Value!.Value.Should().BeGreaterThan(plan.TotalCost, "it is never lowered");
        plan.Gap.Should().BeNull();
        PlanChecker.Check(plan).Should().BeEmpty("the plan itself is right");
        var summary = new StringWriter();
        PlanSummary.Write(plan, summary, new());
        summary.ToString().ReplaceLineEndings(" ").Should().Contain("NO PROOF").And.Contain("a faulty method").And.Contain("report");
        var path = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.json");
        try
        {
            PlanFile.Write(plan, path).Should().BeEmpty();
            PlanFile.Read(path).Value!.Bound.Should().Be(plan.Bound);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void A_plan_without_a_bound_claims_nothing()
    {
        var plan = Assembled(null);
        plan.Status.Should().Be(SolveStatus.BestFound);
        var summary = new StringWriter();
        PlanSummary.Write(plan, summary, new());
        summary.ToString().Should().Contain("no lower bound").And.NotContain("%  above").And.NotContain("100.00 %");
    }

    /// <summary>The proven plan of one bar, with bounds that are so many times its cost.</summary>
    private static Plan Assembled(decimal? joint, decimal? component = null)
    {
        var job = Job([Part("lug", 100, 45, 15, 4, Core.Jobs.Forms.FlatBar)], [Bar("bar", 50, 20, 3000, 42)]);
        var blanks = BlankSizer.Size(job);
        var limits = new SolveLimits { Seconds = 60, Work = 100_000 };
        var twins = StockTwins.Of(job, blanks);
        var components = Components.Of(twins.Merged, twins.MergedBlanks);
        var solver = new ComponentSolver(components[0], limits.OfJob(), (_, _) => { }, default);
        solver.Run();
        Bound Times(decimal? share, string source, BoundScope scope) =>
            share is { } times ? Bound.Of(Money.FromUnits((long)(solver.Best!.Cost * times)), source, scope) : Bound.None;
        var plan = PlanAssembler.Assemble(
            job, twins, components, [(solver.Best, Times(component, "a faulty kernel", BoundScope.Component))], limits, [],
            Times(joint, "a faulty method", BoundScope.Job), Bound.None);
        return plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
    }
}
