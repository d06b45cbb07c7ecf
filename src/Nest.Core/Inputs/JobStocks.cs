using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Inputs;

/// <summary>What a job says of its stock: sizes, prices and their breaks, what is cut to size, damage.</summary>
internal static class JobStocks
{
    public static void Check(Job job, JobFindings findings)
    {
        findings.Duplicates("stock", job.Stocks.Select(stock => stock.Id), StringComparer.Ordinal);
        findings.Duplicates("rack mark", job.Stocks.Select(stock => stock.RackMark).OfType<string>(), StringComparer.Ordinal);
        var parts = job.Parts.Select(part => part.Id).ToHashSet(StringComparer.Ordinal);
        foreach (var stock in job.Stocks)
        {
            var where = $"stock {stock.Id}";
            findings.Known(where, stock.MaterialId);
            if (stock.MinLength <= Length.Zero || stock.MinWidth <= Length.Zero || stock.MinThickness <= Length.Zero)
            {
                findings.Error("stock-size", where, "a smallest size is not above zero", "Correct size or tolerance.");
            }

            if (stock.MinLength > stock.Length || stock.MinWidth > stock.Width || stock.MinThickness > stock.Thickness)
            {
                findings.Error("stock-size", where, "a smallest size is above the nominal size", "Correct size or tolerance.");
            }

            if (stock.Form is Form.SquareBar or Form.RoundBar && stock.Width != stock.Thickness)
            {
                findings.Error("stock-size", where, "width and thickness of a square or round bar differ", "Give side or diameter once.");
            }

            if (stock.Form == Form.FlatBar && stock.Width < stock.Thickness)
            {
                findings.Error("stock-size", where, "a flat bar is thicker than wide", "Swap width and thickness.");
            }

            if (JobSections.Fault(stock) is { } fault)
            {
                findings.Error(fault.Rule, where, fault.Message, fault.Advice);
            }

            if (stock.PiecePrice < Money.Zero)
            {
                findings.Error("negative-price", where, "the price is negative", "Give zero or more.");
            }

            var breaks = stock.Terms.Breaks;
            if (breaks.Any(step => step.From < 2 || step.PiecePrice < Money.Zero)
                || Enumerable.Range(1, Math.Max(0, breaks.Length - 1)).Any(index => breaks[index].From <= breaks[index - 1].From))
            {
                findings.Error("price-breaks", where, "price breaks must rise from 2 pieces on, with prices of zero or more",
                    "Sort them by quantity.");
            }

            if (stock.CutFor is { } cutFor && !parts.Contains(cutFor))
            {
                findings.Error("cut-for", where, $"it is cut to size for {cutFor}, which is no part of the job", "Correct the name.");
            }

            if (stock.Available < 0)
            {
                findings.Error("available", where, "fewer than none are available", "Give zero or more, or leave it out.");
            }

            if (stock.Form != Form.Plate && stock.KeepOuts.Length > 0)
            {
                findings.Error("keep-out", where, "a bar has a damaged area", "Cut it out and list the sound lengths as leftovers.");
            }
        }
    }
}
