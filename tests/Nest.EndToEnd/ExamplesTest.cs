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
public class ExamplesTest(ITestOutputHelper output, ExamplesTest.Planned planned) : IClassFixture<ExamplesTest.Planned>
{
    internal sealed record Limits(
        string Why, long Work, int Seed, int PartTypes, int Pieces, int PartsCut, decimal MaxCost, decimal MaxGap);

    private static readonly JsonSerializerOptions Names = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    [Theory]
    [InlineData("cargo-bike")]
    [InlineData("cargo-bike-inch")]
    [InlineData("models-only")]
    [InlineData("bench-frame")]
    public void Example_is_planned_within_its_limits_and_passes_its_check(string name)
    {
        var limits = LimitsOf(name);
        var run = planned.Of(name);
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

    private static Limits LimitsOf(string name) => JsonSerializer.Deserialize<Limits>(
        File.ReadAllText(Path.Combine(Repo.Example(name), "expected", "limits.json")), Names)!;

    private static void Plan(Run run, string name, string folder)
    {
        var limits = LimitsOf(name);
        run.Nest(
            "plan", Path.Combine(Repo.Example(name), "job.toml"), "--out", run.Path(folder),
            "--work", limits.Work.ToString(CultureInfo.InvariantCulture), "--seed", limits.Seed.ToString(CultureInfo.InvariantCulture)).Should().Be(0, run.Error);
    }

    /// <summary>The folder <c>out</c> of each example, planned once for all tests that look at it.</summary>
    public sealed class Planned : IDisposable
    {
        private readonly Dictionary<string, Run> runs = new(StringComparer.Ordinal);

        internal Run Of(string name)
        {
            if (!runs.TryGetValue(name, out var run))
            {
                run = new();
                Plan(run, name, "out");
                runs.Add(name, run);
            }

            return run;
        }

        public void Dispose()
        {
            foreach (var run in runs.Values)
            {
                run.Dispose();
            }
        }
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
        // Two runs of the example that is planned in the least time; the script above compares the large ones.
        var run = planned.Of("models-only");
        using var again = new Run();
        Plan(again, "models-only", "out");

        var names = Directory.GetFiles(run.Path("out"), "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(run.Path("out"), file)).Order(StringComparer.Ordinal).ToList();
        Directory.GetFiles(again.Path("out"), "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(again.Path("out"), file)).Order(StringComparer.Ordinal).Should().Equal(names);
        foreach (var file in names)
        {
            File.ReadAllBytes(again.Path("out/" + file)).AsSpan().SequenceEqual(File.ReadAllBytes(run.Path("out/" + file))).Should().BeTrue(file);
        }
    }
}
