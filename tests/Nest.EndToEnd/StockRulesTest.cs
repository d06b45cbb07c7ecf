namespace Nest.EndToEnd;

/// <summary>What the owner does not want parts to come from: in the job file and on the command line, checked, and near misses told.</summary>
public class StockRulesTest
{
    // Invented. The 12 mm plate is the cheapest way for both parts, the 10 mm one serves neither: 10 mm finished want 1 mm of facing.
    private const string Metal = """
        id,form,material,thickness,width,length,price,supplier,good faces
        P10,plate,6061-T6,10,500,1000,60,Kestrel (invented),
        P12,plate,6061-T6,12,500,1000,70,Kestrel (invented),
        P15,plate,6061-T6,15,500,1000,90,Kestrel (invented),
        P20,plate,6061-T6,20,500,1000,110,Plover (invented),
        B10,flat bar,6061-T6,10,40,1000,9,Plover (invented),yes

        """;

    private const string Parts = "part,material,length,width,thickness,quantity,forms\nlug,6061-T6,120,40,10,4,any\narm,6061-T6,200,80,10,2,plate\n";

    private static string Job(Run run, string rules = "")
    {
        run.Write("parts.csv", Parts);
        run.Write("metal.csv", Metal);
        return run.Write("job.toml", "parts = \"parts.csv\"\nsaws = \"starter\"\ncatalogue = \"metal.csv\"\n" + rules);
    }

    private static string Blanks(Run run, string job, params string[] more)
    {
        run.Nest(["blanks", job, "--all", .. more]);
        return run.Out;
    }

    [Theory]
    [InlineData("leave_out = [\"P12\"]\n", "lug P15 P20, arm P15 P20")]
    [InlineData("not_from = \"kestrel (invented)\"\n", "lug P20, arm P20")]
    [InlineData("[[stock_rule]]\npart = \"LUG\"\nonly = \"p20\"\n", "lug P20, arm P12 P15 P20")]
    [InlineData("[[stock_rule]]\npart = [\"lug\", \"arm\"]\nat_most_thicker = 5\n", "lug P12 P15, arm P12 P15")]
    [InlineData("[[stock_rule]]\nat_most_thicker = 2\n[[stock_rule]]\npart = \"arm\"\nleave_out = \"P12\"\n", "lug P12, arm ")]
    [InlineData("[[stock_rule]]\npart = \"arm\"\nnot_from = [\"Plover (invented)\"]\n", "lug P12 P15 P20, arm P12 P15")]
    public void Rules_of_the_job_file_leave_stock_out(string rules, string left)
    {
        using var run = new Run();
        Served(Blanks(run, Job(run, rules))).Should().Be(left);
    }

    [Theory]
    [InlineData("lug P15 P20, arm P15 P20", "--leave-out", "P12")]
    [InlineData("lug P12 P15 P20, arm P15 P20", "--leave-out", "arm=P12")]
    [InlineData("lug P15 P12, arm P12 P15 P20", "--only", "lug=P12,P15")]
    [InlineData("lug P20, arm P20", "--not-from", "Kestrel (invented)")]
    [InlineData("lug P12 P15, arm P12 P15 P20", "--at-most-thicker", "lug=5")]
    public void So_do_those_of_the_command_line(string left, params string[] more)
    {
        using var run = new Run();
        Served(Blanks(run, Job(run), more)).Split(", ").Select(part => string.Join(' ', part.Split(' ').Order(StringComparer.Ordinal)))
            .Should().Equal(left.Split(", ").Select(part => string.Join(' ', part.Split(' ').Order(StringComparer.Ordinal))));
    }

    [Fact]
    public void A_plan_keeps_to_them_and_the_checker_looks()
    {
        using var run = new Run();
        run.Nest("plan", Job(run, "leave_out = \"P12\"\n"), "--not-from", "Plover (invented)", "--work", "5000", "--out", run.Path("out")).Should().Be(0, run.Error);
        var text = File.ReadAllText(run.Path("out/data/plan.json"));
        text.Should().Contain("\"stock\": \"P15\"").And.NotContain("\"stock\": \"P12\"").And.NotContain("\"stock\": \"P20\"");
        run.Nest("check", run.Path("out/data/plan.json")).Should().Be(0, run.Error);

        // The rule in the file says P15 now: only the checker can find that.
        var rule = text.IndexOf("\"stockRules\"", StringComparison.Ordinal);
        rule.Should().BePositive();
        run.Write("out/data/plan.json", text[..rule] + System.Text.RegularExpressions.Regex.Replace(text[rule..], "\"P12\"", "\"P15\""));
        run.Nest("check", run.Path("out/data/plan.json")).Should().Be(4);
        (run.Out + run.Error).Should().Contain("lug must not come from P15: it is left out");
    }

    [Theory]
    [InlineData("leave_out = \"P21\"\n", "job.toml:4:", "no stock that the parts could use is called 'P21'", 0)]
    [InlineData("[[stock_rule]]\npart = \"lugg\"\nonly = \"P20\"\n", "job.toml:5:", "the job has no part 'lugg'", 2)]
    [InlineData("[[stock_rule]]\npart = \"lug\"\n", "job.toml:", "the rule says nothing", 2)]
    [InlineData("[[stock_rule]]\nthicker = 2\n", "job.toml:5:", "there is no setting", 2)]
    public void What_means_nothing_is_told_with_its_place(string rules, string where, string says, int exit)
    {
        using var run = new Run();
        run.Nest("blanks", Job(run, rules)).Should().Be(exit);
        run.Error.Should().Contain(where).And.Contain(says);
    }

    [Theory]
    [InlineData("--leave-out", "P21", "there is no stock 'P21'")]
    [InlineData("--only", "P20", "it wants a part in front of the stock")]
    [InlineData("--not-from", "Nobody", "nothing is sold by 'Nobody'")]
    [InlineData("--at-most-thicker", "thin", "'thin'")]
    public void On_the_command_line_it_is_refused(string option, string value, string says)
    {
        using var run = new Run();
        run.Nest("plan", Job(run), option, value, "--out", run.Path("out")).Should().Be(2);
        run.Error.Should().Contain(says);
        Directory.Exists(run.Path("out")).Should().BeFalse();
    }

    // By hand, starter allowances: 0.5 mm of facing on each face, 1.5 mm on each sawn side: the lug wants 11 mm and 43 × 11 of a bar.
    [Fact]
    public void Near_misses_are_told()
    {
        using var run = new Run();
        var text = Blanks(run, Job(run, "leave_out = \"P20\"\n"));
        text.Should().Contain("  not P10: would do if its faces (good enough to stay) stayed (blank needs 11 mm thickness, P10 has 10 mm: 1 mm too little)")
            .And.Contain("  not B10: would do if its faces and sides stayed (")
            .And.Contain("  not P20: left out by the job's rules");
        run.Nest("blanks", Job(run));
        run.Out.Should().NotContain("would do");
    }

    /// <summary>Stock by part, as 'nest blanks' names it.</summary>
    private static string Served(string text)
    {
        var parts = new List<string>();
        foreach (var line in text.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!line.StartsWith(' '))
            {
                parts.Add(line[..line.IndexOf(':', StringComparison.Ordinal)] + " ");
            }
            else if (System.Text.RegularExpressions.Regex.Match(line, "^  ([PB][0-9]+): ") is { Success: true } match)
            {
                parts[^1] = (parts[^1] + " " + match.Groups[1].Value).Replace("  ", " ", StringComparison.Ordinal);
            }
        }

        return string.Join(", ", parts);
    }
}
