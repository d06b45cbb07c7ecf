using System.CommandLine;
using System.Reflection;
using Nest.Cli;
using Nest.Cli.Commands;

namespace Nest.EndToEnd;

/// <summary>What a short line costs is counted in what is built for it: seconds are in tests/Nest.Bench/results/measurements.md.</summary>
public class HelpTest
{
    private static readonly World Nowhere = new(TextWriter.Null, TextWriter.Null, true, TimeProvider.System, default);

    [Theory]
    [InlineData("--help", "")]
    [InlineData("--version", "")]
    [InlineData("plan job.toml --seconds 5", "plan")]
    [InlineData("rack list --most 5", "rack")]
    [InlineData("--help plan check", "plan check")]
    public void Only_the_commands_that_a_line_names_are_built(string line, string built)
    {
        var root = App.Root(Nowhere, line.Split(' '));
        root.Subcommands.Select(command => command.Name).Should().Equal(CommandList.All.Select(entry => entry.Name), "all are known by name");
        root.Subcommands.Where(command => command.Options.Count + command.Arguments.Count + command.Subcommands.Count > 0 || command.Action is not null)
            .Select(command => command.Name).Should().BeEquivalentTo(built.Split(' ', StringSplitOptions.RemoveEmptyEntries));
    }

    [Fact]
    public void Words_that_stand_in_a_file_may_name_any_command() =>
        App.Root(Nowhere, ["@words.txt"]).Subcommands.Should().OnlyContain(command => command.Action != null || command.Subcommands.Count > 0);

    [Fact]
    public void The_list_says_what_each_command_takes()
    {
        foreach (var (entry, command) in CommandList.All.Zip(App.Root(Nowhere).Subcommands))
        {
            string.Join(' ', command.Arguments.Select(argument => $"<{argument.Name}>")).Should().Be(entry.Takes, entry.Name);
        }
    }

    [Fact]
    public void Every_line_that_asks_for_the_help_of_the_program_gets_the_same()
    {
        using var run = new Run();
        run.Nest("--help").Should().Be(0);
        var text = run.Out;
        text.Should().ContainAll(CommandList.All.Select(entry => entry.Description));
        foreach (var line in new[] { "-h", "-?", "/h", "--help --help" })
        {
            run.Nest(line.Split(' ')).Should().Be(0, line);
            run.Out.Should().Be(text, line);
        }

        run.Nest("plan", "--help").Should().Be(0);
        run.Out.Should().Contain("--seconds").And.NotContain("completion");
    }

    /// <summary>What <c>--version</c> prints of the program itself (here the test host is what runs).</summary>
    [Fact]
    public void The_version_names_the_commit_it_was_built_from()
    {
        var version = typeof(App).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion;
        // Built from an unpacked archive there is no commit to name.
        version.Should().MatchRegex(Path.Exists(Path.Combine(Repo.Root, ".git")) ? @"^\d+\.\d+\.\d+\+[0-9a-f]{40}$" : @"^\d+\.\d+\.\d+");
    }

    [Fact]
    public void A_narrow_screen_breaks_lines_between_words()
    {
        using var text = new StringWriter();
        ProgramHelp.Write(text, 100);
        var lines = text.ToString().ReplaceLineEndings("\n").Split('\n');
        lines.Should().OnlyContain(line => line.Length <= 100);
        var words = string.Join(' ', text.ToString().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        words.Should().ContainAll(CommandList.All.Select(entry => entry.Description));
    }
}
