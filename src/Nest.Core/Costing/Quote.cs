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

    /// <summary>The parts list tells no minutes at the mill: the price is for the sawn blank.</summary>
    public bool BlankOnly => !Machining.IsTold(Part);
}

/// <summary>What comes on top of a plan's cost.</summary>
/// <param name="Margin">In percent, on top of all the rest.</param>
/// <param name="SetUp">Charged once, in the job's currency.</param>
/// <param name="Outside">Work given out (plating, heat treatment), for the whole batch.</param>
public sealed record QuoteTerms(decimal Margin, decimal SetUp = 0m, decimal Outside = 0m);

/// <summary>A plan's cost as prices for a customer, before tax.</summary>
/// <remarks>Rule: each part's time at the mill, where the parts list tells it, is added to the plan's cost (<see cref="Machining"/>).
/// Set-up and outside work are charged once. The parts share them by their costs so far (equally where all of these are zero). The margin is added
/// last. Spares are paid for by the pieces that the customer gets. Each price for a piece is rounded up to the cent, so that the quote never
/// asks less than the margin. Totals are sums of rounded prices. Parts with equal blanks (material, and from every stock the same size, way
/// to lie, milling and angled cuts) share one price of the blank, the mean over their pieces: which layout a part happened to come from is
/// nothing that a customer could understand. A part that is milled several from a blank is one line, whatever numbers its blanks hold,
/// and two hands from the same blanks cost the same. The plan's own cost by part keeps the difference. Exact decimals. O(parts · stocks).</remarks>
public sealed record Quote(ImmutableArray<QuoteLine> Lines)
{
    public decimal Total => Lines.Sum(line => line.Total);

    /// <summary>No part's time at the mill is told.</summary>
    public bool BlanksOnly => Lines.All(line => line.BlankOnly);

    /// <param name="plan">With part costs, every part cut.</param>
    public static Quote Of(Plan plan, QuoteTerms terms)
    {
        var stocks = plan.Job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var own = PartsMade.Of(plan).Select(one => (Row: one, Mill: Machining.Cost(plan.Job, one.Part, one.Made))).ToList();
        var all = own.Sum(one => one.Row.Blank + one.Mill);
        var once = terms.SetUp + terms.Outside;
        var shares = own.Select(one =>
        {
            var (part, _, pieces, blank, shares) = one.Row;
            var share = all > 0m ? once * (blank + one.Mill) / all : once / own.Count;
            return (Part: part, Pieces: pieces, Cost: blank + share, one.Mill, Kind: shares ?? BlankKind(plan.Job, stocks, part));
        }).ToList();
        var kinds = shares.GroupBy(share => share.Kind, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => (Cost: group.Sum(share => share.Cost), Pieces: group.Sum(share => share.Pieces)), StringComparer.Ordinal);
        return new([.. shares.Select(share =>
        {
            var (cost, pieces) = kinds[share.Kind];

            // Over one denominator, so that a price which is whole cents stays so.
            var each = ((cost * share.Pieces) + (share.Mill * pieces)) * (100m + terms.Margin) / ((decimal)pieces * share.Pieces);
            return new QuoteLine(share.Part, share.Pieces, decimal.Ceiling(each) / 100m);
        })]);
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
