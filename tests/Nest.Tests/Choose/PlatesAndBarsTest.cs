using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Tests.Makers;

namespace Nest.Tests.Choose;

/// <summary>Made jobs with plates: checked, bounded, and no dearer when bars are offered beside them.</summary>
public class PlatesAndBarsTest
{
    // The laws hold at any limit of work; this one leaves every search its turn.
    private static readonly SolveLimits Effort = new() { Seconds = 60, Work = 60_000 };

    [Theory]
    [InlineData(11, false), InlineData(12, false), InlineData(13, false), InlineData(14, true), InlineData(15, true)]
    public void Plates_are_checked_and_bounded(int seed, bool free)
    {
        var plan = SolverTests.Solve(JobMaker.Random(seed, bars: false, free: free), Effort);

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Unplaced.Should().BeEmpty();
        plan.Bound.Value!.Value.Should().BeGreaterThan(Money.Zero).And.BeLessThanOrEqualTo(plan.TotalCost);
        plan.Gap!.Value.Should().BeLessThan(0.35m);
    }

    [Theory]
    [InlineData(22), InlineData(23), InlineData(24), InlineData(26)]
    public void Plates_and_bars_together_are_not_dearer_than_either_alone(int seed)
    {
        var job = JobMaker.Random(seed);
        var together = SolverTests.Solve(job, Effort);
        var plates = SolverTests.Solve(job with { Parts = [.. job.Parts.Select(part => part with { Forms = part.Forms.Has(Form.Plate) ? Forms.Plate : part.Forms })] }, Effort);
        var bars = SolverTests.Solve(job with { Parts = [.. job.Parts.Select(part => part with { Forms = part.Forms.Has(Form.FlatBar) ? Forms.FlatBar : part.Forms })] }, Effort);

        foreach (var plan in new[] { together, plates, bars })
        {
            PlanChecker.Check(plan).Should().BeEmpty();
            plan.Unplaced.Should().BeEmpty();
        }

        // Searches with a limit: the law is exact for optimal plans, so a thousandth is left to them.
        var narrower = Math.Min(plates.TotalCost.Amount, bars.TotalCost.Amount);
        together.TotalCost.Amount.Should().BeLessThanOrEqualTo(narrower * 1.001m);

        // The bound of the freer job lies below every plan of the narrower ones.
        together.Bound.Value!.Value.Should().BeLessThanOrEqualTo(plates.TotalCost).And.BeLessThanOrEqualTo(bars.TotalCost);
    }
}
