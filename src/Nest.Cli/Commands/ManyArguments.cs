using System.CommandLine;

namespace Nest.Cli.Commands;

/// <summary>Arguments that may be given any number of times.</summary>
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
