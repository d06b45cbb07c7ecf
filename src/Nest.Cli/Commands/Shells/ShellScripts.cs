using System.Text;

namespace Nest.Cli.Commands.Shells;

/// <summary>Completion for four shells. All names are in the script, so that pressing Tab starts no program.</summary>
internal static class ShellScripts
{
    public static string Bash(IReadOnlyList<CommandView> commands)
    {
        var text = new StringBuilder("""
            # Completion of nest for bash. Put this line into ~/.bashrc:  source <(nest completion bash)
            _nest() {
                local word=${COMP_WORDS[COMP_CWORD]} here="" words="" at
                for ((at = 1; at < COMP_CWORD; at++)); do
                    case "$here ${COMP_WORDS[at]}" in
            """).Append('\n');
        text.Append($"            {Paths(commands, "\" {0}\"", "|")}) here=\"$here ${{COMP_WORDS[at]}}\" ;;\n");
        text.Append("        esac\n    done\n    case \"$here\" in\n");
        foreach (var command in commands)
        {
            text.Append($"        \"{Lead(command)}\") words=\"{string.Join(' ', command.Words)}\" ;;\n");
        }

        // Without a match readline offers files: so a word that is no option and no command is completed as a file.
        return text.Append("""
                esac
                COMPREPLY=($(compgen -W "$words" -- "$word"))
                if [[ -z $word && $words == -* ]]; then COMPREPLY=(); fi
            }
            complete -o default -F _nest nest
            """).Append('\n').ToString();
    }

    public static string Zsh(IReadOnlyList<CommandView> commands)
    {
        var text = new StringBuilder("""
            #compdef nest
            # Completion of nest for zsh. Put this line into ~/.zshrc, below compinit:  source <(nest completion zsh)
            _nest() {
                local here="" one
                local -a found
                for one in ${words[2,CURRENT-1]}; do
                    case "$here $one" in
            """).Append('\n');
        text.Append($"            {Paths(commands, "\" {0}\"", "|")}) here=\"$here $one\" ;;\n");
        text.Append("        esac\n    done\n    case \"$here\" in\n");
        foreach (var command in commands)
        {
            var words = Children(command, commands).Select(child => (Name: child.Path.Split(' ')[^1], child.Description))
                .Concat(command.Options.SelectMany(option => option.Names.Select(name => (Name: name, option.Description))));
            var pairs = words.Select(word => Quoted($"{word.Name}:{word.Description.Replace(":", "\\:", StringComparison.Ordinal)}"));
            text.Append($"        \"{Lead(command)}\") found=({string.Join(' ', pairs)}) ;;\n");
        }

        return text.Append("""
                esac
                _describe 'nest' found
                [[ ${words[CURRENT]} == -* ]] || _files
            }
            compdef _nest nest
            """).Append('\n').ToString();
    }

    public static string Fish(IReadOnlyList<CommandView> commands)
    {
        var text = new StringBuilder("# Completion of nest for fish:  nest completion fish > ~/.config/fish/completions/nest.fish\n");
        foreach (var command in commands)
        {
            var when = Quoted(Condition(command));
            foreach (var child in Children(command, commands))
            {
                text.Append($"complete -c nest -n {when} -a {child.Path.Split(' ')[^1]} -d {Quoted(child.Description)}\n");
            }

            foreach (var option in command.Options)
            {
                var names = string.Join(' ', option.Names.Select(name => name.StartsWith("--", StringComparison.Ordinal) ? $"-l {name[2..]}" : $"-s {name[1..]}"));
                text.Append($"complete -c nest -n {when} {names}{(option.Value.Length > 0 ? " -r" : "")} -d {Quoted(option.Description)}\n");
            }
        }

        return text.ToString();
    }

    public static string PowerShell(IReadOnlyList<CommandView> commands)
    {
        var text = new StringBuilder("""
            # Completion of nest for PowerShell. Put this line into $PROFILE:  nest completion powershell | Out-String | Invoke-Expression
            Register-ArgumentCompleter -Native -CommandName nest -ScriptBlock {
                param($wordToComplete, $commandAst, $cursorPosition)
                $words = @{
            """).Append('\n');
        foreach (var command in commands)
        {
            text.Append($"        '{command.Path}' = @({string.Join(", ", command.Words.Select(Doubled))})\n");
        }

        return text.Append("""
                }
                $here = ''
                foreach ($element in $commandAst.CommandElements | Select-Object -Skip 1) {
                    if ($element.Extent.EndOffset -ge $cursorPosition) { break }
                    $next = "$here $element".Trim()
                    if ($words.ContainsKey($next)) { $here = $next }
                }
                $words[$here] | Where-Object { $_ -like "$wordToComplete*" } | ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }
            }
            """).Append('\n').ToString();
    }

    private static string Paths(IReadOnlyList<CommandView> commands, string form, string between) => string.Join(
        between, commands.Where(command => command.Path.Length > 0).Select(command => form.Replace("{0}", command.Path, StringComparison.Ordinal)));

    private static string Lead(CommandView command) => command.Path.Length == 0 ? "" : " " + command.Path;

    private static IEnumerable<CommandView> Children(CommandView command, IReadOnlyList<CommandView> commands) =>
        command.Children.Select(child => commands.First(view => view.Path == (command.Path.Length == 0 ? child : $"{command.Path} {child}")));

    private static string Condition(CommandView command)
    {
        if (command.Path.Length == 0)
        {
            return "__fish_use_subcommand";
        }

        var seen = command.Path.Split(' ').Select(word => $"__fish_seen_subcommand_from {word}");
        return string.Join("; and ", command.Children.Count == 0 ? seen : seen.Append($"not __fish_seen_subcommand_from {string.Join(' ', command.Children)}"));
    }

    /// <summary>In single quotes, as bash, zsh and fish read them.</summary>
    private static string Quoted(string text) => $"'{text.Replace("'", "’", StringComparison.Ordinal)}'";

    private static string Doubled(string text) => $"'{text.Replace("'", "''", StringComparison.Ordinal)}'";
}
