using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Planning.Design;

namespace Nest.Cli.Commands;

/// <summary><c>nest design</c>: which small changes to the parts save stock, before the last drawing is made.</summary>
internal static class DesignCommand
{
    private const double UsualSeconds = 60;

    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("job") { Description = ModelOptions.InputHelp };
        var most = new Option<int>("--most") { Description = "So many changes are planned, the most promising ones.", HelpName = "N", DefaultValueFactory = _ => 12 }.Whole(1, 500);
        var percent = new Option<int>("--percent") { Description = "Most by which a dimension may change where the parts list does not say (columns may shrink, may grow).", HelpName = "N", DefaultValueFactory = _ => 5 }.Whole(0, 50);
        var seconds = LimitOptions.Seconds("Time for all plans together.", UsualSeconds);
        var work = LimitOptions.Work("Limit in steps of work for each plan instead of time.");
        var asJson = new Option<bool>("--json") { Description = "Print it as JSON." };
        command.With(input, most, percent, seconds, work, asJson);
        var tables = new TableOptions(command);
        var rules = new RuleOptions(command);
        command.SetAction(parsed =>
        {
            if (JobLoader.Load(world, parsed.GetRequiredValue(input), tables.Of(parsed)) is not { } given || rules.On(given.Job, parsed, world) is not { } job)
            {
                return ExitCode.InputRefused;
            }

            var options = new DesignOptions(parsed.GetValue(most), parsed.GetValue(percent) / 100m, parsed.GetRequiredValue(seconds)!.Value, parsed.GetValue(work));
            var result = DesignStudy.Of(given with { Job = job }, options, (one, limits, what) => PlanRun.Solve(world, one, limits, what), world.Cancel);
            if (result is null)
            {
                return ExitCode.CheckerRefused;
            }

            if (parsed.GetValue(asJson))
            {
                Json(world.Out, result);
            }
            else
            {
                Show(world.Out, result, options);
            }

            if (world.Cancel.IsCancellationRequested)
            {
                world.Out.WriteLine();
                world.Out.WriteLine($"{PlanRun.BrokenOff}: {result.Tried} changes were planned.");
                return ExitCode.BrokenOff;
            }

            return result.Plan.Unplaced.IsEmpty ? ExitCode.Done : ExitCode.NotAllParts;
        });
    }

    private static void Show(TextWriter writer, DesignResult result, DesignOptions options)
    {
        var (plan, currency) = (result.Plan, result.Plan.Job.Currency);
        writer.WriteLine($"{plan.Job.Name}: {Cost(plan)} {currency} as it is, {QuoteCommand.Sets(plan.Job.Batch)}");
        foreach (var unplaced in plan.Unplaced)
        {
            writer.WriteLine($"  not cut: {unplaced.Count} × {unplaced.PartId}: {unplaced.Reason}");
        }

        writer.WriteLine();
        writer.WriteLine(result.Hints.IsEmpty ? "No change that was planned saves anything." : $"What a change saves ({currency}, the whole batch planned again), best first:");
        foreach (var hint in result.Hints)
        {
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{hint.Saves,10:0.00}  {hint.Change.PartId}: {hint.Change.What}{(plan.Unplaced.IsEmpty ? "" : "; then all parts can be cut")}"));
            writer.WriteLine($"            {string.Join("; ", hint.Change.Reasons)}");
            writer.WriteLine($"            then {Cost(hint.Plan)}: {Sure(hint)}");
        }

        if (result.Together is { } all)
        {
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{all.Saves,10:0.00}  the best of each part at once: then {Cost(all.Plan)}: {Sure(all)}"));
        }

        writer.WriteLine();
        writer.WriteLine($"{result.Found} changes reach a threshold within {(options.Share * 100m).ToString("0", CultureInfo.InvariantCulture)} % (or what the list allows); {result.Tried} were planned{(result.Tried < result.Found ? ", those that promise most (--most)" : "")}.");
        if (!result.Rooms.IsEmpty)
        {
            writer.WriteLine();
            writer.WriteLine("Could grow, with every layout as it is:");
            foreach (var room in result.Rooms)
            {
                writer.WriteLine($"  {room.PartId}: {room.What}{(room.Costs >= 0.005m ? string.Create(CultureInfo.InvariantCulture, $", for {room.Costs:0.00} of scrap") : ", for nothing")}");
            }
        }
    }

    private static string Cost(Plan plan) => plan.Bound.Value is { } bound && !plan.IsContradicted
        ? $"{plan.TotalCost} (nothing is cheaper than {bound})"
        : $"{plan.TotalCost} (no bound)";

    private static string Sure(DesignHint hint) => hint.Sure is { } sure
        ? string.Create(CultureInfo.InvariantCulture, $"proven, at least {sure:0.00} of it remains however well the job as it is were planned")
        : "not proven, it lies within the gap of the job as it is";

    private static void Json(TextWriter writer, DesignResult result)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("job", result.Plan.Job.Name);
            json.WriteString("currency", result.Plan.Job.Currency);
            Amounts(result.Plan);
            json.WriteNumber("thresholds", result.Found);
            json.WriteNumber("planned", result.Tried);
            json.WriteStartArray("changes");
            foreach (var hint in result.Hints)
            {
                json.WriteStartObject();
                json.WriteString("part", hint.Change.PartId);
                json.WriteString("change", hint.Change.What);
                json.WriteStartArray("reaches");
                foreach (var reason in hint.Change.Reasons)
                {
                    json.WriteStringValue(reason);
                }

                json.WriteEndArray();
                json.WriteNumber("saves", decimal.Round(hint.Saves, 4));
                if (hint.Sure is { } sure)
                {
                    json.WriteNumber("saves_at_least", decimal.Round(sure, 4));
                }

                Amounts(hint.Plan);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteStartArray("may_grow");
            foreach (var room in result.Rooms)
            {
                json.WriteStartObject();
                json.WriteString("part", room.PartId);
                json.WriteString("change", room.What);
                json.WriteNumber("costs", decimal.Round(room.Costs, 4));
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();

            void Amounts(Plan plan)
            {
                json.WriteNumber("cost", plan.TotalCost.Amount);
                if (plan.Bound.Value is { } bound)
                {
                    json.WriteNumber("lower_bound", bound.Amount);
                }
            }
        }

        writer.WriteLine(Encoding.UTF8.GetString(stream.ToArray()));
    }
}
