using System.CommandLine;

namespace Nest.Cli.Commands.Shells;

/// <summary>An option as shells and the manual page show it.</summary>
/// <param name="Names">Its name, then its other names.</param>
/// <param name="Value">Name of its value in capitals; empty: a switch.</param>
internal sealed record OptionView(IReadOnlyList<string> Names, string Value, string Description);

/// <summary>A command with the words that lead to it, as shells and the manual page show it.</summary>
/// <param name="Path">Words after <c>nest</c>, joined by blanks; empty: the program itself.</param>
/// <param name="Children">Names of its commands.</param>
/// <param name="Arguments">Name in capitals and description.</param>
internal sealed record CommandView(
    string Path, string Description, IReadOnlyList<string> Children, IReadOnlyList<(string Name, string Description)> Arguments, IReadOnlyList<OptionView> Options)
{
    /// <summary>What may be typed next: commands, else options.</summary>
    public IEnumerable<string> Words => Children.Concat(Options.SelectMany(option => option.Names));
}

/// <summary>The commands as they are defined, in a list: what scripts for shells and the manual page are made from.</summary>
internal static class CommandTree
{
    public static IReadOnlyList<CommandView> Of(RootCommand root)
    {
        var views = new List<CommandView>();
        Add(root, "", [], views);
        return views;
    }

    private static void Add(Command command, string path, IReadOnlyList<Option> inherited, List<CommandView> views)
    {
        var options = inherited.Concat(command.Options).Where(option => !option.Hidden).DistinctBy(option => option.Name).ToList();
        var children = command.Subcommands.Where(child => !child.Hidden).ToList();
        views.Add(new(
            path, OneLine(command.Description), [.. children.Select(child => child.Name)],
            [.. command.Arguments.Where(argument => !argument.Hidden).Select(argument => (argument.Name.ToUpperInvariant(), OneLine(argument.Description)))],
            [.. options.Select(View)]));
        foreach (var child in children)
        {
            Add(child, path.Length == 0 ? child.Name : $"{path} {child.Name}", [.. options.Where(option => option.Recursive)], views);
        }
    }

    private static OptionView View(Option option) => new(
        [.. option.Aliases.Append(option.Name).Distinct(StringComparer.Ordinal).Where(IsPosix).OrderByDescending(name => name.Length)],
        option.Arity.MaximumNumberOfValues == 0 || option.ValueType == typeof(bool) ? "" : (option.HelpName ?? option.Name.TrimStart('-')).ToUpperInvariant(),
        OneLine(option.Description));

    // The library also offers /h and /?, which are no custom of these shells.
    private static bool IsPosix(string name) => name.StartsWith('-') && name != "-?";

    private static string OneLine(string? text) => string.Join(' ', (text ?? "").Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}
