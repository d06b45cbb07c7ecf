using System.CommandLine;
using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output;
using Nest.Output.Folders;
using Nest.Output.Orders;

namespace Nest.Cli.Commands;

/// <summary><c>nest quote</c>: prices for a customer, on the screen and as a PDF.</summary>
internal static class QuoteCommand
{
    private sealed record Asked(string Plan, decimal Margin, decimal SetUp, int Days, string Shop, string Customer, string? Output);

    public static Command Create(World world)
    {
        var input = new Argument<string>("plan") { Description = PlanPlace.Described };
        var margin = new Option<decimal>("--margin") { Description = "Percent on top of cost and set-up.", HelpName = "PERCENT", Required = true }.Amount("a percentage", 1000m);
        var setUp = new Option<decimal>("--set-up") { Description = "Set-up charged once, shared by cost, before the margin.", HelpName = "AMOUNT" }.Amount("an amount", 1_000_000m);
        var days = new Option<int>("--valid") { Description = "Days from today that the prices hold.", HelpName = "DAYS", DefaultValueFactory = _ => 30 }.Whole(0, 3650);
        var shop = new Option<string>("--shop") { Description = "Who quotes, as printed.", HelpName = "NAME", DefaultValueFactory = _ => "" };
        var customer = new Option<string>("--customer") { Description = "Who for, as printed.", HelpName = "NAME", DefaultValueFactory = _ => "" };
        var output = new Option<string?>("--out", "-o") { Description = "PDF to write. Default: quote.pdf in the plan's folder.", HelpName = "FILE" };
        var command = new Command("quote", "Prices for a customer: cost with set-up and margin, per piece and in total. The PDF shows nothing of the shop's own costs.")
        {
            input, margin, setUp, days, shop, customer, output,
        };
        command.SetAction(parsed => Run(world, new(
            parsed.GetRequiredValue(input), parsed.GetValue(margin), parsed.GetValue(setUp), parsed.GetValue(days),
            parsed.GetValue(shop) ?? "", parsed.GetValue(customer) ?? "", parsed.GetValue(output))));
        return command;
    }

    /// <summary>The prices, a line each.</summary>
    internal static void Show(TextWriter writer, Quote quote)
    {
        foreach (var line in quote.Lines)
        {
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {line.Part.Id,-36} {line.Pieces,6} × {line.Each,10:0.00} = {line.Total,12:0.00}"));
        }

        writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {"total",-36} {"",6}   {"",10}   {quote.Total,12:0.00}"));
    }

    private static int Run(World world, Asked asked)
    {
        var (loaded, refused) = PlanLoader.Load(world, asked.Plan);
        if (loaded is not { } plan)
        {
            return refused;
        }

        if (!plan.Unplaced.IsEmpty)
        {
            world.Error.WriteLine($"error: {asked.Plan}: the plan does not cut all parts ({string.Join(", ", plan.Unplaced.Select(entry => entry.PartId).Distinct())}), so it has no price for the whole — add stock and plan again");
            return ExitCode.NotAllParts;
        }

        var quote = Quote.Of(plan, asked.Margin, asked.SetUp);
        world.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{plan.Job.Name}: quote in {plan.Job.Currency}, set-up {asked.SetUp:0.00} shared by cost, margin {asked.Margin:0.##} %, rounded up to the cent per piece, before tax"));
        Show(world.Out, quote);
        var folder = PlanPlace.FolderOf(PlanPlace.FileOf(world, asked.Plan));
        var path = asked.Output ?? Path.Combine(folder, "quote.pdf");
        var today = DateOnly.FromDateTime(world.Time.GetLocalNow().DateTime);
        QuoteSheet.Write(
            path, plan, quote, new(asked.Shop, asked.Customer, today, asked.Days),
            new() { Papers = [plan.Job.Unit == LengthUnit.Inch ? Paper.Letter : Paper.A4] });
        if (asked.Output is null)
        {
            FolderWriter.Enlist(folder, "quote.pdf");
        }

        world.Out.WriteLine();
        world.Out.WriteLine($"Written: {path}");
        return ExitCode.Done;
    }
}
