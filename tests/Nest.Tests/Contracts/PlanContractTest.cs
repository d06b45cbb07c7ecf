using CsCheck;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Tests.Check;
using Nest.Tests.Data;
using Nest.Tests.Output;

namespace Nest.Tests.Contracts;

/// <summary>The plan file is what its schema and its text say: an outside program can rely on both.</summary>
public sealed class PlanContractTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    private static IEnumerable<Plan> Samples =>
    [
        SamplePlans.Brackets(), SamplePlans.Brackets(LengthUnit.Inch), SamplePlans.Inches(), SamplePlans.HugeAndTiny(), SamplePlans.LongNames(),
        SamplePlans.Mitred(), SamplePlans.Ordered(), TestPlan.Good(),
    ];

    [Fact]
    public void Every_value_of_a_plan_file_is_in_the_schema() =>
        GenPlan.Plans.Sample(plan => Schema.Plan.Errors(PlanFile.ToText(plan)).Should().BeEmpty(), iter: 40, threads: 1);

    [Fact]
    public void The_sample_plans_are_as_the_schema_has_them()
    {
        foreach (var plan in Samples)
        {
            Schema.Plan.Errors(PlanFile.ToText(plan)).Should().BeEmpty(plan.Job.Name);
        }
    }

    [Theory]
    [InlineData("\"seed\": 0", "\"seed\": 0, \"mood\": 1")]
    [InlineData("\"seed\": 0,", "")]
    [InlineData("\"version\": 3", "\"version\": 4")]
    [InlineData("\"status\": \"best-found\"", "\"status\": \"optimal\"")]
    [InlineData("\"boundSource\": \"a test\",", "")]
    [InlineData("\"kerf\": 3", "\"kerf\": \"3 mm\"")]
    [InlineData("\"kerf\": 3", "\"kerf\": 3.0000001")]
    [InlineData("\"forms\": \"any\"", "\"forms\": \"tube\"")]
    [InlineData("[0, 0, 500, 300]", "[0, 0, 500]")]
    public void The_schema_refuses_what_is_not_a_plan(string part, string other)
    {
        var text = PlanFile.ToText(GenPlan.Small());
        text.Should().Contain(part);
        Schema.Plan.Errors(text.Replace(part, other, StringComparison.Ordinal)).Should().NotBeEmpty();
    }

    [PythonFact]
    public void The_second_checker_agrees_on_made_plans_of_plates_and_bars()
    {
        // Written first, so that one start of Python checks them all.
        var files = new List<string> { Write(TestPlan.Good()), Write(TestPlan.Good() with { Job = Room(3000) }) };
        RandomPlans.Plates.Where(plan => plan.Layouts[0].Pieces.Length > 0).Sample(plan => files.Add(Write(plan)), iter: 60, threads: 1, seed: "0001dkHSvBgK");
        RandomPlans.Bars.Sample(plan => files.Add(Write(plan)), iter: 60, threads: 1, seed: "0001dkHSvBgK");
        var (code, text) = SecondChecker.Check(files);
        code.Should().Be(0, text);
        text.Split('\n').Count(line => line.EndsWith(": OK", StringComparison.Ordinal)).Should().Be(files.Count);
    }

    /// <summary>The good plan's job; its longest stock is a bar of 3 m.</summary>
    private static Job Room(decimal longest) => TestPlan.Good().Job with { Saws = [.. TestPlan.Good().Job.Saws.Select(saw => saw with { LongestStock = Length.FromMillimetres(longest) })] };

    /// <summary>One value changed by hand in a plan that is right; each must be told.</summary>
    [PythonFact]
    public void The_second_checker_tells_of_every_changed_value()
    {
        var good = TestPlan.Good();
        var layout = good.Layouts[0];
        var unit = Money.FromUnits(1);
        var nanometre = Length.FromNanometres(1);
        Plan[] broken =
        [
            good with { TotalCost = good.TotalCost + unit },
            With(layout with { Cost = layout.Cost with { Saw = layout.Cost.Saw + unit } }),
            With(layout with { Cost = layout.Cost with { Facing = layout.Cost.Facing + unit } }),
            With(layout with { Cost = layout.Cost with { ScrapCredit = layout.Cost.ScrapCredit + unit } }),
            With(layout with { Pieces = layout.Pieces.SetItem(0, layout.Pieces[0] with { Area = layout.Pieces[0].Area with { X = layout.Pieces[0].Area.X + nanometre } }) }),
            With(layout with { Trims = layout.Trims with { Left = layout.Trims.Left + nanometre } }),
            With(layout with { Count = layout.Count + 1 }),
            good with { PartCosts = good.PartCosts.SetItem(0, good.PartCosts[0] with { Metal = good.PartCosts[0].Metal + unit }) },
            good with { Orders = [] },
            good with { Job = good.Job with { Batch = good.Job.Batch + 1 } },
            good with { Job = good.Job with { Saws = [.. good.Job.Saws.Select(saw => saw with { Kerf = saw.Kerf + nanometre })] } },
            good with { Job = Room(2999) },
            good with { Job = good.Job with { Mill = good.Job.Mill with { HourlyRate = good.Job.Mill.HourlyRate * 2 } } },
        ];
        var (_, text) = SecondChecker.Check(broken.Select(Write));
        text.Split('\n').Count(line => line.EndsWith(" differ", StringComparison.Ordinal)).Should().Be(broken.Length, text);

        Plan With(Layout changed) => good with { Layouts = good.Layouts.SetItem(0, changed) };
    }

    private string Write(Plan plan) => folder.Write($"{Guid.NewGuid():N}.json", PlanFile.ToText(plan));
}
