using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Solve.Why;

namespace Nest.Cli.Commands;

/// <summary><c>nest why</c>: why each part comes from its form, and where the metal goes; with a margin, a quote.</summary>
internal static class WhyCommand
{
    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("plan") { Description = PlanPlace.Described };
        var seconds = LimitOptions.Seconds("Time for planning again in other forms.", 20);
        var work = LimitOptions.Work("Limit in steps of work for each plan instead of time.");
        var margin = new Option<string?>("--margin") { Description = "Percent on top of cost: prints prices for a customer.", HelpName = "PERCENT" }.Margin();
        var setUp = new Option<decimal>("--set-up") { Description = "Set-up charged once, shared by cost, before the margin.", HelpName = "AMOUNT" }.Amount("an amount", 1_000_000m);
        var asJson = new Option<bool>("--json") { Description = "Print it as JSON." };
        command.With(input, seconds, work, margin, setUp, asJson);
        command.SetAction(parsed => Run(
            world, parsed.GetRequiredValue(input), parsed.GetRequiredValue(seconds)!.Value, parsed.GetValue(work), NumberOptions.MarginOf(parsed.GetValue(margin)), parsed.GetValue(setUp),
            parsed.GetValue(asJson)));
    }

    private static int Run(World world, string input, double seconds, long? work, decimal? margin, decimal setUp, bool asJson)
    {
        var (loaded, refused) = PlanLoader.Load(world, input);
        if (loaded is not { } plan)
        {
            return refused;
        }

        var blanks = BlankSizer.Size(plan.Job);
        var limits = new SolveLimits { Seconds = work is null ? seconds : 86_400, Work = work, Seed = plan.Seed, Threads = Environment.ProcessorCount };
        var reasons = FormReasons.Of(plan, blanks, limits, world.Cancel);
        if (asJson)
        {
            Json(world.Out, plan, reasons, margin, setUp);
            return ExitCode.Done;
        }

        world.Out.WriteLine(plan.Bound.Value is { } bound
            ? $"No plan costs less than {bound} {plan.Job.Currency}; found by: {plan.Bound.Source}." + (plan.IsContradicted ? $" This plan costs {plan.TotalCost}: the bound is wrong. Please report the job." : "")
            : "No lower bound is known for this plan.");
        world.Out.WriteLine();
        world.Out.WriteLine("Why this form (what the next best would cost is an estimate: how much the bound of the whole job rises with the part in that form alone):");
        foreach (var reason in reasons)
        {
            var next = reason switch
            {
                { NextBest: null } => "nothing else serves it",
                { Difference: { } more } when more < Money.FromAmount(0.01m) => $"{reason.NextBest} would cost about the same",
                { Difference: { } more } => $"{reason.NextBest} would cost about {more} more",
                _ => "what another form would cost is not known in this time",
            };
            world.Out.WriteLine($"  {reason.PartId}: {reason.Chosen}; {next}");
        }

        ShowMass(world.Out, plan);
        if (margin is { } percent)
        {
            Quoted(world.Out, plan, percent, setUp);
        }

        return ExitCode.Done;
    }

    /// <summary>Each mass with what people and JSON call it.</summary>
    private static IEnumerable<(string Label, string Name, Mass Mass)> Masses(MassBalance mass) =>
    [
        ("bought", "bought", mass.Bought), ("from the rack", "from_rack", mass.FromRack), ("blanks", "blanks", mass.Blanks),
        ("  of which finished parts", "finished", mass.Finished), ("offcuts kept", "offcuts_kept", mass.Kept), ("scrap", "scrap", mass.Scrap),
        ("chips of the saw", "saw_chips", mass.Chips), ("stock above its smallest size", "oversize", mass.Oversize),
    ];

    private static void ShowMass(TextWriter writer, Plan plan)
    {
        var mass = MassBalance.Of(plan);
        writer.WriteLine();
        writer.WriteLine("Where the metal goes (kg, by nominal size):");
        foreach (var (label, _, part) in Masses(mass))
        {
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {label,-32} {part.Kilograms,10:0.000}"));
        }

        if (mass.Finished.Kilograms > 0)
        {
            writer.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"  buy-to-finish ratio (stock taken less offcuts kept, per kg of finished part) {(mass.Taken - mass.Kept).Kilograms / mass.Finished.Kilograms:0.00}"));
        }
    }

    private static void Quoted(TextWriter writer, Plan plan, decimal percent, decimal setUp)
    {
        writer.WriteLine();
        writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Quote in {plan.Job.Currency}: cost, set-up {setUp:0.00} shared by cost, margin {percent:0.##} %, rounded up to the cent per piece, before tax"));
        var quote = Quote.Of(plan, new(percent, setUp));
        QuoteCommand.Show(writer, quote);
        writer.WriteLine("  " + QuoteCommand.Scope(quote));
    }

    /// <summary>Amounts as numbers in the plan's currency, masses in kilograms.</summary>
    private static void Json(TextWriter writer, Plan plan, ImmutableArray<FormReason> reasons, decimal? percent, decimal setUp)
    {
        var mass = MassBalance.Of(plan);
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("job", plan.Job.Name);
            json.WriteString("currency", plan.Job.Currency);
            json.WriteNumber("cost", plan.TotalCost.Amount);
            if (plan.Bound.Value is { } bound)
            {
                json.WriteNumber("lower_bound", bound.Amount);
                json.WriteString("lower_bound_source", plan.Bound.Source);
            }

            json.WriteStartArray("parts");
            foreach (var reason in reasons)
            {
                json.WriteStartObject();
                json.WriteString("part", reason.PartId);
                json.WriteString("chosen", reason.Chosen);
                json.WriteString("next_best", reason.NextBest);
                if (reason.Difference is { } difference)
                {
                    json.WriteNumber("next_best_costs_more", difference.Amount);
                }

                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteStartObject("mass_kg");
            foreach (var (_, name, part) in Masses(mass))
            {
                json.WriteNumber(name, decimal.Round(part.Kilograms, 4));
            }

            json.WriteEndObject();
            if (percent is { } margin)
            {
                var quote = Quote.Of(plan, new(margin, setUp));
                json.WriteStartArray("quote");
                foreach (var line in quote.Lines)
                {
                    json.WriteStartObject();
                    json.WriteString("part", line.Part.Id);
                    json.WriteNumber("pieces", line.Pieces);
                    json.WriteNumber("each", line.Each);
                    json.WriteNumber("total", line.Total);
                    json.WriteEndObject();
                }

                json.WriteEndArray();
                json.WriteNumber("quote_total", quote.Total);
            }

            json.WriteEndObject();
        }

        writer.WriteLine(Encoding.UTF8.GetString(stream.ToArray()));
    }
}
