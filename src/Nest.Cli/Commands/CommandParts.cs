using System.CommandLine;

namespace Nest.Cli.Commands;

/// <summary>Gives a command its arguments, options and commands in one line.</summary>
internal static class CommandParts
{
    public static void With(this Command command, params ReadOnlySpan<Symbol> parts)
    {
        foreach (var part in parts)
        {
            switch (part)
            {
                case Argument argument: command.Add(argument); break;
                case Option option: command.Add(option); break;
                case Command below: command.Add(below); break;
                default: throw new ArgumentException($"{part.Name} is no part of a command.", nameof(parts));
            }
        }
    }
}
