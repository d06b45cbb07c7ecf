using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using CsCheck;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;

namespace Nest.Tests.Data;

public sealed class PlanFileTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Random_plans_come_back_as_they_were() => GenPlan.Plans.Sample(
        plan =>
        {
            var path = Path.Combine(folder.Root, $"{Guid.NewGuid():N}.json");
            PlanFile.Write(plan, path).Should().BeEmpty();
            var back = PlanFile.Read(path);
            back.Findings.Should().BeEmpty();
            back.Value.Should().BeEquivalentTo(plan, options => options.AllowingInfiniteRecursion().WithStrictOrdering());
            PlanFile.ToText(back.Value!).Should().Be(PlanFile.ToText(plan));
        },
        iter: 40, threads: 1);

    [Fact]
    public void The_file_has_the_promised_top_level()
    {
        using var json = JsonDocument.Parse(PlanFile.ToText(GenPlan.Small()));
        var root = json.RootElement;
        root.EnumerateObject().Select(property => property.Name).Should().Equal(
            "format", "version", "name", "status", "currency", "totalCost", "lowerBound", "boundSource", "settings", "carriedOver", "gap", "seconds", "seed", "buy", "take",
            "orders", "layouts", "offcuts", "unplaced", "partCosts", "job");
        root.GetProperty("status").GetString().Should().Be("best-found");
        root.GetProperty("gap").GetDecimal().Should().Be(0.25m); // (10 - 8) / 8
        var layout = root.GetProperty("layouts")[0];
        layout.GetProperty("stock").GetString().Should().Be("plate");
        layout.GetProperty("form").GetString().Should().Be("plate");
        layout.GetProperty("count").GetInt32().Should().Be(2);
        layout.GetProperty("pieces")[0].GetProperty("area")[2].GetDecimal().Should().Be(120.000001m);
        var buy = root.GetProperty("buy")[0];
        (buy.GetProperty("count").GetInt32(), buy.GetProperty("total").GetDecimal()).Should().Be((2, 25.5m));
        root.GetProperty("offcuts")[0].GetProperty("keep").GetBoolean().Should().BeTrue();
        root.GetProperty("offcuts")[0].GetProperty("count").GetInt32().Should().Be(2);
    }

    /// <summary>A file as the first version of the program wrote it: no source of the bound, and 0 with a gap of 1 for none.</summary>
    [Theory]
    [InlineData("8.0", "0.25", "8")]
    [InlineData("0", "1", null)]
    public void Version_1_is_still_read(string bound, string gap, string? expected)
    {
        var text = Regex.Replace(PlanFile.ToText(GenPlan.Small()), "\n  \"boundSource\": \"a test\",", "")
            .Replace("\"version\": 3", "\"version\": 1", StringComparison.Ordinal)
            .Replace("\"lowerBound\": 8", $"\"lowerBound\": {bound}", StringComparison.Ordinal)
            .Replace("\"gap\": 0.25", $"\"gap\": {gap}", StringComparison.Ordinal);
        text.Should().NotContain("boundSource");
        var read = PlanFile.Read(folder.Write("old.json", text));
        read.Findings.Should().BeEmpty();
        read.Value!.Bound.Value?.Amount.Should().Be(expected is null ? null : decimal.Parse(expected, CultureInfo.InvariantCulture));
        read.Value.Bound.IsKnown.Should().Be(expected is not null);
    }

    /// <summary>A file without what came with version 3.</summary>
    [Fact]
    public void Version_2_is_still_read()
    {
        var text = PlanFile.ToText(GenPlan.Small());
        var read = PlanFile.Read(folder.Write("old.json", text.Replace("\"version\": 3", "\"version\": 2", StringComparison.Ordinal)));
        read.Findings.Should().BeEmpty();
        PlanFile.ToText(read.Value!).Should().Be(text, "it is written anew as the version of today");
    }

    [Fact]
    public void Version_2_knows_no_longest_stock()
    {
        var plan = GenPlan.Small();
        var text = PlanFile.ToText(plan with { Job = plan.Job with { Saws = [.. plan.Job.Saws.Select(saw => saw with { LongestStock = Length.FromMillimetres(3000) })] } });
        text.Should().Contain("\"longestStock\": 3000,");
        PlanFile.Read(folder.Write("old.json", text.Replace("\"version\": 3", "\"version\": 2", StringComparison.Ordinal)))
            .Findings.Should().ContainSingle().Which.Message.Should().Contain("values that are none of version 2");
    }

    [Fact]
    public void A_bound_without_its_source_is_refused()
    {
        var text = Regex.Replace(PlanFile.ToText(GenPlan.Small()), "\n  \"boundSource\": \"a test\",", "");
        PlanFile.Read(folder.Write("no-source.json", text)).Findings.Should().Contain(finding => finding.Message.Contains("boundSource", StringComparison.Ordinal));
    }

    [Fact]
    public void A_plan_without_a_bound_says_nothing_of_it()
    {
        var text = PlanFile.ToText(GenPlan.Small() with { Bound = Bound.None });
        text.Should().NotContain("lowerBound").And.NotContain("\"gap\"");
        PlanFile.Read(folder.Write("none.json", text)).Value!.Bound.Should().Be(Bound.None);
    }

    [Fact]
    public void A_deep_tree_is_written_and_read()
    {
        var plan = GenPlan.Small();
        var leaf = plan.Layouts[0].Tree!.Children[0];
        var tree = leaf;
        for (var i = 0; i < 5000; i++)
        {
            tree = new() { Kind = CutNodeKind.Split, Area = leaf.Area, Direction = (CutDirection)(i % 2), Children = [tree] };
        }

        plan = plan with { Layouts = [plan.Layouts[0] with { Tree = tree }] };
        var path = Path.Combine(folder.Root, "deep.json");
        PlanFile.Write(plan, path).Should().BeEmpty();
        var back = PlanFile.Read(path).Value!.Layouts[0].Tree!;
        var depth = 0;
        while (back.Kind == CutNodeKind.Split)
        {
            back = back.Children[0];
            depth++;
        }

        depth.Should().Be(5000);
    }

    [Fact]
    public void No_temporary_file_stays_and_an_old_file_is_replaced()
    {
        var path = folder.Write("plan.json", "old");
        PlanFile.Write(GenPlan.Small(), path).Should().BeEmpty();
        Directory.GetFiles(folder.Root).Should().Equal(path);
        PlanFile.Read(path).Value.Should().NotBeNull();
    }

    [Fact]
    public void A_folder_that_is_not_there_is_a_finding()
    {
        var findings = PlanFile.Write(GenPlan.Small(), Path.Combine(folder.Root, "no", "plan.json"));
        findings.Should().ContainSingle().Which.Rule.Should().Be("file-unwritable");
    }

    [Fact]
    public void The_text_is_the_same_in_every_culture()
    {
        var before = CultureInfo.CurrentCulture;
        var text = PlanFile.ToText(GenPlan.Small());
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            PlanFile.ToText(GenPlan.Small()).Should().Be(text);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Theory]
    [InlineData("{", "plan-damaged", 1)]
    [InlineData("[]", "plan-format", 0)]
    [InlineData("{}", "plan-format", 0)]
    [InlineData("{\"format\": 3}", "plan-format", 0)]
    [InlineData("{\"format\": \"nest-plan\"}", "plan-version", 0)]
    [InlineData("{\"format\": \"nest-plan\", \"version\": 4}", "plan-version", 0)]
    [InlineData("{\"format\": \"nest-plan\", \"version\": 1}", "plan-damaged", 1)]
    [InlineData("{\"format\": \"nest-plan\", \"version\": 1,\n \"version\": 1}", "plan-damaged", 2)]
    [InlineData("{\"format\": \"nest-plan\", \"version\": 1,\n \"x\": 1}", "plan-damaged", 2)]
    public void What_is_no_plan_file_is_told(string text, string rule, int row)
    {
        var finding = PlanFile.Read(folder.Write("plan.json", text)).Findings.Should().ContainSingle().Subject;
        finding.Rule.Should().Be(rule);
        finding.Where.Row.Should().Be(row);
        finding.Advice.Should().NotBeEmpty();
    }

    // One change each to a good file; the finding names the line or the place in the plan.
    [Theory]
    [InlineData("\"status\": \"best-found\"", "\"status\": \"perfect\"", "status")]
    [InlineData("\"totalCost\": 10,", "\"totalCost\": \"10\",", "an amount is not a number")]
    [InlineData("\"totalCost\": 10,", "\"totalCost\": 10.00001,", "more than four decimals")]
    [InlineData("\"totalCost\": 10,", "\"totalCost\": 1e300,", "not a number")]
    [InlineData("120.000001", "120.0000001", "six decimals")]
    [InlineData("120.000001", "1e9", "longer than 10 km")]
    [InlineData("\"gap\": 0.25,", "\"gap\": 0,", "gap does not follow")]
    [InlineData("\"total\": 25.5", "\"total\": 25", "buy does not follow")]
    [InlineData("\"saw\": \"saw\",\n      \"count\"", "\"saw\": \"axe\",\n      \"count\"", "layouts[0].saw names no saw of the job: 'axe'")]
    [InlineData("\"part\": \"b\",\n          \"area\"", "\"part\": \"z\",\n          \"area\"", "layouts[0].pieces[1].part names no part of the job: 'z'")]
    [InlineData("\"index\": 1", "\"index\": 7", "leads to no piece")]
    [InlineData("\"index\": 1", "\"index\": 9999999999", "cannot be read")]
    [InlineData("\"count\": 2,\n      \"sheet\"", "\"count\": 0,\n      \"sheet\"", "layouts[0].count")]
    [InlineData("\"form\": \"plate\",\n      \"saw\"", "\"form\": \"round-bar\",\n      \"saw\"", "layouts[0].form is not the form")]
    [InlineData("\"trimmingCut\":", "\"longestStock\": 0, \"trimmingCut\":", "job.saws[0].longestStock is out of range")]
    [InlineData("\"density\": 2700", "\"density\": 0", "job.materials[0] is out of range")]
    [InlineData("\"quantity\": 3,", "\"quantity\": 2000000,", "job.parts[0].quantity")]
    [InlineData("\"mill\": {", "\"useFirst\": { \"names\": [], \"olderThanDays\": -1 }, \"mill\": {", "job.useFirst is out of range")]
    [InlineData("\"layouts\": [", "\"layuots\": [", "layuots")]
    public void A_damaged_plan_is_told(string good, string bad, string says)
    {
        var text = PlanFile.ToText(GenPlan.Small());
        text.Should().Contain(good);
        var at = text.IndexOf(good, StringComparison.Ordinal);
        var result = PlanFile.Read(folder.Write("plan.json", string.Concat(text.AsSpan(0, at), bad, text.AsSpan(at + good.Length))));
        result.Value.Should().BeNull();
        result.Findings.Should().Contain(finding => finding.ToString().Contains(says));
        result.Findings[0].Message.Should().NotContain("Nest.");
    }

    [Fact]
    public void Nesting_without_end_is_told() =>
        PlanFile.Read(folder.Write("plan.json", new string('[', 1_000_000))).Findings.Should().ContainSingle().Which.Rule.Should().Be("plan-damaged");

    [Fact]
    public void A_plan_with_one_byte_changed_or_cut_short_never_throws()
    {
        var good = System.Text.Encoding.UTF8.GetBytes(PlanFile.ToText(GenPlan.Small()));
        var random = new Random(11);
        for (var i = 0; i < 1500; i++)
        {
            var bytes = i % 3 == 0 ? good[..random.Next(good.Length - 2)] : (byte[])good.Clone();
            if (i % 3 != 0)
            {
                bytes[random.Next(bytes.Length)] = i % 3 == 1 ? (byte)random.Next(256) : (byte)"0123456789-.eE[]{}\",:"[random.Next(21)];
            }

            var result = PlanFile.Read(folder.Write("plan.json", bytes));
            (result.Value is null).Should().Be(result.HasErrors);
        }
    }
}
