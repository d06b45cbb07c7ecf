using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Core.Costing;

/// <summary>Price of one part for a customer.</summary>
/// <param name="Pieces">Pieces that the customer gets: quantity × sets, without spares.</param>
/// <param name="Each">Per piece, in whole cents of the job's currency.</param>
public sealed record QuoteLine(Part Part, int Pieces, decimal Each)
{
    public decimal Total => Each * Pieces;
}

/// <summary>A plan's cost as prices for a customer, before tax.</summary>
/// <remarks>Rule: the set-up is charged once and shared by the parts' costs (all of them zero: by parts equally); the margin goes on top;
/// spares are paid for by the pieces that the customer gets; each price for a piece is rounded up to the cent, so that the quote never
/// asks less than the margin; totals are sums of rounded prices. Parts with equal blanks (material, and from every stock the same size, way
/// to lie, milling and angled cuts) have one price, the mean over their pieces: which layout a part happened to come from is nothing that a
/// customer could understand. The plan's own cost by part keeps the difference. Exact decimals. O(parts · stocks).</remarks>
public sealed record Quote(ImmutableArray<QuoteLine> Lines)
{
    public decimal Total => Lines.Sum(line => line.Total);

    /// <param name="plan">With part costs, every part cut.</param>
    /// <param name="margin">In percent on top of cost and set-up.</param>
    /// <param name="setUp">In the job's currency.</param>
    public static Quote Of(Plan plan, decimal margin, decimal setUp)
    {
        var stocks = plan.Job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var cost = plan.PartCosts.Sum(part => part.Total.Amount);
        var shares = plan.PartCosts.Select(own =>
        {
            var part = plan.Job.Parts.First(part => part.Id == own.PartId);
            var share = cost > 0m ? setUp * own.Total.Amount / cost : setUp / plan.PartCosts.Length;
            return (Part: part, Pieces: part.Quantity * plan.Job.Batch, Cost: own.Total.Amount + share, Kind: BlankKind(plan.Job, stocks, part));
        }).ToList();
        var each = shares.GroupBy(share => share.Kind, StringComparer.Ordinal).ToDictionary(
            group => group.Key,
            group => decimal.Ceiling(group.Sum(share => share.Cost) * (100m + margin) / group.Sum(share => share.Pieces)) / 100m,
            StringComparer.Ordinal);
        return new([.. shares.Select(share => new QuoteLine(share.Part, share.Pieces, each[share.Kind]))]);
    }

    /// <summary>The same for parts whose blanks are one to the saw, the mill and the buyer.</summary>
    private static string BlankKind(Job job, Dictionary<string, Stock> stocks, Part part)
    {
        var blank = BlankSizer.Size(job, part);
        var fits = blank.Fits.Select(fit =>
        {
            // What comes cut to size has a stock for each part: there its size and price tell.
            var stock = stocks[fit.StockId];
            var from = stock.CutFor is null ? stock.Id : $"{stock.Supplier}|{stock.Form}|{stock.Thickness}|{stock.Width}|{stock.Length}|{stock.PiecePrice.Units}";
            return $"{from}|{fit.SizeX.Nanometres}|{fit.SizeY.Nanometres}|{fit.MayTurn}|{fit.Turned}|{fit.ExtraCost.Units}|{fit.AngledCuts.Units}";
        });
        return string.Join('\n', fits.Prepend(part.MaterialId.ToUpperInvariant()));
    }
}
