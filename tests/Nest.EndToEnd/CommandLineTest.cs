using System.Text.Json;

namespace Nest.EndToEnd;

/// <summary>The command line's contract: exit codes, errors all at once, nothing written when refused.</summary>
public class CommandLineTest
{
    private const string Head = "part,material,length,width,thickness,quantity,forms\n";

    [Theory]
    [InlineData()]
    [InlineData("fold")]
    [InlineData("plan")]
    [InlineData("plan", "job.toml", "--seconds", "-3")]
    [InlineData("plan", "job.toml", "--nonsense")]
    [InlineData("plan", "job.toml", "--seconds", "soon")]
    [InlineData("plan", "job.toml", "--date", "2026-02-30")]
    public void A_wrong_command_line_is_exit_code_1(params string[] args)
    {
        using var run = new Run();

        run.Nest(args).Should().Be(1);
        run.Error.Should().NotBeEmpty().And.NotContain("   at ");
    }

    [Fact]
    public void All_errors_of_a_parts_list_come_at_once_with_their_place_and_nothing_is_written()
    {
        using var run = new Run();
        var file = run.Write("parts.csv", Head + "a,6061-T6,-5,20,5,1,plate\nb,unobtainium,50,20,5,1,plate\nc,6061-T6,50,20,5,none,plate\n");

        run.Nest("plan", file, "--out", run.Path("out")).Should().Be(2);

        run.Error.Should().Contain("parts.csv:2:3").And.Contain("parts.csv:3:2").And.Contain("parts.csv:4:6").And.NotContain("   at ");
        Directory.Exists(run.Path("out")).Should().BeFalse();
    }

    [Fact]
    public void A_bare_parts_list_is_planned_on_the_starter_catalogue()
    {
        using var run = new Run();
        var file = run.Write("parts.csv", Head + "lug,6082-T6,50,30,8,12,any\nbar,S235JR,220,30,6,6,flat bar\n");

        run.Nest("plan", file, "--out", run.Path("out"), "--work", "10000").Should().Be(0, run.Error);
        run.Nest("check", run.Path("out/data/plan.json")).Should().Be(0);
    }

    [Fact]
    public void Day_and_decimal_comma_are_on_the_sheets_but_not_in_the_lists()
    {
        using var run = new Run();
        var file = run.Write("parts.csv", Head + "bar,S235JR,220.5,30,6,6,flat bar\n");

        run.Nest("plan", file, "--out", run.Path("out"), "--work", "10000", "--date", "2026-11-25", "--decimal-comma").Should().Be(0, run.Error);

        File.ReadAllText(run.Path("out/tablet.html")).Should().Contain("2026-11-25").And.MatchRegex(@"[>\s][0-9]+,[0-9]+ mm\b").And.NotMatchRegex(@"[0-9]\.[0-9]+ mm\b");
        File.ReadAllText(run.Path("out/data/cuts.csv")).Should().NotContain("2026-11-25").And.MatchRegex(@"[;,][0-9]+\.[0-9]+[;,]");
        run.Nest("check", run.Path("out/data/plan.json")).Should().Be(0);
    }

    [Fact]
    public void An_impossible_part_is_named_with_the_reason_and_the_rest_is_planned()
    {
        using var run = new Run();
        var file = run.Write("parts.csv", Head + "lug,6082-T6,50,30,8,12,any\ngiant,6082-T6,9000,2500,8,1,plate\n");

        run.Nest("plan", file, "--out", run.Path("out"), "--work", "10000", "--json").Should().Be(3);

        using var plan = JsonDocument.Parse(run.Out);
        var unplaced = plan.RootElement.GetProperty("unplaced");
        unplaced.GetArrayLength().Should().Be(1);
        unplaced[0].GetProperty("part").GetString().Should().Be("giant");
        unplaced[0].GetProperty("reason").GetString().Should().NotBeEmpty();
        plan.RootElement.GetProperty("layouts").GetArrayLength().Should().BeGreaterThan(0);
        foreach (var name in new[] { "status", "currency", "totalCost", "lowerBound", "gap", "seconds", "layouts", "buy", "offcuts", "unplaced" })
        {
            plan.RootElement.TryGetProperty(name, out _).Should().BeTrue(name);
        }
    }

    [Fact]
    public void A_plan_changed_by_hand_is_refused_with_exit_code_4()
    {
        using var run = new Run();
        var file = run.Write("parts.csv", Head + "lug,6082-T6,50,30,8,12,any\n");
        run.Nest("plan", file, "--out", run.Path("out"), "--work", "10000").Should().Be(0, run.Error);
        var path = run.Path("out/data/plan.json");
        // The lug grows by a tenth of a millimetre in the job's snapshot: every blank is now too small.
        var text = File.ReadAllText(path);
        var changed = text.Replace("\"length\": 50,", "\"length\": 50.1,", StringComparison.Ordinal);
        changed.Should().NotBe(text);
        File.WriteAllText(path, changed);

        run.Nest("check", path).Should().Be(4);
        run.Out.Should().Contain("REFUSED");
    }

    [Fact]
    public void A_file_that_is_no_plan_is_refused_with_exit_code_2()
    {
        using var run = new Run();

        run.Nest("check", run.Write("plan.json", "{ \"format\": ")).Should().Be(2);
        run.Nest("check", run.Path("none.json")).Should().Be(2);
        run.Error.Should().NotContain("   at ");
    }

    [Fact]
    public void Help_names_every_command()
    {
        using var run = new Run();

        run.Nest("--help").Should().Be(0);
        run.Out.Should().Contain("plan <job>").And.Contain("check <plan>").And.Contain("blanks <job>").And.Contain("rack");
        run.Nest("plan", "--help").Should().Be(0);
        run.Out.Should().Contain("--out").And.Contain("--seconds").And.Contain("--seed").And.Contain("--json");
    }
}
