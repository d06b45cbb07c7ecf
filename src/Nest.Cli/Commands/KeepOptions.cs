using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Nest.Core.Inputs;
using Nest.Core.Jobs;

namespace Nest.Cli.Commands;

/// <summary>Layouts of an earlier plan that stay: <c>--keep 1,4</c>, or <c>[keep]</c> of a job file.</summary>
internal sealed class KeepOptions
{
    private readonly Option<string?> keep = new("--keep") { Description = "Layouts of an earlier plan that stay as they are, by their numbers: 1,4. The rest is planned around them.", HelpName = "1,4" };
    private readonly Option<string?> from = new("--keep-from") { Description = "The plan that --keep speaks of. Default: the one that is in the folder of --out.", HelpName = "PLAN" };

    public KeepOptions(Command command)
    {
        command.Add(keep);
        command.Add(from);
        command.Validators.Add(result =>
        {
            if (result.GetValue(from) is not null && result.GetValue(keep) is null)
            {
                result.AddError("--keep-from belongs to --keep.");
            }

            if (result.GetValue(keep) is { } text && Numbers(text) is null)
            {
                result.AddError($"--keep {text}: it wants numbers of layouts, as 1,4.");
            }
        });
    }

    /// <summary>The job with the layouts that stay; null where that is not possible, which is said.</summary>
    /// <param name="folder">Where the new plan goes, and an old one may be.</param>
    /// <param name="ofFile">What the job file says: the place of the plan, and the numbers.</param>
    public Job? On(World world, Job job, ParseResult parsed, string folder, (string Plan, string Layouts)? ofFile)
    {
        var asked = parsed.GetValue(keep) is { } text ? (Plan: parsed.GetValue(from) ?? folder, Layouts: text) : ofFile;
        if (asked is not var (place, layouts))
        {
            return job;
        }

        if (Numbers(layouts) is not { } numbers)
        {
            world.Error.WriteLine($"error: keep: layouts is '{layouts}' — write numbers of layouts, as \"1,4\"");
            return null;
        }

        if (!Directory.Exists(place) && !File.Exists(place))
        {
            world.Error.WriteLine($"error: --keep {layouts}: there is no plan in {place} — name the plan with --keep-from");
            return null;
        }

        var (plan, _) = PlanLoader.Load(world, place);
        if (plan is null)
        {
            return null;
        }

        var (kept, problems) = KeptLayouts.On(job, plan, numbers);
        foreach (var problem in problems)
        {
            world.Error.WriteLine($"error: --keep {layouts}: {problem}");
        }

        return kept;
    }

    private static ImmutableArray<int>? Numbers(string text)
    {
        var numbers = text.Split(',', StringSplitOptions.TrimEntries)
            .Select(one => int.TryParse(one, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0).ToList();
        return numbers.TrueForAll(number => number > 0) ? [.. numbers] : null;
    }
}
