using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output;

namespace Nest.Desk.Model;

/// <summary>What becomes of a part: its blank in the stock in which one blank costs least, drawn, and what it costs there.</summary>
/// <param name="Cost">Metal and milling of one blank, without saw, orders and rests: those belong to a plan.</param>
/// <param name="Drawing">Blank in its stock; null: nothing serves.</param>
public sealed record PartFact(Blank Blank, string Saw, string From, string Cost, BlankDrawing? Drawing)
{
    /// <summary>Stocks that a list names at most.</summary>
    private const int MostNamed = 8;

    public bool Serves => Drawing is not null;

    public static PartFact Of(Job job, Blank blank, Dictionary<string, Stock> stocks, LengthFormat format)
    {
        if (blank.Fits.IsEmpty)
        {
            return new(blank, "–", $"nothing serves it: {blank.Reason}", "", null);
        }

        var (fit, cost) = blank.Fits.Select(fit => (fit, BlankCost.Of(fit, stocks[fit.StockId]))).MinBy(one => one.Item2);
        var stock = stocks[fit.StockId];
        return new(
            blank, Size(fit, stock, format), blank.Fits.Length == 1 ? stock.Id : string.Create(CultureInfo.InvariantCulture, $"{stock.Id} and {blank.Fits.Length - 1} more"),
            string.Create(CultureInfo.InvariantCulture, $"{cost.Amount:0.00}"), BlankDrawing.Of(stock, fit));
    }

    /// <summary>The stocks that serve, the cheapest blank first, and what would serve if a little were given up.</summary>
    public (IReadOnlyList<string> Serving, IReadOnlyList<string> Near) Stocks(Job job)
    {
        var format = LengthFormat.For(job.Unit, job.InchFraction);
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var serving = Blank.Fits.Select(fit => (Fit: fit, Stock: stocks[fit.StockId], Cost: BlankCost.Of(fit, stocks[fit.StockId]))).OrderBy(one => one.Cost)
            .Select(one => string.Create(CultureInfo.InvariantCulture, $"{StockSize.Text(one.Stock, format)} ({(one.Stock.IsLeftover ? $"rack {one.Stock.RackMark}" : one.Stock.Id)}): saw {Size(one.Fit, one.Stock, format)}, {job.Currency} {one.Cost.Amount:0.00} each")).ToList();
        return (Shortened(serving), Shortened([.. NearMisses.Of(job, Blank).Take(MostNamed + 1)]));
    }

    private static List<string> Shortened(List<string> all) =>
        all.Count <= MostNamed ? all : [.. all.Take(MostNamed), string.Create(CultureInfo.InvariantCulture, $"and {all.Count - MostNamed} more")];

    private static string Size(BlankFit fit, Stock stock, LengthFormat format) =>
        stock.Form.IsBar() ? $"{format.Text(fit.SizeX)} long" : $"{format.Text(fit.SizeX, false)} × {format.Text(fit.SizeY)}";
}
