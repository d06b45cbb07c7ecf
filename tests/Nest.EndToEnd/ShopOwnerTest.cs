namespace Nest.EndToEnd;

/// <summary>What a shop owner stumbled over: defaults that are told, places that cannot be written to, words instead of types, units.</summary>
public class ShopOwnerTest
{
    private const string Head = "part,material,length,width,thickness,quantity,forms,faces stay\n";

    // Invented prices and sizes.
    private const string Metal = "id,form,material,thickness,width,length,price,available\nK1,flat bar,6082-T6,15,100,1000,13.333,2\n";

    private static string JobFile(Run run, string parts, string head = "", string metal = Metal)
    {
        run.Write("parts.csv", Head + parts);
        run.Write("metal.csv", metal);
        return run.Write("job.toml", head + "parts = \"parts.csv\"\nsaws = \"starter\"\ncatalogue = \"metal.csv\"\n");
    }

    [Fact]
    public void Check_says_that_the_bound_is_the_planners_word()
    {
        using var run = new Run();
        var job = JobFile(run, "lug,6082-T6,120,40,8,3,flat bar,\n");
        run.Nest("plan", job, "--out", run.Path("out"), "--work", "5000").Should().Be(0, run.Error);

        run.Nest("check", run.Path("out/data/plan.json")).Should().Be(0);

        run.Out.Should().Contain("OK:").And.Contain("and 'proven' are the planner's word: not recomputed here");
    }

    [Theory]
    [InlineData("plan", "--seconds", "abc"), InlineData("plan", "--work", "1.5"), InlineData("plan", "--seed", "x")]
    [InlineData("batch", "--from", "x"), InlineData("batch", "--to", "0"), InlineData("plan", "--seconds", "0")]
    [InlineData("why", "--margin", "x"), InlineData("quote", "--margin", "1,5"), InlineData("quote", "--valid", "1.5")]
    public void What_is_no_number_is_refused_in_own_words(string command, string option, string value)
    {
        using var run = new Run();

        run.Nest(command, "job.toml", option, value).Should().Be(1);

        run.Error.Should().MatchRegex($"{option}( wants|:) ").And.Contain($"'{value}'").And.NotContain("System.");
    }

    [Theory]
    [InlineData("plan"), InlineData("batch")]
    public void A_place_that_cannot_be_written_to_is_refused_before_the_search(string command)
    {
        using var run = new Run();
        var job = JobFile(run, "lug,6082-T6,120,40,8,3,flat bar,\n");
        var taken = run.Write("taken", "a file");

        run.Nest(command, job, "--out", taken).Should().Be(2);
        run.Error.Should().Contain($"cannot write into {taken}: it is a file").And.Contain("nothing was planned");
        run.Nest(command, job, "--out", Path.Combine(taken, "below")).Should().Be(2);
        run.Error.Should().Contain($"{taken} is a file");
        run.Out.Should().BeEmpty();
    }

    [Fact]
    public void The_test_of_a_folder_leaves_nothing_in_it()
    {
        using var run = new Run();
        var job = JobFile(run, "lug,6082-T6,120,40,8,3,flat bar,\n");

        run.Nest("plan", job, "--out", run.Path("out"), "--work", "5000").Should().Be(0, run.Error);

        Directory.EnumerateFileSystemEntries(run.Path("out"), ".*").Should().BeEmpty();
    }

    [Fact]
    public void Help_tells_the_folder_that_is_written_by_default()
    {
        using var run = new Run();
        run.Nest("plan", "--help");

        string.Join(' ', run.Out.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).Should().Contain("or of its folder when it is called job.toml");
    }

    [Fact]
    public void A_quote_of_the_plan_before_is_taken_away()
    {
        using var run = new Run();
        var job = JobFile(run, "lug,6082-T6,120,40,8,3,flat bar,\n");
        run.Nest("plan", job, "--out", run.Path("out"), "--work", "5000").Should().Be(0, run.Error);
        run.Nest("quote", run.Path("out/data/plan.json"), "--margin", "20").Should().Be(0, run.Error);
        File.Exists(run.Path("out/quote.pdf")).Should().BeTrue();
        File.WriteAllText(run.Path("out/own notes.txt"), "mine");

        run.Nest("plan", job, "--out", run.Path("out"), "--work", "5000").Should().Be(0, run.Error);

        File.Exists(run.Path("out/quote.pdf")).Should().BeFalse();
        File.Exists(run.Path("out/own notes.txt")).Should().BeTrue();
        run.Out.Should().Contain("quote.pdf of the plan before was taken away");
    }

    // 2.5 in from a bar of 4 in × 1/2 in × 40 in at 0.098 lb/in³ or so: only the unit is looked at, exact sizes are those of the lists.
    [Fact]
    public void An_inch_shop_has_inches_and_pounds_in_its_lists()
    {
        using var run = new Run();
        var job = JobFile(
            run, "lug,6082-T6,2.5,1.5,0.25,3,flat bar,\n", "unit = \"in\"\n",
            "id,form,material,thickness,width,length,price,supplier\nK1,flat bar,6082-T6,0.5,4,40,13.333,Invented Metals\n");
        run.Nest("plan", job, "--out", run.Path("out"), "--work", "5000").Should().Be(0, run.Error);

        foreach (var list in Directory.EnumerateFiles(run.Path("out"), "*.csv", SearchOption.AllDirectories))
        {
            // The list of costs has no lengths.
            var head = File.ReadLines(list).First();
            head.Should().NotContain("_mm").And.NotContain("_kg");
            head.Contains("_in", StringComparison.Ordinal).Should().Be(Path.GetFileName(list) != "costs.csv", "of {0}", list);
        }

        var order = Directory.EnumerateFiles(run.Path("out/orders"), "01-*.csv").Single();
        File.ReadLines(order).First().Should().Contain("length_in,width_in,thickness_in").And.Contain("mass_each_lb");
        File.ReadLines(order).Skip(1).First().Should().Contain(",40,4,0.5,");
        File.ReadAllLines(run.Path("out/data/buy.csv"))[1].Should().StartWith("K1,1,flat-bar,6082-T6,40,4,0.5,");
    }

    [Fact]
    public void With_a_decimal_comma_the_words_in_the_lists_keep_the_point()
    {
        using var run = new Run();
        var job = JobFile(run, "lug,6082-T6,120.25,40,8,3,flat bar,\n");
        run.Nest("plan", job, "--out", run.Path("point"), "--work", "5000").Should().Be(0, run.Error);
        run.Nest("plan", job, "--out", run.Path("comma"), "--work", "5000", "--decimal-comma").Should().Be(0, run.Error);

        foreach (var list in Directory.EnumerateFiles(run.Path("point"), "*.csv", SearchOption.AllDirectories).Append(run.Path("point/data/plan.xlsx")))
        {
            File.ReadAllBytes(Path.Combine(run.Path("comma"), Path.GetRelativePath(run.Path("point"), list))).Should().Equal(File.ReadAllBytes(list), list);
        }
    }

    [Fact]
    public void Batch_names_part_and_reason_where_not_all_can_be_cut()
    {
        using var run = new Run();
        // Two bars of a metre, six blanks of 142 mm and their kerf in each: twelve, so that from five sets of three on some are left out.
        var job = JobFile(run, "lug,6082-T6,140,40,8,3,flat bar,\n");

        run.Nest("batch", job, "--to", "6", "--work", "5000", "--out", run.Path("out")).Should().Be(3, run.Error);

        run.Out.Should().Contain("NOT ALL CAN BE CUT: 3 × lug").And.Contain("lug, first with 5 sets (3 left out): There is not enough stock")
            .And.MatchRegex(@"\n +5 +\d+\.\d\d +– +– ").And.NotContain("none in this range");
        var rows = File.ReadAllLines(run.Path("out/batch.csv"));
        rows[0].Should().Contain("cost_per_set").And.Contain("not_cut");
        rows[5].Should().Contain(",,,,EUR,no,no,no,3 x lug: There is not enough stock");
    }

    [Fact]
    public void Blanks_show_the_whole_section_that_is_milled_down_and_why_faces_do_not_stay()
    {
        using var run = new Run();
        var job = JobFile(run, "lug,6082-T6,120,40,8,3,flat bar,yes\nsame,6082-T6,120,50,15,3,flat bar,yes\n");

        run.Nest("blanks", job).Should().Be(3, run.Error);

        run.Out.Should().Contain("finished 120 × 40 × 8 mm\n").And.Contain("section 100 × 15 mm milled down to 40 × 8 mm")
            .And.Contain("K1 is not listed with good faces").And.Contain("faces stay = yes changes nothing here: K1 not listed with good faces")
            .And.NotContain("mm mm").And.NotContain(" x ");
    }

    [Fact]
    public void Compare_wraps_its_heads()
    {
        using var run = new Run();
        var job = JobFile(run, "lug,6082-T6,120,40,8,3,flat bar,\n", metal: Metal + "a-much-longer-name-of-stock,flat bar,6082-T6,15,100,900,13,\n");

        run.Nest("compare", job, "--set", "without_stock=a-much-longer-name-of-stock", "--work", "5000").Should().Be(0, run.Error);

        var heads = run.Out.Split('\n').TakeWhile(line => !line.StartsWith("cost", StringComparison.Ordinal)).Select(line => line[Math.Min(line.Length, 53)..].Trim());
        string.Concat(heads).Should().Be("without_stock=a-much-longer-name-of-stock");
        run.Out.Should().NotContain("…");
    }
}
