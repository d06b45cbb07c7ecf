using System.CommandLine;
using System.CommandLine.Parsing;
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

        // What a command says of its options together makes sense only when each can be read.
        var together = command.Validators.ToList();
        command.Validators.Clear();
        command.Validators.AddRange(together.Select(check => (Action<CommandResult>)(result =>
        {
            try
            {
                check(result);
            }
            catch (InvalidOperationException)
            {
                // An option without its value: the library says so itself, after this.
            }
        })));

        foreach (var below in command.Subcommands)
        {
            On(below);
        }
    }

    // What is wrong is found by a validator and not by the parser: other validators ask for the value, and of one that could not be
    // parsed the library throws.
    private static void On(Option option, string name)
    {
        var whole = option is Option<int> or Option<int?> or Option<long> or Option<long?>;
        switch (option)
        {
            case Option<decimal> one: one.CustomParser ??= result => Number(result) ?? 0m; break;
            case Option<decimal?> one: one.CustomParser ??= Number; break;
            case Option<double> one: one.CustomParser ??= result => (double)(Number(result) ?? 0m); break;
            case Option<double?> one: one.CustomParser ??= result => (double?)Number(result); break;
            case Option<int> one: one.CustomParser ??= result => (int)(Whole(result, int.MaxValue) ?? 0); break;
            case Option<int?> one: one.CustomParser ??= result => (int?)Whole(result, int.MaxValue); break;
            case Option<long> one: one.CustomParser ??= result => Whole(result, long.MaxValue) ?? 0; break;
            case Option<long?> one: one.CustomParser ??= result => Whole(result, long.MaxValue); break;
            default: return;
        }

        var most = option is Option<int> or Option<int?> ? int.MaxValue : long.MaxValue;
        First(option.Validators, result => Check(result, result.Tokens, name, whole, most));
    }

    private static void On(Argument argument, string name)
    {
        switch (argument)
        {
            case Argument<int> one: one.CustomParser ??= result => (int)(Whole(result, int.MaxValue) ?? 0); break;
            case Argument<long> one: one.CustomParser ??= result => Whole(result, long.MaxValue) ?? 0; break;
            case Argument<long?> one: one.CustomParser ??= result => Whole(result, long.MaxValue); break;
            case Argument<int[]> one: one.CustomParser ??= result => [.. result.Tokens.Select(token => (int)(Whole(token.Value, int.MaxValue) ?? 0))]; break;
            default: return;
        }

        var most = argument is Argument<int> or Argument<int[]> ? int.MaxValue : long.MaxValue;
        First(argument.Validators, result => Check(result, result.Tokens, name, whole: true, most));
    }

    /// <summary>Puts a check before the others, which then look only at what can be read.</summary>
    private static void First<T>(List<Action<T>> validators, Action<T> check)
        where T : SymbolResult
    {
        List<Action<T>> others = [.. validators];
        validators.Clear();
        validators.Add(check);
        validators.AddRange(others.Select(other => (Action<T>)(result =>
        {
            if (!result.Errors.Any())
            {
                other(result);
            }
        })));
    }

    private static void Check(SymbolResult result, IReadOnlyList<Token> tokens, string name, bool whole, long most)
    {
        foreach (var text in tokens.Select(token => token.Value))
        {
            if (whole && Whole(text, most) is null)
            {
                result.AddError($"{name} wants a whole number, not '{text}'.");
            }
            else if (NumberText.Read(text) is { Value: null } refused)
            {
                result.AddError($"{name}: {refused.Error}; {AtTheKeyboard(refused.Hint)}.");
            }
        }
    }

    private static decimal? Number(ArgumentResult result) => result.Tokens is [.., { Value: var text }] ? NumberText.Read(text).Value : null;

    private static long? Whole(ArgumentResult result, long most) => result.Tokens is [.., { Value: var text }] ? Whole(text, most) : null;

    private static long? Whole(string text, long most) =>
        NumberText.Read(text).Value is { } number && number == decimal.Truncate(number) && Math.Abs(number) <= most ? (long)number : null;

    /// <summary>The hint without what can only be done in a job's file.</summary>
    public static string AtTheKeyboard(string hint) =>
        hint.IndexOf(NumberText.OrDeclare, StringComparison.Ordinal) is >= 0 and var at ? hint[..at] : hint;
}
