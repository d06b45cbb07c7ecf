using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Nest.Core.Quantities;

namespace Nest.Cli;

/// <summary>How every number on the command line is read: plain digits with a point, as in files; what is refused is said in our words.</summary>
/// <remarks>The library's own reading takes a comma for a mark of thousands (5,50 is 550), and its message names types of the runtime.</remarks>
internal static class NumberInput
{
    /// <summary>Gives all numbers of a command and those below it this reading.</summary>
    public static void On(Command command)
    {
        foreach (var option in command.Options)
        {
            On(option, option.Name);
        }

        foreach (var argument in command.Arguments)
        {
            On(argument, argument.Name);
        }

        foreach (var below in command.Subcommands)
        {
            On(below);
        }
    }

    private static void On(Option option, string name)
    {
        switch (option)
        {
            case Option<decimal> one: one.CustomParser ??= result => Number(result, name) ?? 0m; break;
            case Option<decimal?> one: one.CustomParser ??= result => Number(result, name); break;
            case Option<double> one: one.CustomParser ??= result => (double)(Number(result, name) ?? 0m); break;
            case Option<double?> one: one.CustomParser ??= result => (double?)Number(result, name); break;
            case Option<int> one: one.CustomParser ??= result => (int)(Whole(result, name, int.MaxValue) ?? 0); break;
            case Option<int?> one: one.CustomParser ??= result => (int?)Whole(result, name, int.MaxValue); break;
            case Option<long> one: one.CustomParser ??= result => Whole(result, name, long.MaxValue) ?? 0; break;
            case Option<long?> one: one.CustomParser ??= result => Whole(result, name, long.MaxValue); break;
            default: break;
        }
    }

    private static void On(Argument argument, string name)
    {
        switch (argument)
        {
            case Argument<int> one: one.CustomParser ??= result => (int)(Whole(result, name, int.MaxValue) ?? 0); break;
            case Argument<long> one: one.CustomParser ??= result => Whole(result, name, long.MaxValue) ?? 0; break;
            case Argument<long?> one: one.CustomParser ??= result => Whole(result, name, long.MaxValue); break;
            case Argument<int[]> several:
                several.CustomParser ??= result => [.. result.Tokens.Select(token => (int)(Whole(result, token.Value, name, int.MaxValue) ?? 0))];
                break;
            default: break;
        }
    }

    private static decimal? Number(ArgumentResult result, string name) => result.Tokens is [.., { Value: var text }] ? Number(result, text, name) : null;

    private static decimal? Number(ArgumentResult result, string text, string name)
    {
        var reading = NumberText.Read(text);
        if (reading.Value is null)
        {
            result.AddError($"{name}: {reading.Error}; {AtTheKeyboard(reading.Hint)}.");
        }

        return reading.Value;
    }

    private static long? Whole(ArgumentResult result, string name, long most) => result.Tokens is [.., { Value: var text }] ? Whole(result, text, name, most) : null;

    private static long? Whole(ArgumentResult result, string text, string name, long most)
    {
        if (Number(result, text, name) is not { } number)
        {
            return null;
        }

        if (number == decimal.Truncate(number) && Math.Abs(number) <= most)
        {
            return (long)number;
        }

        result.AddError(string.Create(CultureInfo.InvariantCulture, $"{name} wants a whole number, not '{text}'."));
        return null;
    }

    /// <summary>The hint without what can only be done in a job's file.</summary>
    public static string AtTheKeyboard(string hint) =>
        hint.IndexOf(NumberText.OrDeclare, StringComparison.Ordinal) is >= 0 and var at ? hint[..at] : hint;
}
