using System.Collections.Immutable;
using System.CommandLine;
using Nest.Core.Cutting;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Data.Tables;
using Nest.Output;
using Nest.Output.Folders;
using Nest.Output.Orders;
using Nest.Planning;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands;

/// <summary><c>nest plan</c>: from a job or a parts list to a checked plan and its output folder.</summary>
internal static class PlanCommand
{
    public static void Fill(Command command, World world)
    {
        var input = new Argument<string[]>("job") { Description = ModelOptions.InputHelp + " Several jobs become one plan: bought at once, layouts shared, pieces named by job.", Arity = ArgumentArity.OneOrMore };
        input.RefuseOptions();
        var output = new Option<string?>("--out", "-o")
        {
            Description = "Folder for plan, pictures and cut sheets. Default: <name>-plan in the current folder, the name that of the job file, or of its folder when it is called job.toml; with --rest <name>-rest-of-<plan>.", HelpName = "DIR",
        };
        var seconds = LimitOptions.Seconds("Time limit of the search. Default: the job's, else 10. From 5 on, what one supplier fewer costs takes up to a tenth more.");
        var work = LimitOptions.Work("Limit in steps of work instead of time: the same plan to the byte on every machine.");
        var seed = new Option<int?>("--seed") { Description = "Seed of the random choices. Default: the job's, else 1.", HelpName = "N" };
        var rack = new Option<string?>("--rack")
        {
            Description = "A rack file (see 'nest rack'): its free leftovers are planned with, beside those of the job.", HelpName = "FILE",
        };
        var rest = new Option<string?>("--rest")
        {
            Description = "With --rack: plan only what this plan (P7) has not made yet, also with what it has reserved; 'nest replan' takes the new plan.",
            HelpName = "PLAN",
        };
        var notOrdered = new Option<bool>("--not-ordered")
        {
            Description = "With --rest: what that plan was to buy and 'nest receive' did not enter was not ordered, so it may be bought anew.",
        };
        var json = new Option<bool>("--json") { Description = "Print the plan as JSON instead of the summary." };
        var details = new Option<bool>("--details") { Description = "Print all of the plan: lines to buy with their reasons, layouts, cost by part, leftovers." };
        var replace = new Option<bool>("--replace") { Description = "Replace the plan in the folder though it is in use (reserved, ordered)." };
        command.With(input, output, rack, rest, notOrdered, seconds, work, seed, json, details, replace);
        var sheets = new SheetChoices(command);
        var tables = new TableOptions(command);
        var rules = new RuleOptions(command);
        var keeps = new KeepOptions(command);
        var together = new TogetherRun(command, input);
        command.Validators.Add(result =>
        {
            if (result.GetValue(rest) is not null && result.GetValue(rack) is null)
            {
                result.AddError("--rest wants --rack: the rack knows what the plan has made.");
            }

            if (result.GetValue(notOrdered) && result.GetValue(rest) is null)
            {
                result.AddError("--not-ordered belongs to --rest.");
            }
        });
        command.SetAction(parsed => Run(world, new(
            parsed.GetRequiredValue(input), parsed.GetValue(output), parsed.GetValue(rack), parsed.GetValue(rest), parsed.GetValue(notOrdered), parsed.GetValue(seconds),
            parsed.GetValue(work), parsed.GetValue(seed), parsed.GetValue(json), parsed.GetValue(details), parsed.GetValue(replace),
            given => sheets.Of(parsed, world.Time, given.Job.Unit, given.Paper) with { Correspondence = given.Correspondence }, tables.Of(parsed), job => rules.On(job, parsed, world),
            (job, given, folder) => keeps.On(world, job, parsed, folder, given.Keep),
            (inputs, choices) => together.Read(world, parsed, inputs, choices), (given, plan, options) => together.Tell(world, parsed, given, plan, options))));
    }

    private sealed record Asked(
        string[] Inputs, string? Folder, string? Rack, string? Rest, bool NotOrdered, double? Seconds, long? Work, int? Seed, bool Json, bool Details, bool Replace,
        Func<JobInput, OutputOptions> Sheets, TableChoices Tables, Func<Job, Job?> Ruled, Func<Job, JobInput, string, Job?> Kept,
        Func<string[], TableChoices, ReadResult<JobInput>> Read, Action<Job, Plan, PlanOptions> Apart);

    private static int Run(World world, Asked asked)
    {
        var read = asked.Read(asked.Inputs, asked.Tables);
        Screen.Report(world.Error, read.Findings);
        if (read.Value is not { Job: var job } given)
        {
            return ExitCode.InputRefused;
        }

        ImmutableArray<PaidPiece> paid = [];
        if (asked.Rack is { } rackFile)
        {
            if (RackForJob.Add(world, rackFile, asked.Rest, asked.NotOrdered, job) is not { } withRack)
            {
                return ExitCode.InputRefused;
            }

            (job, paid) = withRack;
            var findings = JobChecker.Check(job);
            Screen.Report(world.Error, findings);
            if (findings.HasErrors())
            {
                return ExitCode.InputRefused;
            }
        }

        if (asked.Ruled(job) is not { } ruled)
        {
            return ExitCode.InputRefused;
        }

        job = ruled;
        var folder = asked.Folder ?? DefaultFolder(asked.Inputs, asked.Rest);
        if (!OutputPlace.CanWrite(world, folder, asked.Replace) || asked.Kept(job, given, folder) is not { } around)
        {
            return ExitCode.InputRefused;
        }

        job = around;

        var limits = new PlanOptions { Seconds = asked.Seconds ?? given.Seconds, Work = asked.Work, Seed = asked.Seed ?? given.Seed };
        PlanResult result;
        ImmutableArray<PlannedWithout> without;
        using (var progress = new ProgressLine(world, job.Currency))
        {
            result = Planner.Plan(given with { Job = job }, limits, progress.Show, world.Cancel);
            without = result.Plan is { } found ? OneSupplierFewer.Of(found, limits, world.Cancel) : [];
        }

        if (result.Plan is not { } plan)
        {
            Screen.Report(world.Error, result.Findings);
            world.Error.WriteLine("The checker refused the plan: nothing was written. This is a fault of Nest; please report it.");
            return ExitCode.CheckerRefused;
        }

        var options = asked.Sheets(given) with { Work = CutSequencer.Order(plan), SawAddress = given.SawAddress(FolderOf(asked.Inputs[0])), Without = without };
        OutputResult written;
        try
        {
            written = Planner.Write(plan, folder, options, asked.Replace);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            world.Error.WriteLine(
                $"error: --out: the plan could not be written into {folder}: {fault.Message}{(fault is FolderException ? "" : " — make room there or name another folder")}; the folder holds what it held before");
            return ExitCode.InputRefused;
        }

        if (asked.Json)
        {
            world.Out.Write(PlanFile.ToText(plan));
        }
        else if (asked.Details)
        {
            PlanSummary.Write(plan, world.Out, options);
            world.Out.WriteLine();
            world.Out.WriteLine($"Written to {folder}");
        }
        else
        {
            PlanScreen.Write(plan, world.Out, options, folder);
        }

        if (!asked.Json)
        {
            foreach (var line in GangLines.Of(plan))
            {
                world.Out.WriteLine(line);
            }

            asked.Apart(job, plan, limits);
            if (ChangeLines.TooMuch(paid, plan.Layouts.Select(layout => plan.StockOf(layout).RackMark)) is { Length: > 0 } tooMuch)
            {
                world.Out.WriteLine($"Bought too much: {tooMuch} came and is not needed now; it stays on the rack, paid for, or goes back to the supplier.");
            }

            if (plan.Layouts.Where(layout => layout.Kept).Select(layout => layout.Number).ToList() is { Count: > 0 } stay)
            {
                world.Out.WriteLine($"Stay as the earlier plan had them: layouts {string.Join(", ", stay)} by their numbers here; cost and bound are for plans with these.");
            }

            var used = plan.Layouts.Select(layout => layout.StockId).ToHashSet(StringComparer.Ordinal);
            if (plan.Job.Stocks.Where(stock => stock.UseFirst && !used.Contains(stock.Id)).Select(stock => stock.RackMark).ToList() is { Count: > 0 } stays)
            {
                world.Out.WriteLine($"To go first, and not used all the same: {string.Join(", ", stays)}; nothing fits there, or the saw would cost more than it saves.");
            }

            if (written.Removed.Contains("quote.pdf"))
            {
                world.Out.WriteLine("The quote.pdf of the plan before was taken away: 'nest quote' makes a new one.");
            }
        }

        return plan.Unplaced.IsEmpty ? ExitCode.Done : ExitCode.NotAllParts;
    }

    /// <summary>Name of the job's folder, as the desk calls the job.</summary>
    private static string FolderOf(string input)
    {
        var full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(input));
        return Path.GetFileName(Directory.Exists(full) ? full : Path.GetDirectoryName(full)) ?? "";
    }

    private static string DefaultFolder(string[] inputs, string? rest) =>
        string.Join('+', TogetherRun.Names(inputs)) + (rest is null ? "-plan" : $"-rest-of-{rest.Trim().ToUpperInvariant()}");

    /// <summary>What a job is called by its file; most are called job.toml: their folder tells more.</summary>
    public static string NameOf(string input)
    {
        var full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(input == "-" ? "parts" : input));
        var name = Path.GetFileNameWithoutExtension(full);
        return name is "job" ? Path.GetFileName(Path.GetDirectoryName(full)) ?? name : name;
    }
}
