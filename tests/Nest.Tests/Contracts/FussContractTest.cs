using Nest.Core.Plans;
using Nest.Data;
using Nest.Tests.Costing;
using Nest.Tests.Data;

namespace Nest.Tests.Contracts;

/// <summary>Loading, ordering and further sizes in the plan file are what its text and its schema say of them.</summary>
public sealed class FussContractTest : IDisposable
{
    private static readonly Plan Plan = FussTest.Sample();

    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void A_plan_with_fuss_and_a_kept_layout_is_as_the_schema_has_it()
    {
        var text = PlanFile.ToText(Plan with { Layouts = [Plan.Layouts[0] with { Kept = true }, .. Plan.Layouts.Skip(1)] });
        text.Should().Contain("\"fuss\"").And.Contain("\"kept\": true").And.Contain("\"ordering\": 18,");
        Schema.Plan.Errors(text).Should().BeEmpty();
    }

    [Fact]
    public void An_older_version_has_no_fuss()
    {
        var old = PlanFile.ToText(Plan).Replace("\"version\": 3", "\"version\": 2", StringComparison.Ordinal);
        PlanFile.Read(folder.Write("old.json", old)).Findings.Should().ContainSingle().Which.Message.Should().Contain("values that are none of version 2");
    }

    /// <summary>One value changed by hand in a plan that is right; each must be told.</summary>
    [PythonFact]
    public void The_second_checker_agrees_and_tells_of_every_changed_charge()
    {
        var good = PlanFile.ToText(Plan);
        (string Old, string New)[] changes =
        [
            ("\"loading\": 8,", "\"loading\": 8.0001,"), ("\"ordering\": 18,", "\"ordering\": 17,"), ("  \"ordering\": 18,\n", ""),
            ("\"furtherSizes\": 25,", "\"furtherSizes\": 50,"), ("\"loadMinutes\": 6,", "\"loadMinutes\": 7,"),
            ("\"orderLineMinutes\": 4,", "\"orderLineMinutes\": 5,"), ("\"supplierMinutes\": 20,", "\"supplierMinutes\": 21,"),
            ("\"furtherSizeMinutes\": 25", "\"furtherSizeMinutes\": 26"), ("\"id\": \"lug\",", "\"id\": \"lug\", \"oneSize\": true,"),
            ("\"id\": \"lug\",", "\"id\": \"lug\", \"oneStock\": true,"), ("\"id\": \"lug\",", "\"id\": \"lug\", \"certificate\": true,"),
        ];
        foreach (var (old, _) in changes)
        {
            good.Should().Contain(old);
        }

        var files = changes.Select((change, at) => folder.Write($"{at}.json", good.Replace(change.Old, change.New, StringComparison.Ordinal)));
        var (_, text) = SecondChecker.Check([folder.Write("good.json", good), .. files]);
        var lines = text.Split('\n');
        lines[0].Should().EndWith("good.json: OK", text);
        lines.Count(line => line.EndsWith(" differ", StringComparison.Ordinal)).Should().Be(changes.Length, text);
        text.Should().Contain("ordering: is 17, it must be 18");
    }
}
