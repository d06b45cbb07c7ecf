using System.Text;
using Nest.Cli;

namespace Nest.EndToEnd;

/// <summary>The screen, a pipe or a log may take no more at any moment: no plan is lost with it. And no name acts on the terminal.</summary>
public class StreamsTest
{
    private const string Parts = "part,material,length,width,thickness,quantity,forms\n";

    [Theory]
    [InlineData(false, true, 0)]
    [InlineData(true, false, 7)]
    [InlineData(true, true, 7)]
    public void A_stream_that_takes_no_more_ends_no_plan(bool screenBroken, bool messagesBroken, int code)
    {
        using var run = new Run();
        var file = SmallJob.Write(run);
        using var screen = new Full(screenBroken);
        using var messages = new Full(messagesBroken);

        App.Run(["plan", file, "--out", run.Path("out"), "--work", "500"], new(screen, messages, true, TimeProvider.System, CancellationToken.None)).Should().Be(code);

        run.Nest("check", run.Path("out")).Should().Be(0, run.Out + run.Error);
    }

    [Fact]
    public void A_refusal_keeps_its_exit_code_when_nobody_can_read_it()
    {
        using var run = new Run();
        using var full = new Full(true);
        App.Run(["plan", run.Path("none.csv")], new(full, full, true, TimeProvider.System, CancellationToken.None)).Should().Be(2);
    }

    [Fact]
    public void No_name_acts_on_the_terminal_or_on_the_tablet()
    {
        using var run = new Run();
        const string name = "l\u001B[31mu\u202Eg\u0007\u2066\u009B2J";
        var file = run.Write("parts.csv", Parts + $"\"{name}\",6082-T6,50,30,8,12,any\n\"giant {name}\",6082-T6,9000,2500,8,1,plate\n");

        run.Nest("plan", file, "--unit", "mm", "--out", run.Path("out"), "--work", "2000", "--details");
        var texts = new List<string> { run.Out, run.Error };
        run.Nest("blanks", file, "--unit", "mm");
        texts.AddRange([run.Out, run.Error]);
        if (File.Exists(run.Path("out/tablet.html")))
        {
            run.Nest("why", run.Path("out"), "--work", "2000");
            texts.AddRange([run.Out, run.Error, File.ReadAllText(run.Path("out/tablet.html"))]);
        }

        foreach (var text in texts)
        {
            text.Should().NotContain("\u001B").And.NotContain("\u202E").And.NotContain("\u0007").And.NotContain("\u2066").And.NotContain("\u009B");
        }
    }

    private sealed class Full(bool broken) : TextWriter
    {
        public override Encoding Encoding => Encoding.UTF8;

        public override void Write(char value) => Write(value.ToString());

        public override void Write(string? value)
        {
            if (broken)
            {
                throw new IOException("No space left on device");
            }
        }
    }
}
