using Nest.Check;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>What a plan costs without its free spares, as the planner and as the checker take them out: the two share no code.</summary>
public sealed class SparesAgreeTest
{
    [Fact]
    public void On_made_plans_both_take_the_spares_out_alike()
    {
        var spares = 0;
        for (var seed = 0; seed < 120; seed++)
        {
            var plan = MadePrices.WithSpares(seed);
            var findings = PlanChecker.Check(plan);
            findings.Should().BeEmpty("seed {0}: {1}", seed, string.Join("\n", findings.Select(finding => $"{finding.Rule} {finding}")));
            spares += plan.Layouts.Sum(layout => layout.Pieces.Count(piece => piece.Spare));
            foreach (var unit in (Money[])[Money.FromUnits(1), Money.FromUnits(-1)])
            {
                Rules(plan with { SpareCost = plan.SpareCost + unit }).Should().Equal(["spare-cost"], "seed {0}", seed);
                Rules(plan with { TotalCost = plan.TotalCost + unit }).Should().Contain("total-cost", "seed {0}", seed);
            }
        }

        spares.Should().BeGreaterThan(200);
    }

    [Fact]
    public void Spares_cost_on_average_what_the_job_allows_at_most()
    {
        for (var seed = 0; seed < 40; seed++)
        {
            var plan = MadePrices.WithSpares(seed);
            var spares = plan.Layouts.Sum(layout => (long)layout.Count * layout.Pieces.Count(piece => piece.Spare));
            if (spares == 0 || plan.SpareCost <= Money.Zero)
            {
                continue;
            }

            var most = Money.FromUnits((plan.SpareCost.Units + spares - 1) / spares);
            Rules(plan with { Job = plan.Job with { FreeSparesUpTo = most } }).Should().BeEmpty("seed {0}", seed);
            Rules(plan with { Job = plan.Job with { FreeSparesUpTo = most - Money.FromUnits(1) } }).Should().Equal(["spare-cost"], "seed {0}", seed);
        }
    }

    [Fact]
    public void More_spares_than_were_wanted_are_found_and_as_many_are_not()
    {
        var plan = MadePrices.WithSpares(1);
        var at = Enumerable.Range(0, plan.Job.Parts.Length).First(index => plan.Job.Parts[index].FreeSpares > 0);
        var part = plan.Job.Parts[at];
        Rules(With(part with { FreeSpares = part.FreeSpares - 1 })).Should().Equal("spares-too-many");
        Rules(With(part with { FreeSpares = part.FreeSpares + 1 })).Should().BeEmpty();
        Rules(With(part with { FreeSpares = -1 })).Should().Contain("job-value");
        Rules(With(part with { PerBlank = new() })).Should().Contain("job-value");
        Rules(With(part with { FreeSpares = 0, PerBlank = new() })).Should().NotContain("job-value");
        Rules(plan with { Unplaced = [new(part.Id, 1, "a test")] }).Should().Contain("spares-too-many");

        Plan With(Part other) => plan with { Job = plan.Job with { Parts = plan.Job.Parts.SetItem(at, other) } };
    }

    [Fact]
    public void A_stock_piece_for_spares_alone_and_a_further_size_for_a_spare_are_found()
    {
        var job = Job([Flat("tab", 196, 96, 12) with { Forms = Forms.Plate, FreeSpares = 1 }], [Leftover("R1", 620, 320, 15), Leftover("R3", 620, 320, 16)]) with
        {
            OffcutRules = [],
            Fuss = new() { FurtherSizeMinutes = 8m },
        };
        Layout Of(string stock, bool spare)
        {
            var layout = TestPlan.OnSaw(job, stock, (usable, tree) => tree.Split(usable, CutDirection.Rip, strip => tree.Split(strip(100), CutDirection.Crosscut, [.. tree.Row("tab", 200, 1)])));
            return layout with { Pieces = [layout.Pieces[0] with { Spare = spare }] };
        }

        var plan = TestPlan.Of(job, Of("R1", false), Of("R3", true));
        var bare = SparesOut.Of(job, plan.Layouts);
        var total = CostSheet.Total(job, bare);
        Rules(plan with { TotalCost = total, SpareCost = plan.TotalCost - total, Bound = Bound.Of(total, "a test") }).Should().Contain(["spare-takes-metal", "spare-further-size"]);
    }

    private static List<string> Rules(Plan plan) => [.. PlanChecker.Check(plan).Select(finding => finding.Rule).Distinct()];
}
