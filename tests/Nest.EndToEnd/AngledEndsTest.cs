namespace Nest.EndToEnd;

/// <summary>A job with mitred ends through the whole program, in both units.</summary>
public class AngledEndsTest
{
    private const string Head = "part;material;length;width;thickness;quantity;forms;turn;faces stay;sides stay;end clean-up;angle start;angle end\n";

    [Theory]
    [InlineData("side;6061;400 mm;40 mm;10 mm;8;bar;no;yes;yes;0;45;45\n", "saw to 45°")]
    [InlineData("brace;6061;14-3/8\";1-1/2\";3/8\";8;bar;no;yes;yes;0;22.5;-22.5\n", "saw to 22.5°")]
    public void A_mitred_part_is_planned_shown_and_checked(string row, string shown)
    {
        using var run = new Run();
        var file = run.Write("parts.csv", Head + row);

        run.Nest("plan", file, "--out", run.Path("out"), "--work", "10000").Should().Be(0, run.Error);
        run.Nest("check", run.Path("out/data/plan.json")).Should().Be(0, run.Out + run.Error);
        File.ReadAllText(run.Path("out/data/plan.json")).Should().Contain("\"ends\"");
        Directory.EnumerateFiles(run.Path("out"), "*", SearchOption.AllDirectories)
            .Where(path => path.EndsWith(".html", StringComparison.Ordinal) || path.EndsWith(".csv", StringComparison.Ordinal))
            .Select(File.ReadAllText).Should().Contain(text => text.Contains(shown, StringComparison.Ordinal));
    }

    [Fact]
    public void Angles_that_cannot_be_are_all_named_and_nothing_is_written()
    {
        using var run = new Run();
        var file = run.Write("parts.csv", Head
            + "a;6061;400;40;10;1;bar;no;yes;yes;0;90;0\n"
            + "b;6061;400;40;10;1;bar;no;yes;yes;0;0;22.50005\n"
            + "c;6061;60;40;10;1;bar;no;yes;yes;0;45;45\n"
            + "d;6061;60;40;10;1;bar;no;yes;yes;0;steep;0\n");

        run.Nest("plan", file, "--out", run.Path("out")).Should().Be(2);
        (run.Out + run.Error).Should().Contain(":2:12").And.Contain(":3:13").And.Contain(":4:12").And.Contain(":5:12")
            .And.Contain("meet within the length");
        Directory.Exists(run.Path("out")).Should().BeFalse();
    }
}
