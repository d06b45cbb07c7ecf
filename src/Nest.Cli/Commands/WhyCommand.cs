using System.CommandLine;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Check;
using Nest.Core.Costing;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Solve;
using Nest.Solve.Why;

namespace Nest.Cli.Commands;

/// <summary><c>nest why</c>: why each part comes from its form, and where the metal goes; with a margin, a quote.</summary>
internal static class WhyCommand
{
    public static Command Create(World world)
    {
        var input = new Argument<string>("plan") { Description = "A plan.json that 'nest plan' wrote." };
        var seconds = new Option<double>("--seconds", "-s") { Description = "Time for planning again in other forms.", HelpName = "N", DefaultValueFactory = _ => 20 };
        var work = new Option<long?>("--work") { Description = "Limit in steps of work for each plan instead of time.", HelpName = "N" };
        var margin = new Option<decimal?>("--margin") { Description = "Percent on top of cost: prints prices for a customer.", HelpName = "PERCENT" };
        var setUp = new Option<decimal>("--set-up") { Description = "Set-up charged once, shared by cost, before the margin.", HelpName = "AMOUNT" };
        var command = new Command("why", "Why each part comes from its form and what the next best would cost; where the metal goes; prices for a quote.") { input, seconds, work, margin, setUp };
        command.Validators.Add(result =>
        {
            if (result.GetValue(seconds) is var time && (double.IsNaN(time) || time <= 0 || time > 86_400))
            {
                result.AddError("--seconds wants a number above 0 and at most 86400.");
            }

            if (result.GetValue(work) <= 0)
            {
                result.AddError("--work wants a whole number above 0.");
            }

            if (result.GetValue(margin) is < 0m or > 1000m || result.GetValue(setUp) is < 0m or > 1_000_000m)
            {
                result.AddError("--margin wants a percentage from 0 to 1000, --set-up an amount from 0 to 1000000.");
            }
        });
        command.SetAction(parsed => Run(
            world, parsed.GetRequiredValue(input), parsed.GetValue(seconds), parsed.GetValue(work), parsed.GetValue(margin), parsed.GetValue(setUp)));
        return command;
    }

    private static int Run(World world, string input, double seconds, long? work, decimal? margin, decimal setUp)
    {
        var read = PlanFile.Read(input);
        Screen.Report(world.Error, read.Findings);
        if (read.Value is not { } plan)
        {
            return ExitCode.InputRefused;
        }

        var findings = PlanChecker.Check(plan);
        if (findings.HasErrors())
        {
            Screen.Report(world.Error, findings);
            return ExitCode.CheckerRefused;
        }

        var blanks = BlankSizer.Size(plan.Job);
        var limits = new SolveLimits { Seconds = work is null ? seconds : 86_400, Work = work, Seed = plan.Seed, Threads = Environment.ProcessorCount };
        world.Out.WriteLine("Why this form (the next best is an estimate: the job planned again with the part in that form alone):");
        foreach (var reason in FormReasons.Of(plan, blanks, limits, world.Cancel))
        {
            var next = reason switch
            {
                { NextBest: null } => "nothing else serves it",
                { Difference: { } more } when more >= Money.Zero => $"{reason.NextBest} would cost {more} more",
                { Difference: { } less } => $"{reason.NextBest} was found {(Money.Zero - less).ToString()} cheaper: plan again with more time",
                _ => "",
            };
            world.Out.WriteLine($"  {reason.PartId}: {reason.Chosen}; {next}");
        }

        Mass(world.Out, plan);
        if (margin is { } percent)
        {
            Quote(world.Out, plan, percent, setUp);
        }

        return ExitCode.Done;
    }

    private static void Mass(TextWriter writer, Plan plan)
    {
        var mass = MassBalance.Of(plan);
        writer.WriteLine();
        writer.WriteLine("Where the metal goes (kg, by nominal size):");
        foreach (var (label, part) in new[]
        {
            ("bought", mass.Bought), ("from the rack", mass.FromRack), ("blanks", mass.Blanks), ("  of which finished parts", mass.Finished),
            ("offcuts kept", mass.Kept), ("scrap", mass.Scrap), ("chips of the saw", mass.Chips), ("stock above its smallest size", mass.Oversize),
        })
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

    /// <summary>Cost and set-up shared by cost, the margin on top, each price for a piece rounded up to the cent.</summary>
    private static void Quote(TextWriter writer, Plan plan, decimal percent, decimal setUp)
    {
        writer.WriteLine();
        writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Quote in {plan.Job.Currency}: cost, set-up {setUp:0.00} shared by cost, margin {percent:0.##} %, rounded up to the cent per piece, before tax"));
        var cost = plan.PartCosts.Sum(part => part.Total.Amount);
        decimal sum = 0;
        foreach (var part in plan.PartCosts)
        {
            var share = cost > 0m ? setUp * part.Total.Amount / cost : setUp / plan.PartCosts.Length;
            var each = decimal.Ceiling((part.Total.Amount + share) * (100m + percent) / part.Pieces) / 100m;
            sum += each * part.Pieces;
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {part.PartId,-36} {part.Pieces,6} × {each,10:0.00} = {each * part.Pieces,12:0.00}"));
        }

        writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {"total",-36} {"",6}   {"",10}   {sum,12:0.00}"));
    }
}
