namespace Nest.EndToEnd;

/// <summary>What somebody does who has just installed the program.</summary>
public class FirstStepsTest
{
    [Fact]
    public void Alone_it_says_what_to_do_first()
    {
        using var run = new Run();
        run.Nest().Should().Be(1);
        run.Error.Should().Contain("nest new").And.Contain("nest plan").And.Contain("nest --help");
    }

    [Theory]
    [InlineData("mm", "A4")]
    [InlineData("in", "Letter")]
    public void A_new_job_is_planned_as_it_stands(string unit, string paper)
    {
        using var run = new Run();
        run.Nest("new", run.Path("shop"), "--unit", unit).Should().Be(0, run.Error);
        run.Out.Should().Contain("nest plan");

        run.Nest("plan", run.Path("shop/job.toml"), "--out", run.Path("out"), "--work", "5000").Should().Be(0, run.Error);
        run.Error.Should().NotContain("error").And.NotContain("note: ");
        run.Out.Should().Contain("all 22 pieces placed").And.Contain("My supplier (invented)");
        run.Out.Split('\n').Length.Should().BeLessThan(26);
        run.Nest("check", run.Path("out")).Should().Be(0, run.Out + run.Error);

        // Page sizes in points of 1/72 in: 210 × 297 mm and 8.5 × 11 in.
        System.Text.Encoding.Latin1.GetString(File.ReadAllBytes(run.Path("out/cut-sheet.pdf"))).Should().Contain(paper == "A4" ? "595.27" : "612 ");
    }

    [Fact]
    public void The_kerf_of_a_new_job_is_one_figure_to_change()
    {
        using var run = new Run();
        run.Nest("new", run.Path("shop")).Should().Be(0, run.Error);
        var saws = File.ReadAllText(run.Path("shop/saws.toml"));
        run.Write("shop/saws.toml", saws.Replace("kerf = 1.5 ", "kerf = 1.1 ", StringComparison.Ordinal));

        run.Nest("settings", run.Path("shop/job.toml")).Should().Be(0, run.Error);
        run.Out.Should().Contain("band saw: bar saw, kerf 1.1 mm");
    }

    [Fact]
    public void What_is_there_is_never_written_over()
    {
        using var run = new Run();
        run.Write("job.toml", "mine");
        run.Nest("new", run.Folder).Should().Be(2);
        File.ReadAllText(run.Path("job.toml")).Should().Be("mine");
        Directory.GetFiles(run.Folder).Should().ContainSingle();
        run.Nest("new", run.Path("job.toml")).Should().Be(2);
    }
}
