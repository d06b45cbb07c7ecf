using System.Globalization;
using System.Text.RegularExpressions;
using Nest.Cli;
using Nest.Cli.Commands;

namespace Nest.Tests.Ordering;

/// <summary>Quotes, batches and comparisons by whole commands.</summary>
public sealed class QuoteCommandTest : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("nest-quote-").FullName;
    private StringWriter output = new();
    private StringWriter error = new();

    public void Dispose()
    {
        output.Dispose();
        error.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    // By hand: 6 a set, 4 minutes each, two set-ups of 15 minutes: 54 minutes for one set, 270 for ten; an hour costs 60, so 54.00 and 270.00. Outside work
    // 10 a set, set-up 30 once, a third and a bit on top. Bars only, so both plans are proven.
    [Fact]
    public void A_quote_for_several_numbers_has_the_mill_in_it()
    {
        var job = Job("B,6082-T6,300,38,10,6,flat bar,4,15,2\n");
        Run("quote", job, "--sets", "10,1", "--margin", "35", "--set-up", "30", "--outside", "10", "--work", "20000", "--shop", "Shop (invented)").Should().Be(ExitCode.Done, error.ToString());

        var text = output.ToString();
        text.Should().Contain("  machining is included").And.NotContain("BLANKS ONLY");
        foreach (var (sets, mill, outside) in new[] { ("1 set", 54m, 10m), ("10 sets", 270m, 100m) })
        {
            var own = Regex.Match(text, $@"^{sets}, for your eyes only \(the plan is proven the cheapest\):\s+metal ([\d.]+), saw ([\d.]+), facing ([\d.]+), mill ([\d.]+) \(.* minutes\), set-up 30.00, outside work ([\d.]+): cost ([\d.]+)\s+margin and rounding [\d.]+: quote ([\d.]+), VAT 19 % ([\d.]+), with it ([\d.]+)", RegexOptions.Multiline);
            own.Success.Should().BeTrue(text);
            var amounts = own.Groups.Values.Skip(1).Select(group => decimal.Parse(group.Value, CultureInfo.InvariantCulture)).ToArray();
            (amounts[3], amounts[4]).Should().Be((mill, outside));
            amounts[5].Should().BeApproximately(amounts[0] + amounts[1] + amounts[2] + mill + 30m + outside, 0.02m, "each amount is rounded");

            // Each of the 6 prices a set is rounded up to the cent.
            amounts[6].Should().BeInRange((amounts[5] * 1.35m) - 0.01m, (amounts[5] * 1.35m) + (mill == 54m ? 0.07m : 0.61m));
            amounts[7].Should().Be(decimal.Round(amounts[6] * 0.19m, 2, MidpointRounding.AwayFromZero));
            amounts[8].Should().Be(amounts[6] + amounts[7]);
        }

        text.Should().MatchRegex(@"price each +in a set +1 set +10 sets");
        File.ReadAllBytes(Path.Combine(folder, "quote.pdf")).Take(5).Should().Equal("%PDF-"u8.ToArray());
    }

    [Fact]
    public void Without_minutes_it_is_said_that_the_price_is_for_blanks()
    {
        Run("quote", Job("B,6082-T6,300,38,10,6,flat bar,,,\n"), "--sets", "1", "--margin", "35", "--work", "20000").Should().Be(ExitCode.Done, error.ToString());
        output.ToString().Should().Contain("SAWN BLANKS ONLY: no machining is included");

        Run("quote", Job("B,6082-T6,300,38,10,6,flat bar,,,\nC,6082-T6,100,38,10,1,flat bar,0,,\n"), "--sets", "1", "--margin", "35", "--work", "20000").Should().Be(ExitCode.Done, error.ToString());
        output.ToString().Should().Contain("machining is included but for the parts marked 'blank only'").And.MatchRegex(@"B +6 × .* blank only");
    }

    [Theory]
    [InlineData("0.35", "is it 0.35 %? Write 35 for 35 % on top, or 0.35% where less than one percent is meant")]
    [InlineData("35,5", "--margin: ")]
    [InlineData("-1", "--margin")]
    [InlineData("1001", "--margin wants a percentage from 0 to 1000")]
    public void A_margin_that_looks_like_a_share_is_asked_about(string margin, string says)
    {
        foreach (var command in (string[])["quote", "why"])
        {
            Run(command, "plan.json", "--margin", margin).Should().Be(ExitCode.Usage);
            error.ToString().Should().Contain(says);
        }
    }

    [Fact]
    public void Less_than_one_percent_is_believed_with_its_sign()
    {
        Run("quote", Job("B,6082-T6,300,38,10,6,flat bar,,,\n"), "--sets", "1", "--margin", "0.35%", "--work", "20000").Should().Be(ExitCode.Done, error.ToString());
        output.ToString().Should().Contain("margin 0.35 %");
    }

    [Theory]
    [InlineData("B,6082-T6,300,38,10,6,flat bar,,,2\n", "parts.csv:2:10", "the part has set-ups, but no minutes of one")]
    [InlineData("B,6082-T6,300,38,10,6,flat bar,-1,,\n", "parts.csv:2:8", "mill minutes")]
    public void Minutes_that_make_no_sense_are_refused(string part, string where, string says)
    {
        Run("quote", Job(part), "--sets", "1", "--margin", "35").Should().Be(ExitCode.InputRefused);
        error.ToString().Should().Contain(where).And.Contain(says);
    }

    [Fact]
    public void Broken_off_is_said_and_has_a_code_of_its_own()
    {
        var job = Job("B,6082-T6,300,38,10,6,flat bar,,,\n");
        using var stopped = new CancellationTokenSource();
        stopped.Cancel();
        Run(stopped.Token, "batch", job, "--to", "3", "--out", Path.Combine(folder, "curve")).Should().Be(ExitCode.BrokenOff);
        output.ToString().Should().Contain("1 to 3 sets – BROKEN OFF (Ctrl-C)").And.Contain("batch.csv and batch.png were not written").And.NotContain("NOT ALL CAN BE CUT").And.NotContain("There is not enough stock");
        Run(stopped.Token, "compare", job, "--set", "kerf=4", "--set", "kerf=5").Should().Be(ExitCode.BrokenOff);
        output.ToString().Should().Contain("BROKEN OFF (Ctrl-C): 0 of 3 were planned to their end").And.Contain("not planned: kerf=4, kerf=5");
        Run(stopped.Token, "quote", job, "--sets", "1,2", "--margin", "35").Should().Be(ExitCode.BrokenOff);
        error.ToString().Should().Contain("no quote was written");
        Directory.GetFiles(folder, "*.pdf").Should().BeEmpty();
    }

    // On a busy machine the clock is over before a search has begun: each number has its first plan all the same, also where a part's stocks are tied.
    [Theory]
    [InlineData("--at-most-thicker=30"), InlineData("--one-stock=all"), InlineData("--one-size=all")]
    public void However_short_the_time_every_number_is_planned(string rule)
    {
        var job = Job("B,6082-T6,300,38,10,6,flat bar + plate,,,\nC,6082-T6,120,40,12,5,flat bar + plate,,,\n");
        File.AppendAllText(Path.Combine(folder, "metal.csv"), "wide,plate,6082-T6,20,500,1000,90,Invented Metals\nsmall,flat bar,6082-T6,15,50,1000,18,Invented Metals\nthin,plate,6082-T6,15,500,500,60,Invented Metals\n");

        Run("batch", job, "--to", "4", "--seconds", "0.001", rule).Should().Be(ExitCode.Done, output.ToString());

        output.ToString().Should().NotContain("NOT ALL CAN BE CUT");
        Run("plan", job, "--seconds", "0.001", rule, "--out", Path.Combine(folder, "plan")).Should().Be(ExitCode.Done, output.ToString());
    }

    [Fact]
    public void Compare_tells_which_plan_it_is_at()
    {
        Run("compare", Job("B,6082-T6,300,38,10,6,flat bar,,,\n"), "--set", "kerf=4", "--work", "20000").Should().Be(ExitCode.Done, error.ToString());
        error.ToString().Should().Contain("1 of 2, ").And.Contain("2 of 2, kerf=4: ");
    }

    [Fact]
    public void Equal_names_get_that_of_their_folder()
    {
        CompareCommand.Names([("Head", "/a/one/job.toml"), ("Head", "/a/two/job.toml"), ("kerf=1", "/a/one/job.toml")]).Should().Equal("Head (one)", "Head (two)", "kerf=1");
        CompareCommand.Names([("Head", "/a/one/x.toml"), ("Head", "/a/one/y.toml")]).Should().Equal("Head (x.toml)", "Head (y.toml)");
        CompareCommand.Names([("Head", "/a/one/x.toml"), ("Head", "/a/one/x.toml")]).Should().Equal("Head (1)", "Head (2)");
        CompareCommand.Names([("A", "/a/one/x.toml"), ("B", "/a/two/x.toml")]).Should().Equal("A", "B");
    }

    private string Job(string parts)
    {
        File.WriteAllText(Path.Combine(folder, "parts.csv"), "part,material,length,width,thickness,quantity,forms,mill minutes,set-up minutes,set-ups\n" + parts);
        File.WriteAllText(Path.Combine(folder, "metal.csv"), "id,form,material,thickness,width,length,price,supplier\nlong,flat bar,6082-T6,20,50,1000,20,Invented Metals\n");
        File.WriteAllText(Path.Combine(folder, "job.toml"), "name = \"made\"\nparts = \"parts.csv\"\nsaws = \"starter\"\ncatalogue = \"metal.csv\"\n[tax]\npercent = 19\nname = \"VAT\"\n");
        return Path.Combine(folder, "job.toml");
    }

    private int Run(params string[] args) => Run(CancellationToken.None, args);

    private int Run(CancellationToken cancel, params string[] args)
    {
        output.Dispose();
        error.Dispose();
        (output, error) = (new(), new());
        return App.Run(args, new World(output, error, true, TimeProvider.System, cancel));
    }
}
