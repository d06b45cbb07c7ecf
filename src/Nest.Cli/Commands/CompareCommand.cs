using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary><c>nest compare</c>: two or more settings side by side.</summary>
internal static class CompareCommand
{
    private const int HeadWidth = 20;

    /// <summary>What is compared: a name and a plan.</summary>
    internal sealed record Variant(string Name, Plan Plan);

    public static void Fill(Command command, World world)
    {
        var inputs = new Argument<string[]>("jobs") { Description = "Job files, or one and changes to it.", Arity = ArgumentArity.OneOrMore };
        inputs.RefuseOptions();
        var set = new Option<string[]>("--set") { Description = "A change to the first job, as kerf=1.1; each makes one more column. " + Settings.Known, HelpName = "KEY=VALUE", DefaultValueFactory = _ => [] };
        var seconds = LimitOptions.Seconds("Time for each plan. Default: the job's, else 10.");
        var work = LimitOptions.Work("Limit in steps of work for each plan instead of time.");
        var asJson = new Option<bool>("--json") { Description = "Print it as JSON." };
        command.With(inputs, set, seconds, work, asJson);
        command.Validators.Add(result =>
        {
            if ((result.GetValue(inputs) ?? []).Length + (result.GetValue(set) ?? []).Length < 2)
            {
                result.AddError("Name two jobs, or one and at least one --set KEY=VALUE.");
            }
        });
        command.SetAction(parsed => Run(
            world, parsed.GetRequiredValue(inputs), parsed.GetValue(set) ?? [], parsed.GetValue(seconds), parsed.GetValue(work),
            parsed.GetValue(asJson)));
    }

    private static int Run(World world, string[] inputs, string[] settings, double? seconds, long? work, bool asJson)
    {
        var jobs = new List<(string Name, Job Job, double Seconds, int Seed, string Input)>();
        var fine = true;
        foreach (var input in inputs)
        {
            if (JobLoader.Load(world, input) is not { } given)
            {
                fine = false;
                continue;
            }

            jobs.Add((given.Job.Name, given.Job, given.Seconds ?? 10, given.Seed ?? 1, input));
            foreach (var setting in jobs.Count == 1 ? settings : [])
            {
                var changed = Settings.Apply(given.Job, setting, out var problem);
                var findings = changed is null ? [] : JobChecker.Check(changed);
                Screen.Report(world.Error, [.. findings.Where(finding => finding.Severity == Severity.Error)]);
                fine &= changed is not null && !findings.HasErrors();
                if (changed is null)
                {
                    world.Error.WriteLine($"error: --set {setting}: {problem}");
                }
                else
                {
                    jobs.Add((setting, changed, given.Seconds ?? 10, given.Seed ?? 1, input));
                }
            }
        }

        foreach (var (name, job, _, _, _) in jobs.Skip(1).Where(one => one.Job.Currency != jobs[0].Job.Currency))
        {
            world.Error.WriteLine($"error: '{name}' is in {job.Currency}, '{jobs[0].Name}' in {jobs[0].Job.Currency}: amounts cannot be compared");
            fine = false;
        }

        if (!fine)
        {
            return ExitCode.InputRefused;
        }

        var names = Names([.. jobs.Select(one => (one.Name, one.Input))]);
        var variants = new List<Variant>();
        var whole = 0;
        foreach (var (_, job, own, seed, _) in jobs)
        {
            var name = names[variants.Count];
            if (PlanRun.Solve(world, job, new() { Seconds = seconds ?? own, Work = work, Seed = seed }, string.Create(CultureInfo.InvariantCulture, $"{variants.Count + 1} of {jobs.Count}, {name}")) is not { } plan)
            {
                return ExitCode.CheckerRefused;
            }

            variants.Add(new(name, plan));
            if (world.Cancel.IsCancellationRequested)
            {
                break;
            }

            whole++;
        }

        var brokenOff = whole < jobs.Count;
        if (asJson)
        {
            Json(world.Out, variants, brokenOff);
        }
        else
        {
            Show(world.Out, variants);
        }

        if (brokenOff)
        {
            (asJson ? world.Error : world.Out).WriteLine(
                $"{(asJson ? "" : Environment.NewLine)}{PlanRun.BrokenOff}: {whole} of {jobs.Count} were planned to their end, {variants[^1].Name} only in part{(variants.Count < jobs.Count ? $"; not planned: {string.Join(", ", names.Skip(variants.Count))}" : "")}.");
            return ExitCode.BrokenOff;
        }

        return variants.All(variant => variant.Plan.Unplaced.IsEmpty) ? ExitCode.Done : ExitCode.NotAllParts;
    }

    /// <summary>Names that tell the columns apart: equal ones get the name of their folder, then of their file, then a number.</summary>
    internal static List<string> Names(IReadOnlyList<(string Name, string Input)> jobs)
    {
        var names = jobs.Select(job => job.Name).ToList();
        Tell(at => Path.GetFileName(Path.GetDirectoryName(Path.GetFullPath(jobs[at].Input))) ?? "");
        Tell(at => Path.GetFileName(jobs[at].Input));
        Tell(at => (at + 1).ToString(CultureInfo.InvariantCulture));
        return names;

        void Tell(Func<int, string> more)
        {
            foreach (var same in Enumerable.Range(0, names.Count).GroupBy(at => names[at]).Where(group => group.Count() > 1).ToList())
            {
                // What is the same for all of them tells nothing.
                if (same.Select(more).Distinct(StringComparer.Ordinal).Count() > 1)
                {
                    foreach (var at in same)
                    {
                        names[at] += $" ({more(at)})";
                    }
                }
            }
        }
    }

    /// <summary>Amounts as numbers in the jobs' currency; each variant after the first against the first.</summary>
    private static void Json(TextWriter writer, List<Variant> variants, bool brokenOff)
    {
        var first = variants[0];
        var rows = PlanComparison.Rows(first.Plan.Job.Currency);
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("currency", first.Plan.Job.Currency);
            if (brokenOff)
            {
                json.WriteBoolean("broken_off", true);
            }

            json.WriteStartArray("variants");
            foreach (var variant in variants)
            {
                json.WriteStartObject();
                json.WriteString("name", variant.Name);
                foreach (var row in rows)
                {
                    if (row.Of(variant.Plan) is { } value)
                    {
                        json.WriteNumber(row.Name, decimal.Round(value, row.Decimals));
                    }
                    else
                    {
                        json.WriteNull(row.Name);
                    }
                }

                json.WriteString("lower_bound_source", variant.Plan.Bound.IsKnown ? variant.Plan.Bound.Source : null);
                if (variant != first && PlanComparison.AreComparable(first.Plan, variant.Plan))
                {
                    json.WriteNumber("costs_more_than_first", decimal.Round((variant.Plan.TotalCost - first.Plan.TotalCost).Amount, 2));
                    json.WriteBoolean("difference_is_proven", PlanComparison.IsProven(first.Plan, variant.Plan));
                }

                if (variant != first)
                {
                    json.WriteStartObject("taken_more_than_first");
                    foreach (var (id, change) in PlanComparison.Changes(first.Plan, variant.Plan))
                    {
                        json.WriteNumber(id, change);
                    }

                    json.WriteEndObject();
                }

                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        writer.WriteLine(Encoding.UTF8.GetString(stream.ToArray()));
    }

    private static void Show(TextWriter writer, List<Variant> variants)
    {
        var currency = variants[0].Plan.Job.Currency;
        var heads = variants.Select(variant => Head(variant.Name)).ToList();
        for (var line = 0; line < heads.Max(head => head.Count); line++)
        {
            writer.WriteLine(($"{"",-32}" + string.Concat(heads.Select(head => $" {(line < head.Count ? head[line] : ""),HeadWidth}"))).TrimEnd());
        }

        foreach (var row in PlanComparison.Rows(currency))
        {
            writer.WriteLine($"{row.Label,-32}" + string.Concat(variants.Select(variant =>
                " " + (row.Of(variant.Plan)?.ToString("F" + row.Decimals, CultureInfo.InvariantCulture) ?? "–").PadLeft(20))));
        }

        var first = variants[0];
        foreach (var other in variants.Skip(1))
        {
            writer.WriteLine();
            writer.WriteLine(Verdict(first, other));
            Bought(writer, first.Plan, other.Plan);
        }
    }

    internal static string Verdict(Variant first, Variant other) => PlanComparison.Verdict(first.Name, first.Plan, other.Name, other.Plan, "give more --seconds");

    private static void Bought(TextWriter writer, Plan first, Plan other)
    {
        foreach (var (id, change) in PlanComparison.Changes(first, other))
        {
            writer.WriteLine($"  {(change > 0 ? "+" : "−")}{Math.Abs(change)} {id}");
        }
    }

    /// <summary>A name in lines that fit the column, broken behind marks and blanks where there are any.</summary>
    private static List<string> Head(string name)
    {
        var lines = new List<string>();
        var left = name;
        while (left.Length > HeadWidth)
        {
            var at = left.LastIndexOfAny([' ', '=', '_', '-', '.', ','], HeadWidth - 1);
            at = at < 1 ? HeadWidth : at + 1;
            lines.Add(left[..at].TrimEnd());
            left = left[at..];
        }

        lines.Add(left);
        return lines;
    }
}
