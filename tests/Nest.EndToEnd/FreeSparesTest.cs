namespace Nest.EndToEnd;

/// <summary>Spares where they are free: asked for in the list, the job file and on the command line; told, checked, and worth as much as any other blank on the rack.</summary>
public sealed class FreeSparesTest
{
    // Invented. A bar of 980 mm gives eight pins of 113 mm (finished 100 in a chuck); seven are needed.
    private const string Metal = "id,form,material,diameter,length,price,supplier\nR25,round bar,6061-T6,25,980,12,Kestrel (invented)\n";

    private const string Parts = "part,material,length,diameter,quantity\npin,6061-T6,100,20,7\n";

    private static string Job(Run run, string parts = Parts, string settings = "")
    {
        run.Write("parts.csv", parts);
        run.Write("metal.csv", Metal);
        return run.Write("job.toml", "parts = \"parts.csv\"\nsaws = \"starter\"\ncatalogue = \"metal.csv\"\n" + settings);
    }

    private static int Plan(Run run, string job, params string[] more) => run.Nest(["plan", job, "--work", "100", "--out", run.Path("out"), .. more]);

    [Theory]
    [InlineData("part,material,length,diameter,quantity,spares if free\npin,6061-T6,100,20,7,3\n", "")]
    [InlineData("part,material,length,diameter,quantity,repuestos gratis\npin,6061-T6,100,20,3,1\npin,6061-T6,100,20,4,2\n", "")]
    [InlineData(Parts, "free_spares = 3\n")]
    [InlineData(Parts, "free_spares = 9\n[[stock_rule]]\npart = \"pin\"\nfree_spares = 3\n")]
    [InlineData(Parts, "free_spares = 9\n", "--free-spares", "PIN=3")]
    [InlineData(Parts, "", "--free-spares", "3", "--free-spares-up-to", "4")]
    public void A_spare_comes_out_of_scrap_however_it_is_asked_for(string parts, string settings, params string[] more)
    {
        using var run = new Run();
        Plan(run, Job(run, parts, settings), more).Should().Be(0, run.Error);
        run.Out.Should().Contain("all 7 pieces placed").And.Contain("Free spares: 1 of 3, cut from scrap, no metal more: 1 × pin.");
        run.Nest("check", run.Path("out")).Should().Be(0, run.Error);
    }

    [Fact]
    public void A_list_that_says_none_gets_none_and_so_does_one_that_allows_no_time()
    {
        using var run = new Run();
        Plan(run, Job(run, "part,material,length,diameter,quantity,free spares\npin,6061-T6,100,20,7,0\n", "free_spares = 3\n")).Should().Be(0, run.Error);
        run.Out.Should().NotContain("Free spares");
        Plan(run, Job(run, Parts, "free_spares = 3\nfree_spares_up_to = 0\n")).Should().Be(0, run.Error);
        run.Out.Should().Contain("Free spares: 0 of 3; no place was found in the scrap for one that costs EUR 0.00 at most.");
    }

    [Theory]
    [InlineData("part,material,length,diameter,quantity,free spares\npin,6061-T6,100,20,7,few\n", "", "parts.csv:2:6", "free spares")]
    [InlineData("part,material,length,width,thickness,quantity,per blank,free spares\nlug,6061-T6,40,20,5,7,2,1\n", "", "parts.csv:2:8", "several from one blank")]
    [InlineData(Parts, "free_spares = -1\n", "job.toml:4:", "free_spares")]
    [InlineData(Parts, "free_spares_up_to = \"much\"\n", "job.toml:4:", "free_spares_up_to")]
    public void What_means_nothing_is_told_with_its_place(string parts, string settings, string where, string says)
    {
        using var run = new Run();
        Plan(run, Job(run, parts, settings)).Should().Be(2);
        run.Error.Should().Contain(where).And.Contain(says);
        Directory.Exists(run.Path("out")).Should().BeFalse();
    }

    [Theory]
    [InlineData("--free-spares", "lug=1", "whole number")]
    [InlineData("--free-spares", "pin=1.5", "whole number")]
    [InlineData("--free-spares-up-to", "-1", "amount")]
    public void So_is_an_option(string option, string value, string says)
    {
        using var run = new Run();
        Plan(run, Job(run), $"{option}={value}").Should().NotBe(0);
        run.Error.Should().Contain(option).And.Contain(says);
    }

    [Fact]
    public void A_plan_file_with_more_spares_than_were_wanted_is_refused()
    {
        using var run = new Run();
        Plan(run, Job(run), "--free-spares", "1").Should().Be(0, run.Error);
        var file = run.Path("out/data/plan.json");
        var text = File.ReadAllText(file);
        text.Should().Contain("\"freeSpares\": 1");
        File.WriteAllText(file, text.Replace("\"freeSpares\": 1,", "", StringComparison.Ordinal));
        run.Nest("check", file).Should().Be(4);
        (run.Out + run.Error).Should().Contain("1 pieces are marked as free spares, 0 are wanted");
    }

    [Fact]
    public void A_spare_that_was_cut_stands_in_for_a_spoiled_blank_and_one_that_was_not_is_no_debt()
    {
        using var run = new Run();
        var rack = run.Path("rack.db");
        run.Nest("rack", "new", rack);
        Plan(run, Job(run), "--free-spares", "1").Should().Be(0, run.Error);
        run.Nest("reserve", run.Path("out/data/plan.json"), "--rack", rack).Should().Be(0, run.Error);
        run.Nest("receive", "P1", "--rack", rack).Should().Be(0, run.Error);

        // Eight were to come off the bar, seven were needed; one fell into the chips.
        run.Nest("miscut", "P1", "1", "one fell into the chips", "--made", "7:pin", "--rack", rack).Should().Be(0, run.Error);
        run.Nest("plans", "--rack", rack).Should().Be(0, run.Error);
        run.Out.Should().MatchRegex("P1 .* finished");
        run.Nest("rack", "check", "--rack", rack).Should().Be(0, run.Error);
    }
}
