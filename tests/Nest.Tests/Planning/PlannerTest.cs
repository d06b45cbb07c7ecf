using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output;
using Nest.Planning;
using Nest.Tests.Makers;

namespace Nest.Tests.Planning;

/// <summary>The facade: one call from a job to a checked plan with part costs, and drawings into streams.</summary>
public class PlannerTest
{
    private static readonly PlanOptions Little = new() { Work = 2_000 };

    [Fact]
    public void A_plan_has_its_part_costs_and_passes_the_checker()
    {
        var result = Planner.Plan(JobMaker.Random(3, plates: false), Little);

        result.Refused.Should().BeFalse();
        result.Plan!.PartCosts.Should().NotBeEmpty();
        Planner.Check(result.Plan).Should().BeEmpty();
    }

    [Fact]
    public async Task Beside_the_callers_work_it_gives_the_same_plan_and_tells_how_far_it_is()
    {
        var job = JobMaker.Random(3, plates: false);
        var steps = new Steps();

        var result = await Planner.PlanAsync(job, Little, steps);

        result.Plan!.TotalCost.Should().Be(Planner.Plan(job, Little).Plan!.TotalCost);
        steps.Count.Should().BePositive();
    }

    [Fact]
    public async Task A_request_to_end_that_is_there_from_the_start_still_gives_a_plan()
    {
        using var cancelled = new CancellationTokenSource();
        await cancelled.CancelAsync();

        var result = await Planner.PlanAsync(JobMaker.Random(2), Little, null, cancelled.Token);

        result.Plan!.Unplaced.Should().BeEmpty();
    }

    [Fact]
    public void A_job_that_is_wrong_comes_back_with_findings_and_without_a_plan()
    {
        var job = JobMaker.Random(3, plates: false);

        var result = Planner.Plan(job with { Parts = [job.Parts[0] with { Quantity = -1 }] }, Little);

        result.Plan.Should().BeNull();
        result.Refused.Should().BeFalse("the job is wrong, not the planner");
        result.Findings.HasErrors().Should().BeTrue();
    }

    [Fact]
    public void A_file_that_is_no_plan_is_told_apart_from_a_plan_that_must_not_be_cut()
    {
        var folder = Directory.CreateTempSubdirectory("nest-facade-");
        try
        {
            var path = Path.Combine(folder.FullName, "plan.json");
            var plan = Planner.Plan(JobMaker.Random(3, plates: false), Little).Plan!;
            Planner.Save(plan, path).Should().BeEmpty();
            Planner.Load(path).Plan!.TotalCost.Should().Be(plan.TotalCost);

            File.WriteAllText(path, "{}");
            var none = Planner.Load(path);

            none.Plan.Should().BeNull();
            none.Refused.Should().BeFalse();
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Theory]
    [InlineData(PictureFormat.Png, "89504E47")]
    [InlineData(PictureFormat.Svg, "3C3F786D")]
    [InlineData(PictureFormat.Dxf, "")]
    [InlineData(PictureFormat.FullSizeSvg, "3C")]
    public void One_layout_is_drawn_into_a_stream(PictureFormat format, string begins)
    {
        var plan = Planner.Plan(JobMaker.Random(3, plates: false), Little).Plan!;
        using var stream = new MemoryStream();

        PlanDrawing.Layout(plan, plan.Layouts[0].Number, format, stream);

        Convert.ToHexString(stream.ToArray()).Should().StartWith(begins);
        stream.Length.Should().BeGreaterThan(200);
        FluentActions.Invoking(() => PlanDrawing.Layout(plan, 0, format, stream)).Should().Throw<ArgumentOutOfRangeException>();
    }

    [Fact]
    public void The_cut_sheet_is_drawn_into_a_stream()
    {
        var plan = Planner.Plan(JobMaker.Random(3, plates: false), Little).Plan!;
        using var stream = new MemoryStream();

        PlanDrawing.CutSheet(plan, Paper.A4, stream);

        Convert.ToHexString(stream.ToArray()).Should().StartWith("25504446", "a PDF begins with %PDF");
    }

    private sealed class Steps : IProgress<Nest.Solve.SolveProgress>
    {
        private int _count;

        public int Count => _count;

        public void Report(Nest.Solve.SolveProgress value) => Interlocked.Increment(ref _count);
    }
}
