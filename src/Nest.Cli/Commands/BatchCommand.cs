using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Batch;
using Nest.Solve;
using Nest.Solve.Batch;
using Nest.Data.Tables;

namespace Nest.Cli.Commands;

/// <summary><c>nest batch</c>: how many to make.</summary>
internal static class BatchCommand
{
    private const int UsualFrom = 1;
    private const int UsualTo = 30;
    private const int Most = 100_000;

    private sealed record Asked(
        string Input, string? Part, int From, int To, double Seconds, long? Work, string[] Prefer, string? Folder, TableChoices Tables, Func<Job, Job?> Ruled);

    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("job") { Description = ModelOptions.InputHelp };
        var part = new Option<string?>("--part") { Description = "One part alone, a piece a set, spares as in the parts list. Default: the whole kit.", HelpName = "NAME" };
        var from = new Option<int>("--from") { Description = "Smallest number of sets.", HelpName = "A", DefaultValueFactory = _ => UsualFrom }.Whole(1, Most);
        var to = new Option<int>("--to") { Description = "Largest number of sets.", HelpName = "B", DefaultValueFactory = _ => UsualTo }.Whole(1, Most);
        var seconds = LimitOptions.Seconds("Time for the whole curve.", 60);
        var work = LimitOptions.Work("Limit in steps of work for each number instead of time.");
        var prefer = new Option<string[]>("--prefer") { Description = "Part that the offcuts are filled up with first; give it again for the next.", HelpName = "NAME", DefaultValueFactory = _ => [] };
        var output = new Option<string?>("--out", "-o") { Description = "Folder for batch.csv and batch.png. Default: none is written.", HelpName = "DIR" };
        command.With(input, part, from, to, seconds, work, prefer, output);
        var tables = new TableOptions(command);
        command.Validators.Add(result =>
        {
            // Defaults are not there yet when validators run, and what is no such number was told already.
            if (Given(result.GetResult(from), UsualFrom) is not { } a || Given(result.GetResult(to), UsualTo) is not { } b)
            {
                return;
            }

            if (b < a || b - a >= 1000)
            {
                result.AddError($"--to must not be below --from, and at most 999 above it: {a} to {b} is not.");
            }
        });
        var rules = new RuleOptions(command);
        command.SetAction(parsed => Run(world, new(
            parsed.GetRequiredValue(input), parsed.GetValue(part), parsed.GetValue(from), parsed.GetValue(to), parsed.GetRequiredValue(seconds)!.Value,
            parsed.GetValue(work), parsed.GetValue(prefer) ?? [], parsed.GetValue(output), tables.Of(parsed), job => rules.On(job, parsed, world))));
    }

    private static int? Given(OptionResult? result, int usual) => result is not { Tokens: [{ Value: var text }] }
        ? usual
        : int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value) && value is >= 1 and <= Most ? value : null;

    private static int Run(World world, Asked asked)
    {
        if (JobLoader.Load(world, asked.Input, asked.Tables) is not { } given)
        {
            return ExitCode.InputRefused;
        }

        if (asked.Ruled(given.Job) is not { } job)
        {
            return ExitCode.InputRefused;
        }

        var unknown = asked.Prefer.Append(asked.Part).OfType<string>().Where(name => Find(job, name) is null).ToList();
        foreach (var name in unknown)
        {
            world.Error.WriteLine($"error: the job has no part '{name}'; it has {string.Join(", ", job.Parts.Select(one => one.Id))}");
        }

        if (unknown.Count > 0)
        {
            return ExitCode.InputRefused;
        }

        if (asked.Part is { } only)
        {
            var alone = Find(job, only)! with { Quantity = 1 };
            job = job with
            {
                Parts = [alone],
                Stocks = [.. job.Stocks.Where(stock => (stock.CutFor is null || stock.CutFor == alone.Id)
                    && string.Equals(stock.MaterialId, alone.MaterialId, StringComparison.OrdinalIgnoreCase))],
            };
        }

        if (asked.Folder is { } place && !OutputPlace.CanWrite(world, place))
        {
            return ExitCode.InputRefused;
        }

        var limits = new SolveLimits
        {
            Seconds = asked.Work is null ? asked.Seconds : 86_400, Work = asked.Work, Seed = given.Seed ?? 1, Threads = Environment.ProcessorCount,
        };
        var number = asked.To - asked.From + 1;
        var planned = 0;
        ImmutableArray<BatchPoint> points;
        world.Error.WriteLine($"{QuoteCommand.Sets(asked.From)} to {asked.To}{(asked.Work is null ? string.Create(CultureInfo.InvariantCulture, $", {asked.Seconds:0.#} s") : "")}; Ctrl-C gives what is found until then.");
        using (new Heartbeat(world, () => planned >= number ? "all numbers planned, the widest gaps are searched on" : $"{planned} of {number} numbers planned"))
        {
            points = BatchCurve.Of(job, asked.From, asked.To, limits, done => planned = done, world.Cancel);
        }

        var brokenOff = world.Cancel.IsCancellationRequested;

        foreach (var plan in points.Select(point => point.Plan).Distinct(ReferenceEqualityComparer.Instance).Cast<Plan>())
        {
            var refused = PlanChecker.Check(plan);
            if (refused.HasErrors())
            {
                Screen.Report(world.Error, refused);
                world.Error.WriteLine("The checker refused a plan: nothing was written. This is a fault of Nest; please report it.");
                return ExitCode.CheckerRefused;
            }
        }

        Show(world.Out, job, points, asked, brokenOff);
        if (brokenOff)
        {
            world.Out.WriteLine();
            world.Out.WriteLine($"{PlanRun.BrokenOff}: plans and gaps above are what was found until then{(asked.Folder is null ? "" : "; batch.csv and batch.png were not written")}.");
            return ExitCode.BrokenOff;
        }

        if (asked.Folder is { } folder)
        {
            var title = asked.Part ?? job.Name;
            var files = BatchFiles.Write(folder, title, job.Currency, [.. points.Select(point => new BatchRow(
                point.Sets, point.PlannedFor, point.Cost, point.Bound.Value, point.Gap * 100m, point.Step,
                BestNumbers.IsCertain(points, point), NotCut(point), Bought(point.Plan), BatchNotes.FreeSets(points, point),
                string.Join("; ", BatchNotes.Breaks(point.Sets == points[0].Sets ? null : points.Last(one => one.Sets < point.Sets), point)), GangLines.Table(point.Plan)))]);
            world.Out.WriteLine();
            world.Out.WriteLine($"Written to {folder}: {string.Join(", ", files)}.");
        }

        return points.All(point => point.Complete) ? ExitCode.Done : ExitCode.NotAllParts;
    }

    private static Part? Find(Job job, string name) =>
        job.Parts.FirstOrDefault(part => string.Equals(part.Id, name, StringComparison.OrdinalIgnoreCase));

    private static void Show(TextWriter writer, Job job, ImmutableArray<BatchPoint> points, Asked asked, bool brokenOff)
    {
        writer.WriteLine($"{asked.Part ?? job.Name}: cost in {job.Currency} for {asked.From} to {asked.To} sets{(brokenOff ? $" – {PlanRun.BrokenOff}" : "")}");
        writer.WriteLine("  sets   cost of batch     per set    gap %   what changes");
        BatchPoint? before = null;
        foreach (var point in points)
        {
            var notes = new List<string>();
            if (!point.Complete)
            {
                // A search that was ended early says nothing of what can be cut.
                notes.Add(brokenOff ? "not planned to its end" : "NOT ALL CAN BE CUT: " + string.Join(", ", point.Plan.Unplaced.Select(line => $"{line.Count} × {line.PartId}")));
            }

            if (BatchNotes.FreeSets(points, point) is > 0 and var free)
            {
                notes.Add($"{free} more {(free == 1 ? "is" : "are")} free");
            }
            else if (point.PlannedFor > point.Sets)
            {
                notes.Add($"as for {point.PlannedFor}: no dearer");
            }

            if (before is not null && BatchNotes.Breaks(before, point).ToList() is { Count: > 0 } breaks)
            {
                notes.Add($"PRICE BREAK: {string.Join(", ", breaks)}");
            }

            if (point.Step && before is not null)
            {
                notes.Add($"step of {(point.Cost - before.Cost).ToString()}: {Changes(before.Plan, point.Plan)}");
            }

            if (GangLines.Short(point.Plan) is { Length: > 0 } several && several != (before is null ? "" : GangLines.Short(before.Plan)))
            {
                notes.Add(several);
            }

            if (point.Best)
            {
                notes.Add(BestNumbers.IsCertain(points, point) ? "BEST SO FAR" : "cheapest so far, not proven");
            }

            var perSet = point.CostPerSet is { } each ? string.Create(CultureInfo.InvariantCulture, $"{each:0.00}") : "–";
            var gap = point is { Complete: true, Gap: { } part } ? string.Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(part * 10_000m) / 100m:0.00}") : "–";
            writer.WriteLine($"{point.Sets,6} {point.Cost,15} {perSet,11} {gap,8}   {string.Join("; ", notes)}".TrimEnd());
            before = point;
        }

        if (!brokenOff)
        {
            ShowNotCut(writer, points);
        }

        writer.WriteLine();
        var best = BestNumbers.Cheapest(points);
        writer.WriteLine(brokenOff && best is null ? "Best number: not known, none was planned to its end" : Best(points, best));
        FillUps(writer, job, [.. points.Where(point => point.Complete)], asked, best);
    }

    /// <summary>Each part that is left out somewhere: from which number on, and why there.</summary>
    private static void ShowNotCut(TextWriter writer, ImmutableArray<BatchPoint> points)
    {
        var first = points.SelectMany(point => point.Plan.Unplaced.Select(line => (point.Sets, Line: line)))
            .GroupBy(entry => entry.Line.PartId, StringComparer.Ordinal).Select(group => group.First()).OrderBy(entry => entry.Sets).ToList();
        if (first.Count == 0)
        {
            return;
        }

        writer.WriteLine();
        writer.WriteLine("Cannot be cut (such numbers have no cost per set and are none of the best):");
        foreach (var (sets, line) in first)
        {
            writer.WriteLine($"  {line.PartId}, first with {QuoteCommand.Sets(sets)} ({line.Count} left out): {line.Reason}");
        }
    }

    /// <summary>The best number where the gaps allow to say it; else the cheapest found with those that may be as cheap.</summary>
    private static string Best(ImmutableArray<BatchPoint> points, BatchPoint? best)
    {
        const int Named = 6;
        if (best is null)
        {
            return "Best number: none in this range, as none can be cut entirely";
        }

        var equal = BestNumbers.AboutEqual(points, best);
        if (equal.IsEmpty)
        {
            return $"Best number: {PerSet(best)}; no other one of the range is cheaper per set, however well it is planned";
        }

        var all = equal.Length == points.Length - 1 && equal.Length > Named;
        return $"Cheapest found: {PerSet(best)}; about equal as far as the gaps tell: "
            + (all ? "all others" : string.Join(", ", equal.Take(Named).Select(PerSet)) + (equal.Length > Named ? $" and {equal.Length - Named} more" : ""));

        static string PerSet(BatchPoint point) => string.Create(CultureInfo.InvariantCulture, $"{point.Sets} ({point.CostPerSet:0.00} a set)");
    }

    private static string NotCut(BatchPoint point) =>
        string.Join("; ", point.Plan.Unplaced.Select(line => $"{line.Count} x {line.PartId}: {line.Reason}"));

    private static void FillUps(TextWriter writer, Job job, ImmutableArray<BatchPoint> points, Asked asked, BatchPoint? best)
    {
        foreach (var point in points.Where(point => point.Sets == job.Batch).Append(best).OfType<BatchPoint>().DistinctBy(point => point.Sets))
        {
            var blanks = BlankSizer.Size(point.Plan.Job);
            var preferred = asked.Prefer.Select(name => blanks.First(blank => GangOptions.MembersOf(blank.Part).Contains(name, StringComparer.OrdinalIgnoreCase))).ToList();
            var lines = preferred.Count > 0 ? FillUp.Together(point.Plan, preferred) : FillUp.Alone(point.Plan, blanks);
            writer.WriteLine();
            writer.WriteLine($"With {QuoteCommand.Sets(point.Sets)} the offcuts still give, without buying anything ({(preferred.Count > 0 ? "together" : "each part by itself")}, at least):");
            foreach (var line in lines)
            {
                writer.WriteLine($"  {line.Count,5} × {line.PartId}{GangLines.Blanks(point.Plan, line.PartId)} (facing and credit of kept offcuts given up: {line.Extra} {job.Currency})");
            }

            if (lines.IsEmpty)
            {
                writer.WriteLine("  nothing");
            }
        }
    }

    private static string Bought(Plan plan) => string.Join("; ", CostSheet.BuyLines(plan).Where(line => !line.FromRack).Select(line => $"{line.Count} x {line.Stock.Id}"));

    /// <summary>What is bought more (+) or less (−), the dearest three.</summary>
    private static string Changes(Plan fewer, Plan more)
    {
        var before = CostSheet.BuyLines(fewer).ToDictionary(line => line.Stock.Id, line => line.Count, StringComparer.Ordinal);
        var after = CostSheet.BuyLines(more).ToDictionary(line => line.Stock.Id, line => line.Count, StringComparer.Ordinal);
        var changes = more.Job.Stocks
            .Select(stock => (Stock: stock, Change: after.GetValueOrDefault(stock.Id) - before.GetValueOrDefault(stock.Id)))
            .Where(entry => entry.Change != 0)
            .OrderByDescending(entry => entry.Stock.PiecePrice * Math.Abs(entry.Change)).ToList();
        return string.Join(", ", changes.Take(3).Select(entry => $"{(entry.Change > 0 ? "+" : "−")}{Math.Abs(entry.Change)} {entry.Stock.Id}"))
            + (changes.Count > 3 ? ", …" : "");
    }
}
