using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output;
using Nest.Output.Folders;
using Nest.Output.Orders;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary><c>nest quote</c>: prices for a customer, on the screen and as a PDF, for one number of sets or several.</summary>
internal static class QuoteCommand
{
    private const int MostNumbers = 12;
    private const int MostSets = 100_000;

    private sealed record Asked(
        string Input, ImmutableArray<int> Sets, decimal Margin, decimal SetUp, decimal Outside, int Days, string Shop, string Customer, string? Output, double? Seconds, long? Work);

    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("plan") { Description = PlanPlace.Described + " With --sets also a job file (.toml) or a parts list (.csv)." };
        var sets = new Option<string?>("--sets") { Description = "Numbers of sets, as 1,10,50: each is planned for itself and gets a price. Default: the plan as it is.", HelpName = "N,N…" };
        var margin = new Option<string?>("--margin") { Description = "Percent on top of all costs.", HelpName = "PERCENT", Required = true }.Margin();
        var setUp = new Option<decimal>("--set-up") { Description = "Charged once for the batch, shared by cost, before the margin.", HelpName = "AMOUNT" }.Amount("an amount", 1_000_000m);
        var outside = new Option<decimal>("--outside") { Description = "Work given out (plating, heat treatment), for one set, shared by cost, before the margin.", HelpName = "AMOUNT" }.Amount("an amount", 1_000_000m);
        var days = new Option<int>("--valid") { Description = "Days from today that the prices hold.", HelpName = "DAYS", DefaultValueFactory = _ => 30 }.Whole(0, 3650);
        var shop = new Option<string>("--shop") { Description = "Who quotes, as printed.", HelpName = "NAME", DefaultValueFactory = _ => "" };
        var customer = new Option<string>("--customer") { Description = "Who for, as printed.", HelpName = "NAME", DefaultValueFactory = _ => "" };
        var output = new Option<string?>("--out", "-o") { Description = "PDF to write. Default: quote.pdf in the plan's folder, or beside the job.", HelpName = "FILE" };
        var seconds = LimitOptions.Seconds("With --sets: time for each number. Default: the job's, else 10.");
        var work = LimitOptions.Work("With --sets: limit in steps of work for each number instead of time.");
        command.With(input, sets, margin, setUp, outside, days, shop, customer, output, seconds, work);
        sets.Validators.Add(result =>
        {
            if (result.Tokens is [{ Value: var text }] && SetsOf(text) is null)
            {
                result.AddError($"--sets wants up to {MostNumbers} whole numbers from 1 to {MostSets} apart by commas, such as 1,10,50, not '{text}'.");
            }
        });
        command.SetAction(parsed => Run(world, new(
            parsed.GetRequiredValue(input), parsed.GetValue(sets) is { } text ? SetsOf(text)!.Value : [], NumberOptions.MarginOf(parsed.GetValue(margin)) ?? 0m,
            parsed.GetValue(setUp), parsed.GetValue(outside), parsed.GetValue(days), parsed.GetValue(shop) ?? "", parsed.GetValue(customer) ?? "",
            parsed.GetValue(output), parsed.GetValue(seconds), parsed.GetValue(work))));
    }

    /// <summary>The prices, a line each.</summary>
    internal static void Show(TextWriter writer, Quote quote)
    {
        foreach (var line in quote.Lines)
        {
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {line.Part.Id,-36} {line.Pieces,6} × {line.Each,10:0.00} = {line.Total,12:0.00}{(line.BlankOnly && !quote.BlanksOnly ? "  blank only" : "")}"));
        }

        writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {"total",-36} {"",6}   {"",10}   {quote.Total,12:0.00}"));
    }

    /// <summary>What the prices are for.</summary>
    internal static string Scope(Quote quote) => quote.BlanksOnly
        ? "SAWN BLANKS ONLY: no machining is included (columns 'mill minutes' and 'set-up minutes' of the parts list put it in)"
        : quote.Lines.Any(line => line.BlankOnly) ? "machining is included but for the parts marked 'blank only'" : "machining is included";

    private static ImmutableArray<int>? SetsOf(string text)
    {
        var sets = text.Split(',', StringSplitOptions.TrimEntries).Select(one => int.TryParse(one, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0).ToList();
        return sets.Count <= MostNumbers && sets.TrueForAll(number => number is >= 1 and <= MostSets) ? [.. sets.Distinct().Order()] : null;
    }

    private static int Run(World world, Asked asked)
    {
        if (asked.Sets.IsEmpty)
        {
            var (loaded, refused) = PlanLoader.Load(world, asked.Input);
            return loaded is { } plan ? Quoted(world, asked, [plan]) : refused;
        }

        if (JobOf(world, asked.Input, out var exit) is not { } given)
        {
            return exit;
        }

        var plans = new List<Plan>();
        foreach (var sets in asked.Sets)
        {
            var options = new PlanOptions { Seconds = asked.Seconds ?? given.Seconds, Work = asked.Work, Seed = given.Seed };
            if (PlanRun.Solve(world, given.Job.ForBatch(sets), options, Sets(sets)) is not { } plan)
            {
                return ExitCode.CheckerRefused;
            }

            if (world.Cancel.IsCancellationRequested)
            {
                world.Error.WriteLine($"{PlanRun.BrokenOff}: no quote was written, as not every number of sets was planned to its end.");
                return ExitCode.BrokenOff;
            }

            plans.Add(plan);
        }

        return Quoted(world, asked, plans);
    }

    /// <summary>The job of a plan or a job file, with its own limits.</summary>
    private static (Job Job, double? Seconds, int? Seed)? JobOf(World world, string input, out int refused)
    {
        refused = ExitCode.InputRefused;
        if (IsPlan(world, input))
        {
            var (loaded, exit) = PlanLoader.Load(world, input);
            refused = exit;
            return loaded is { } plan ? (plan.Job, null, plan.Seed) : null;
        }

        return JobLoader.Load(world, input) is { } given ? (given.Job, given.Seconds, given.Seed) : null;
    }

    private static bool IsPlan(World world, string input) =>
        input.EndsWith(".json", StringComparison.OrdinalIgnoreCase) || (Directory.Exists(input) && File.Exists(PlanPlace.FileOf(world, input)));

    private static int Quoted(World world, Asked asked, List<Plan> plans)
    {
        if (plans.Find(plan => !plan.Unplaced.IsEmpty) is { } missing)
        {
            world.Error.WriteLine($"error: {asked.Input}: the plan does not cut all parts ({string.Join(", ", missing.Unplaced.Select(entry => entry.PartId).Distinct())}), so it has no price for the whole — add stock and plan again");
            return ExitCode.NotAllParts;
        }

        var job = plans[0].Job;
        var quotes = plans.Select(plan => (Sets: plan.Job.Batch, Quote: Quote.Of(plan, new(asked.Margin, asked.SetUp, asked.Outside * plan.Job.Batch)))).ToList();
        world.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{job.Name}: quote in {job.Currency}, margin {asked.Margin:0.##} %, rounded up to the cent per piece, before tax"));
        world.Out.WriteLine("  " + Scope(quotes[0].Quote));
        if (quotes.Count == 1)
        {
            Show(world.Out, quotes[0].Quote);
        }
        else
        {
            ShowSeveral(world.Out, quotes);
        }

        for (var at = 0; at < plans.Count; at++)
        {
            world.Out.WriteLine();
            foreach (var line in QuoteSums.Of(plans[at], quotes[at].Quote, asked.SetUp, asked.Outside * plans[at].Job.Batch))
            {
                world.Out.WriteLine(line);
            }
        }

        var ofPlan = IsPlan(world, asked.Input);
        var folder = ofPlan ? PlanPlace.FolderOf(PlanPlace.FileOf(world, asked.Input))
            : Directory.Exists(asked.Input) ? asked.Input : Path.GetDirectoryName(Path.GetFullPath(asked.Input))!;
        var path = asked.Output ?? Path.Combine(folder, "quote.pdf");
        var today = DateOnly.FromDateTime(world.Time.GetLocalNow().DateTime);
        QuoteSheet.Write(
            path, plans[0], quotes, new(asked.Shop, asked.Customer, today, asked.Days),
            new() { Papers = [job.Unit == LengthUnit.Inch ? Paper.Letter : Paper.A4] });
        if (asked.Output is null && ofPlan)
        {
            FolderWriter.Enlist(folder, "quote.pdf");
        }

        world.Out.WriteLine();
        world.Out.WriteLine($"Written: {path}");
        return ExitCode.Done;
    }

    /// <summary>Price each, side by side.</summary>
    private static void ShowSeveral(TextWriter writer, List<(int Sets, Quote Quote)> quotes)
    {
        writer.WriteLine($"  {"price each",-36} {"in a set",8}" + string.Concat(quotes.Select(one => $" {Sets(one.Sets),12}")));
        for (var at = 0; at < quotes[0].Quote.Lines.Length; at++)
        {
            var line = quotes[0].Quote.Lines[at];
            writer.WriteLine($"  {line.Part.Id,-36} {line.Part.Quantity,8}" + string.Concat(quotes.Select(one => $" {Amount(one.Quote.Lines[at].Each),12}"))
                + (line.BlankOnly && !quotes[0].Quote.BlanksOnly ? "  blank only" : ""));
        }

        writer.WriteLine($"  {"one set",-36} {"",8}" + string.Concat(quotes.Select(one => $" {Amount(one.Quote.Total / one.Sets),12}")));
        writer.WriteLine($"  {"all sets",-36} {"",8}" + string.Concat(quotes.Select(one => $" {Amount(one.Quote.Total),12}")));
    }

    internal static string Sets(int number) => number == 1 ? "1 set" : string.Create(CultureInfo.InvariantCulture, $"{number} sets");

    private static string Amount(decimal amount) => amount.ToString("0.00", CultureInfo.InvariantCulture);
}
