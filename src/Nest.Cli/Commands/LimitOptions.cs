using System.CommandLine;

namespace Nest.Cli.Commands;

/// <summary>The options that limit a search, with their checks: one maker for all commands.</summary>
internal static class LimitOptions
{
    /// <summary>Above this a day's work is over.</summary>
    private const double MostSeconds = 86_400;

    /// <summary><c>--seconds</c>.</summary>
    /// <param name="usual">The default; null: the job's, and the option's value is null.</param>
    public static Option<double?> Seconds(string description, double? usual = null)
    {
        var option = new Option<double?>("--seconds", "-s") { Description = description, HelpName = "N" };
        if (usual is { } value)
        {
            option.DefaultValueFactory = _ => value;
        }

        return option.UpTo(MostSeconds);
    }

    /// <summary><c>--work</c>.</summary>
    public static Option<long?> Work(string description) => new Option<long?>("--work") { Description = description, HelpName = "N" }.AboveZero();
}
