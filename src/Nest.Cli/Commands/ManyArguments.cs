using System.CommandLine;

namespace Nest.Cli.Commands;

/// <summary>Arguments of which there may be as many as one likes.</summary>
internal static class ManyArguments
{
    /// <summary>Refuses what looks like an option: it would be taken as one more file.</summary>
    public static void RefuseOptions(this Argument<string[]> argument) => argument.Validators.Add(result =>
    {
        foreach (var token in result.Tokens.Where(token => token.Value is ['-', _, ..]))
        {
            result.AddError($"Unrecognized command or argument '{token.Value}'.");
        }
    });
}
