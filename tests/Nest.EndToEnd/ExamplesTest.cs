using System.Globalization;
using System.Text.Json;
using Nest.Check;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Tests.Contracts;
using Xunit.Abstractions;

namespace Nest.EndToEnd;

/// <summary>Every example is planned as a user would, with limits kept as data in its folder.</summary>
public class ExamplesTest(ITestOutputHelper output)
{
    private sealed record Limits(
        string Why, long Work, int Seed, int PartTypes, int Pieces, int PartsCut, decimal MaxCost, decimal MaxGap);

    private static readonly JsonSerializerOptions Names = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    [Theory]
    [InlineData("cargo-bike")]
    [InlineData("cargo-bike-inch")]
    [InlineData("models-only")]
    [InlineData("bench-frame")]
    public void Example_is_planned_within_its_limits_and_passes_its_check(string name)
    {
        var limits = JsonSerializer.Deserialize<Limits>(
            File.ReadAllText(Path.Combine(Repo.Example(name), "expected", "limits.json")), Names)!;
        using var run = new Run();

        var code = run.Nest(
            "plan", Path.Combine(Repo.Example(name), "job.toml"), "--out", run.Path("out"),
            "--work", limits.Work.ToString(CultureInfo.InvariantCulture), "--seed", limits.Seed.ToString(CultureInfo.InvariantCulture));

        code.Should().Be(0, run.Error);
        var plan = PlanFile.Read(run.Path("out/data/plan.json")).Value!;
        PlanChecker.Check(plan).Should().BeEmpty();
        Schema.Plan.Errors(File.ReadAllText(run.Path("out/data/plan.json"))).Should().BeEmpty();
        AgreesWithTheSecondChecker(run.Path("out/data/plan.json"));
        plan.Unplaced.Should().BeEmpty();
        plan.Job.Parts.Length.Should().BeGreaterThanOrEqualTo(limits.PartTypes);
        var pieces = plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length);
        pieces.Should().Be(limits.PartsCut).And.BeGreaterThanOrEqualTo(limits.Pieces);
        plan.TotalCost.Amount.Should().BeLessThanOrEqualTo(limits.MaxCost);
        plan.Gap.Should().NotBeNull();
        plan.Gap!.Value.Should().BeLessThanOrEqualTo(limits.MaxGap);
        plan.Bound.Value!.Value.Should().BeGreaterThan(Core.Quantities.Money.Zero);
        plan.Status.Should().BeOneOf(SolveStatus.Proven, SolveStatus.BestFound);

        var order = CutSequencer.Order(plan);
        order.Items.Select(item => item.Layout).Should().Equal(Enumerable.Range(1, order.Items.Count()), "layouts are numbered as they are cut");
        output.WriteLine(
            $"{name}: {order.Cuts} cuts, {order.Settings} settings, {order.Minutes:0.0} min");

        // A picture of every layout that is cut here, the sheets, the lists; three files for people on top.
        foreach (var layout in plan.Layouts)
        {
            File.Exists(run.Path($"out/pictures/layout-{layout.Number:000}.png")).Should().Be(plan.StockOf(layout).CutFor is null);
        }

        foreach (var file in new[] { "data/buy.csv", "data/cuts.csv", "cut-sheet.pdf", "buy.pdf" })
        {
            new FileInfo(run.Path("out/" + file)).Length.Should().BeGreaterThan(100, file);
        }

        Directory.GetFiles(run.Path("out")).Select(Path.GetFileName).Should().BeEquivalentTo("cut-sheet.pdf", "buy.pdf", "tablet.html");

        run.Nest("check", run.Path("out/data/plan.json")).Should().Be(0);
        run.Out.Should().StartWith("OK");
    }

    // Without Python the gate's own run of it, and the skipped tests of Nest.Tests.Contracts, say that it was left out.
    private void AgreesWithTheSecondChecker(string plan)
    {
        if (SecondChecker.Python is null)
        {
            output.WriteLine("Python 3 is not on the path: the second checker was not run.");
            return;
        }

        var (code, text) = SecondChecker.Check(plan);
        code.Should().Be(0, text);
    }

    /// <summary><c>tests/Nest.Bench/repeat.sh</c> compares more runs, in other languages and folders.</summary>
    [Fact]
    public void The_same_input_seed_and_work_give_the_same_bytes()
    {
        using var run = new Run();
        var job = Path.Combine(Repo.Example("cargo-bike-inch"), "job.toml");

        run.Nest("plan", job, "--out", run.Path("a"), "--work", "150000").Should().Be(0);
        run.Nest("plan", job, "--out", run.Path("b"), "--work", "150000").Should().Be(0);

        var names = Directory.GetFiles(run.Path("a"), "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(run.Path("a"), file)).Order(StringComparer.Ordinal).ToList();
        Directory.GetFiles(run.Path("b"), "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(run.Path("b"), file)).Order(StringComparer.Ordinal).Should().Equal(names);
        foreach (var file in names)
        {
            File.ReadAllBytes(run.Path("b/" + file)).AsSpan().SequenceEqual(File.ReadAllBytes(run.Path("a/" + file))).Should().BeTrue(file);
        }
    }
}
