using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Data;
using Nest.Solve;

namespace Nest.Bench.Ordering;

/// <summary>`order-made`: a job by the one model against rules that choose the form first.</summary>
internal static class OrderMadeCommand
{
    public static Command Create()
    {
        var input = new Argument<string>("job") { Description = "A job file" };
        var seconds = new Option<double>("--seconds") { Description = "Limit per plan", DefaultValueFactory = _ => 20 };
        var command = new Command("order-made", "One model against forms chosen by rule") { input, seconds };
        command.SetAction(parse => Run(parse.GetRequiredValue(input), parse.GetValue(seconds)));
        return command;
    }

    private static int Run(string input, double seconds)
    {
        if (JobReader.Read(input).Value is not { } given)
        {
            Console.Error.WriteLine("The job cannot be read; nest blanks tells why.");
            return 2;
        }

        var job = given.Job;
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var blanks = BlankSizer.Size(job);
        Line("one model", blanks);
        Line("plates where they serve", Only(stock => stock.Form == Form.Plate));
        Line("bars where they serve", Only(stock => stock.Form.IsBar()));
        Line("each part's cheapest size first", [.. blanks.Select(Cheapest)]);
        foreach (var supplier in job.Stocks.Select(stock => stock.Supplier).OfType<string>().Distinct(StringComparer.Ordinal))
        {
            Line($"{supplier} where it serves", Only(stock => stock.IsLeftover || stock.Supplier == supplier));
        }

        return 0;

        ImmutableArray<Blank> Only(Func<Stock, bool> which) => [.. blanks.Select(blank =>
            blank.Fits.Any(fit => which(stocks[fit.StockId]) && stocks[fit.StockId].Available is null) ? blank with { Fits = [.. blank.Fits.Where(fit => which(stocks[fit.StockId]))] } : blank)];

        // The size whose metal, by share of the piece, and facing cost least: what one does without a plan.
        Blank Cheapest(Blank blank)
        {
            var best = blank.Fits.Where(fit => !stocks[fit.StockId].IsLeftover).MinBy(fit =>
            {
                var stock = stocks[fit.StockId];
                var share = stock.Form.IsBar()
                    ? fit.SizeX.ToMillimetres() / stock.Length.ToMillimetres()
                    : (fit.SizeX * fit.SizeY).ShareOf(stock.Length * stock.Width);
                return (stock.PiecePrice.Amount * share) + fit.ExtraCost.Amount;
            });
            return best is null ? blank : blank with
            {
                Fits = [.. blank.Fits.Where(fit => Section(stocks[fit.StockId]) == Section(stocks[best.StockId]))],
            };
        }

        void Line(string name, ImmutableArray<Blank> some)
        {
            var plan = JobSolver.Solve(job, some, new SolveLimits { Seconds = seconds, Threads = Environment.ProcessorCount });
            Console.Out.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{name,-40} {plan.TotalCost,10} bound {plan.LowerBound,10} gap {plan.Gap * 100m,6:0.00} % orders {plan.Orders.Length} not cut {plan.Unplaced.Sum(entry => entry.Count)}"));
        }
    }

    private static (Form, Core.Quantities.Length, Core.Quantities.Length) Section(Stock stock) =>
        (stock.Form, stock.Thickness, stock.Form == Form.Plate ? default : stock.Width);
}
