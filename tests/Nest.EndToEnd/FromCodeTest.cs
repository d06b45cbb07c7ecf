using Nest.Examples;

namespace Nest.EndToEnd;

/// <summary>The sample program that uses the library does what it says.</summary>
public class FromCodeTest
{
    [Fact]
    public void The_sample_program_plans_checks_and_draws()
    {
        using var run = new Run();
        using var told = new StringWriter();
        FromCode.Run(run.Path("made"), told).Should().Be(0, told.ToString());
        told.ToString().Should().MatchRegex("^EUR [0-9.]+ in [0-9]+ layouts; nothing costs less than [0-9.]+");
        File.ReadAllBytes(run.Path("made/cut-sheet.pdf")).Take(5).Should().Equal("%PDF-"u8.ToArray());
        File.ReadAllBytes(run.Path("made/layout-1.png")).Skip(1).Take(3).Should().Equal("PNG"u8.ToArray());
        run.Nest("check", run.Path("made/plan.json")).Should().Be(0, run.Error);
    }
}
