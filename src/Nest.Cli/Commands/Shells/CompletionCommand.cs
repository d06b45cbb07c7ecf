using System.CommandLine;

namespace Nest.Cli.Commands.Shells;

/// <summary><c>nest completion</c>: completion for a shell, or the manual page, made from the commands as they are.</summary>
internal static class CompletionCommand
{
    private const string Manual = "man";

    private static readonly Dictionary<string, Func<IReadOnlyList<CommandView>, string>> Makers = new(StringComparer.Ordinal)
    {
        ["bash"] = ShellScripts.Bash,
        ["zsh"] = ShellScripts.Zsh,
        ["fish"] = ShellScripts.Fish,
        ["powershell"] = ShellScripts.PowerShell,
        [Manual] = ManPage.Of,
    };

    public static void Fill(Command command, World world)
    {
        var shell = new Argument<string>("shell") { Description = "bash, zsh, fish, powershell; or man for the manual page." };
        shell.AcceptOnlyFromAmong([.. Makers.Keys]);
        command.With(shell);
        command.SetAction(parsed =>
        {
            world.Out.Write(Makers[parsed.GetRequiredValue(shell)](CommandTree.Of(App.Root(world))));
            return ExitCode.Done;
        });
    }
}
