using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>A part with its blank in the stock that needs the least milling.</summary>
public sealed record PartRow(
    string Part, string Material, string Finished, string Quantity, string Spare, string ToCut, string Blank, string From, bool Serves)
{
    public static string Caption(Job job) => string.Create(
        CultureInfo.InvariantCulture, $"{job.Parts.Length} parts, {job.Batch} sets, {job.Parts.Sum(part => (long)job.DemandOf(part))} pieces; sizes in {(job.Unit == LengthUnit.Inch ? "inches" : "millimetres")}");

    public static List<PartRow> Of(Job job)
    {
        var format = LengthFormat.For(job.Unit, job.InchFraction);
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        return [.. Planner.Blanks(job).Select(blank => Of(job, blank, stocks, format))];
    }

    private static PartRow Of(Job job, Blank blank, Dictionary<string, Stock> stocks, LengthFormat format)
    {
        var part = blank.Part;
        var finished = StockSize.Finished(part, (length, _) => format.Text(length, false));
        var (saw, from) = ("–", $"nothing serves it: {blank.Reason}");
        if (!blank.Fits.IsEmpty)
        {
            var fit = blank.Fits.MinBy(one => one.ExtraCost);
            var stock = stocks[fit!.StockId];
            saw = stock.Form.IsBar() ? $"{format.Text(fit.SizeX, false)} long" : $"{format.Text(fit.SizeX, false)} × {format.Text(fit.SizeY, false)}";
            from = blank.Fits.Length == 1 ? stock.Id : string.Create(CultureInfo.InvariantCulture, $"{stock.Id} and {blank.Fits.Length - 1} more");
        }

        return new(
            part.Id, part.MaterialId, finished, Number(part.Quantity), string.Join(" + ", new[] { part.Extra == 0 ? "" : Number(part.Extra), part.FreeSpares == 0 ? "" : $"{Number(part.FreeSpares)} if free" }.Where(text => text.Length > 0)), Number(job.DemandOf(part)), saw, from,
            !blank.Fits.IsEmpty);
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
