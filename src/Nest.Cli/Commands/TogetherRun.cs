using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Tables;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary>Several jobs in one plan: how many sets of each, reading them as one, and what that saves.</summary>
internal sealed class TogetherRun
{
    private const int MostSets = 100_000;

    private readonly Option<string?> sets = new("--sets") { Description = "Number of sets, in place of the job's; of several jobs one for each, in their order: 2,6.", HelpName = "N,N…" };
    private readonly Option<bool> alone = new("--not-apart") { Description = "Of several jobs: do not plan each by itself too, to tell what it saves to make them together." };

    public TogetherRun(Command command, Argument<string[]> jobs)
    {
        command.Add(sets);
        command.Add(alone);
        command.Validators.Add(result =>
        {
            if (result.GetValue(sets) is not { } text)
            {
                return;
            }

            var count = (result.GetValue(jobs) ?? []).Length;
            if (SetsOf(text) is not { } numbers || numbers.Length != count)
            {
                result.AddError(string.Create(CultureInfo.InvariantCulture, $"--sets {text}: it wants a whole number from 1 to {MostSets} for each job, apart by commas; {(count == 1 ? "there is 1 job" : $"there are {count} jobs")}."));
            }
        });
    }

    private static ImmutableArray<int>? SetsOf(string text)
    {
        var numbers = text.Split(',', StringSplitOptions.TrimEntries)
            .Select(one => int.TryParse(one, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number <= MostSets ? number : 0).ToImmutableArray();
        return numbers.Any(number => number < 1) ? null : numbers;
    }

    /// <summary>The job, or the jobs as one; no value after errors.</summary>
    public ReadResult<JobInput> Read(World world, ParseResult parsed, string[] inputs, TableChoices choices)
    {
        var numbers = parsed.GetValue(sets) is { } text ? SetsOf(text) : null;
        var reads = inputs.Select(input => JobLoader.Read(world, input, choices)).ToList();
        ImmutableArray<Finding> findings = [.. reads.SelectMany(read => read.Findings)];
        var given = reads.Select(read => read.Value).OfType<JobInput>().Select((input, at) => numbers is { } wanted ? input with { Job = input.Job.ForBatch(wanted[at]) } : input).ToList();
        if (given.Count < inputs.Length)
        {
            return new(null, findings);
        }

        if (given.Count == 1)
        {
            return new(given[0], findings);
        }

        var joined = TogetherStudy.Join([.. Names(inputs).Zip(given)]);
        return new(joined.Value, [.. findings, .. joined.Findings]);
    }

    /// <summary>Short names: of a job.toml its folder, else the file; equal ones get a number.</summary>
    public static ImmutableArray<string> Names(IReadOnlyList<string> inputs)
    {
        var names = new List<string>();
        foreach (var input in inputs)
        {
            var name = PlanCommand.NameOf(input).Replace('/', '-');
            var unique = name;
            for (var number = 2; names.Contains(unique, StringComparer.OrdinalIgnoreCase); number++)
            {
                unique = string.Create(CultureInfo.InvariantCulture, $"{name} {number}");
            }

            names.Add(unique);
        }

        return [.. names];
    }

    /// <summary>Says what each job bears, and what making them together saves; nothing for a single job.</summary>
    public void Tell(World world, ParseResult parsed, Job joined, Plan plan, PlanOptions options)
    {
        if (plan.Job.Together.IsEmpty)
        {
            return;
        }

        world.Out.WriteLine(TogetherWords.Shares(plan));
        if (parsed.GetValue(alone))
        {
            return;
        }

        var result = world.Cancel.IsCancellationRequested ? null : TogetherStudy.Of(joined, plan, (job, what) => PlanRun.Solve(world, job, options, what), world.Cancel);
        if (result is null)
        {
            world.Out.WriteLine(TogetherWords.NotWorkedOut);
            return;
        }

        foreach (var line in TogetherWords.Of(result))
        {
            world.Out.WriteLine(line);
        }
    }
}
