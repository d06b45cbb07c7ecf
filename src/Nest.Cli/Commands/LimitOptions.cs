using System.CommandLine;
using System.Globalization;

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

        option.Validators.Add(result =>
        {
            // What is no number at all is reported by the parser itself.
            if (result.Tokens is [{ Value: var text }]
                && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var seconds)
                && !(seconds > 0 && seconds <= MostSeconds))
            {
                result.AddError("--seconds wants a number above 0 and at most 86400.");
            }
        });
        return option;
    }

    /// <summary><c>--work</c>.</summary>
    public static Option<long?> Work(string description)
    {
        var option = new Option<long?>("--work") { Description = description, HelpName = "N" };
        option.Validators.Add(result =>
        {
            if (result.Tokens is [{ Value: var text }]
                && long.TryParse(text, NumberStyles.Integer, CultureInfo.InvariantCulture, out var work) && work <= 0)
            {
                result.AddError("--work wants a whole number above 0.");
            }
        });
        return option;
    }
}
