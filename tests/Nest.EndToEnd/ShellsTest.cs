using System.Diagnostics;
using Nest.Cli;
using Nest.Cli.Commands.Shells;

namespace Nest.EndToEnd;

/// <summary>Completion, manual page and settings are made from the commands as they are.</summary>
public class ShellsTest
{
    private static readonly IReadOnlyList<CommandView> Commands = CommandTree.Of(App.Root(new(TextWriter.Null, TextWriter.Null, true, TimeProvider.System, default)));

    [Theory]
    [InlineData("bash")]
    [InlineData("zsh")]
    [InlineData("fish")]
    [InlineData("powershell")]
    [InlineData("man")]
    public void Every_command_and_option_is_in_each(string shell)
    {
        using var run = new Run();
        run.Nest("completion", shell).Should().Be(0);
        // The manual page writes a hyphen as troff wants it; fish names options without their hyphens.
        var text = run.Out.Replace("\\-", "-", StringComparison.Ordinal).Replace(" -l ", " --", StringComparison.Ordinal);
        Commands.Count.Should().BeGreaterThan(30);
        foreach (var command in Commands.Skip(1))
        {
            text.Should().Contain(command.Path.Split(' ')[^1]);
            text.Should().ContainAll(command.Options.Select(option => option.Names[0]));
        }
    }

    [BashTheory]
    [InlineData("pl", "plan plans")]
    [InlineData("plan --w", "--work")]
    [InlineData("plan --out dir --se", "--seconds --seed --sets")]
    [InlineData("rack ex", "export")]
    [InlineData("plan ", "")]
    public void Bash_completes(string typed, string expected)
    {
        using var run = new Run();
        run.Nest("completion", "bash").Should().Be(0);
        var words = typed.Split(' ');
        var script = run.Write("try.sh", run.Out + $"""
            COMP_WORDS=(nest {string.Join(' ', words.Select(word => $"'{word}'"))})
            COMP_CWORD={words.Length}
            _nest
            echo "${"{"}COMPREPLY[*]{"}"}"
            """);
        using var bash = Process.Start(new ProcessStartInfo("bash", script) { RedirectStandardOutput = true })!;
        bash.StandardOutput.ReadToEnd().Trim().Should().Be(expected);
    }

    [Fact]
    public void Settings_tell_where_each_comes_from()
    {
        using var run = new Run();
        run.Write("parts.csv", "part,material,length,width,thickness,quantity\nlug,6082-T6,50,30,8,12\n");
        var job = run.Write("job.toml", "parts = \"parts.csv\"\nbatch = 7\nlong_bar = 2500\n[limits]\nseconds = 4\n");
        run.Nest("settings", job).Should().Be(0, run.Error);
        var rows = run.Out.Split('\n').Select(line => line.Split("  ", StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)).ToList();
        rows.Should().ContainEquivalentOf(new[] { "batch", "job file", "7" });
        rows.Should().ContainEquivalentOf(new[] { "long_bar", "job file", "2500 mm" });
        rows.Should().ContainEquivalentOf(new[] { "lift_limit", "default shop", "25 kg" });
        rows.Should().ContainEquivalentOf(new[] { "fuss", "default shop", "not counted" });
        rows.Should().ContainEquivalentOf(new[] { "limits.seconds", "job file (or --seconds)", "4" });
        rows.Should().ContainEquivalentOf(new[] { "currency", "default", "EUR" });
    }

    /// <summary>A theory that needs bash; without it the run lists it as skipped.</summary>
    [AttributeUsage(AttributeTargets.Method)]
    private sealed class BashTheoryAttribute : TheoryAttribute
    {
        public BashTheoryAttribute() => Skip = File.Exists("/bin/bash") || File.Exists("/usr/bin/bash") ? null : "bash is not here.";
    }
}
