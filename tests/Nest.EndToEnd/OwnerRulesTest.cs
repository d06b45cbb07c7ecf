namespace Nest.EndToEnd;

/// <summary>Fuss, rules for a part's stock, leftovers that go first and layouts that stay: in lists, job file and on the command line.</summary>
public class OwnerRulesTest
{
    // Invented. Blanks of the lug are 123 × 43 × 11: rack piece A gives four of the six, in 12 mm; 15 mm is the cheaper plate to buy.
    private const string Metal = """
        id,form,material,thickness,width,length,price,supplier
        P12,plate,6061-T6,12,200,400,30,Kestrel (invented)
        P15,plate,6061-T6,15,200,400,26,Plover (invented)

        """;

    private const string Rack = "mark,form,material,thickness,width,length,value,heat,clean edges\nA,plate,6061-T6,12,100,300,9,H77,all\nB,plate,6061-T6,15,400,400,35,,all\n";

    private static string Job(Run run, string rules = "", string columns = "", string cells = "")
    {
        run.Write("parts.csv", $"part,material,length,width,thickness,quantity,forms{columns}\nlug,6061-T6,120,40,10,6,plate{cells}\n");
        run.Write("metal.csv", Metal);
        run.Write("rack.csv", Rack);
        return run.Write("job.toml", "parts = \"parts.csv\"\nrack = \"rack.csv\"\nsaws = \"starter\"\ncatalogue = \"metal.csv\"\n" + rules
            + "[[supplier]]\nname = \"Kestrel (invented)\"\ngives_certificates = true\n");
    }

    private static string[] Planned(Run run, string job, params string[] more)
    {
        run.Nest(["plan", job, "--work", "500", "--out", run.Path("out"), .. more]).Should().Be(0, run.Error);
        return [.. System.Text.RegularExpressions.Regex.Matches(File.ReadAllText(run.Path("out/data/plan.json")), "\"number\": [0-9]+,\\s+\"stock\": \"([^\"]+)\"")
            .Select(match => match.Groups[1].Value).Distinct().Order(StringComparer.Ordinal)];
    }

    [Theory]
    [InlineData("", ",one size", ",yes")]
    [InlineData("[[stock_rule]]\npart = \"lug\"\none_size = true\n", "", "")]
    [InlineData("[[stock_rule]]\none_stock = true\n", "", "")]
    [InlineData("[fuss]\nfurther_size_minutes = 60\n", "", "")]
    public void A_part_comes_in_one_size_where_that_is_asked_or_pays(string rules, string columns, string cells)
    {
        using var run = new Run();
        var stocks = Planned(run, Job(run, rules, columns, cells));
        stocks.Select(stock => stock is "P12" or "rack-A").Distinct().Should().ContainSingle();
        run.Nest("check", run.Path("out")).Should().Be(0, run.Error);
    }

    [Fact]
    public void Certificates_count_by_heat_and_supplier()
    {
        using var run = new Run();
        Planned(run, Job(run), "--certificate", "lug").Should().NotContain("rack-B");
        Planned(run, Job(run, "[[stock_rule]]\ncertificate = true\n")).Should().NotContain("rack-B");
        run.Nest("plan", Job(run), "--certificate", "bolt", "--out", run.Path("none")).Should().Be(2);
        run.Error.Should().Contain("--certificate bolt: the job has no such part; it has lug");
    }

    [Fact]
    public void Plan_and_buying_sheet_tell_the_rules_that_they_keep_to()
    {
        using var run = new Run();
        Planned(run, Job(run, "[[stock_rule]]\npart = \"lug\"\nat_most_thicker = 5\n", ",one stock", ",yes"), "--leave-out", "P15", "--use-first", "A");
        run.Out.ReplaceLineEndings(" ").Should().Contain("Rules that this plan keeps to: all parts: each from one stock; lug: stock at most 5 mm thicker than the part; all parts: not from P15; to go first")
            .And.Contain("first where that saves anything: A.");
        Planned(run, Job(run));
        run.Out.Should().NotContain("Rules that this plan keeps to");

        run.Nest("blanks", Job(run), "--certificate", "lug", "--all").Should().Be(0, run.Error);
        run.Out.Should().Contain("P15: no certificate, and the part needs one");
    }

    [Theory]
    [InlineData("use_first = \"B\"\n")]
    [InlineData("", "--use-first", "B")]
    public void What_is_to_go_first_is_used_before_the_rest(string rules, params string[] more)
    {
        using var run = new Run();
        Planned(run, Job(run, rules), more).Should().Equal("rack-B");
        File.ReadAllText(run.Path("out/data/plan.json")).Should().Contain("\"useFirst\": true");
        run.Nest("check", run.Path("out")).Should().Be(0, run.Error);
    }

    [Fact]
    public void A_rule_by_age_says_that_it_finds_no_day_of_entry_in_a_list()
    {
        using var run = new Run();
        Planned(run, Job(run, "use_first_older_than_days = 30\n"));
        run.Error.Should().Contain("note: use_first_older_than_days: no leftover has a day on which it was entered");
        Planned(run, Job(run));
        run.Error.Should().NotContain("day on which it was entered");
    }

    [Fact]
    public void Layouts_that_stay_stay_and_the_rest_goes_round_them()
    {
        using var run = new Run();
        var job = Job(run);
        Planned(run, job, "--only", "lug=P12").Should().Equal("P12");
        var before = File.ReadAllText(run.Path("out/data/plan.json"));
        Planned(run, job, "--keep", "1").Should().Contain("P12");
        var text = File.ReadAllText(run.Path("out/data/plan.json"));
        text.Should().Contain("\"kept\": true");
        run.Out.Should().Contain("Stay as the earlier plan had them: layouts 1");
        text.Should().Contain("layouts that stay");
        before.Should().NotContain("\"kept\"");
        run.Nest("check", run.Path("out")).Should().Be(0, run.Error);

        // The same from the job file.
        Planned(run, Job(run, "[keep]\nplan = \"out\"\nlayouts = \"1\"\n")).Should().Contain("P12");
        run.Nest("plan", job, "--keep", "9", "--out", run.Path("out")).Should().Be(2);
        run.Error.Should().Contain("the plan has no layout 9");

        // Fewer are wanted now than the layout cuts.
        run.Write("parts.csv", "part,material,length,width,thickness,quantity,forms\nlug,6061-T6,120,40,10,2,plate\n");
        run.Nest("plan", job, "--keep", "1", "--out", run.Path("out")).Should().Be(2);
        run.Error.Should().Contain("and 2 are wanted");
    }

    [Theory]
    [InlineData("[fuss]\norder_line_minutes = 3\n", "job.toml:6:", "fuss.hourly_rate is missing")]
    [InlineData("[fuss]\nper_line = 3\n", "job.toml:6:", "there is no setting")]
    [InlineData("[keep]\nlayouts = \"1\"\n", "job.toml:5:", "keep has no plan")]
    [InlineData("use_first_older_than_days = -1\n", "job.toml:5:", "use_first_older_than_days")]
    public void What_means_nothing_is_told_with_its_place(string rules, string where, string says)
    {
        using var run = new Run();
        run.Nest("plan", Job(run, rules), "--out", run.Path("out")).Should().Be(2);
        run.Error.Should().Contain(where).And.Contain(says);
        Directory.Exists(run.Path("out")).Should().BeFalse();
    }

    [Fact]
    public void A_cell_that_is_neither_yes_nor_no_is_told_with_row_and_column()
    {
        using var run = new Run();
        run.Nest("parts", Job(run, "", ",one stock,certificate", ",maybe,yes")).Should().Be(2);
        run.Error.Should().Contain("parts.csv:2:8").And.Contain("one stock");
    }
}
