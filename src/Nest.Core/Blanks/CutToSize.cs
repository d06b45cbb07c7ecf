using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>Turns offers to cut to size into stock: for each part and each offer that serves it, one piece that is the part's blank.</summary>
/// <remarks>Problem: a supplier sells any rectangle (bar: length) of a plate or bar; the solver wants pieces of given size. Method: for
/// each way in which the part may lie in the offer's stock, a piece of just that size; those that serve by <see cref="BlankSizer"/>'s
/// own judgement compete, the cheapest metal and facing together wins. Price: rate × nominal size of the piece (of a price per whole
/// piece: its share of area or length) + charge per piece + charge per cut × cuts, rounded once. Exact. O(parts · offers · ways).</remarks>
public static class CutToSize
{
    /// <summary>The job with the pieces added behind its stock.</summary>
    public static Job Expand(Job job, IEnumerable<CutOffer> offers)
    {
        var pieces = ImmutableArray.CreateBuilder<Stock>();
        foreach (var offer in offers)
        {
            foreach (var part in job.Parts)
            {
                if (Piece(job, part, offer) is { } piece)
                {
                    pieces.Add(piece);
                }
            }
        }

        return pieces.Count == 0 ? job : job with { Stocks = job.Stocks.AddRange(pieces) };
    }

    /// <summary>The piece that the offer gives for a part; null when it does not serve.</summary>
    public static Stock? Piece(Job job, Part part, CutOffer offer)
    {
        var source = offer.From;
        if (!string.Equals(source.MaterialId, part.MaterialId, StringComparison.OrdinalIgnoreCase) || !part.Forms.Has(source.Form))
        {
            return null;
        }

        var allowances = BlankSizer.AllowancesFor(job, part, job.MaterialOf(part.MaterialId));
        var ways = source.Form.IsBar()
            ? PartWays.OnBar(part.AsBlock(), allowances, source)
            : PartWays.OnPlate(part.AsBlock(), allowances, part.MillFaces && source.GoodFaces);
        Stock? best = null;
        var least = Money.Zero;
        foreach (var way in ways)
        {
            if (!ComesFrom(source, way.Along, way.Across))
            {
                continue;
            }

            var piece = Cut(job, part, offer, way.Along, source.Form.IsBar() ? null : way.Across);
            if (BlankSizer.Size(job with { Stocks = [piece] }, part).Fits is [var fit]
                && (best is null || piece.PiecePrice + fit.ExtraCost < least))
            {
                best = piece;
                least = piece.PiecePrice + fit.ExtraCost;
            }
        }

        return best;
    }

    /// <summary>A piece that was cut for a part, cut anew after the part was changed.</summary>
    /// <returns>Null: it does not serve any more, or its prices for larger numbers are not known by size.</returns>
    public static Stock? Again(Job job, Part part, Stock piece)
    {
        if (piece.CutFrom is not { } row || piece.CutFor is not { } made || !piece.Terms.Breaks.IsEmpty)
        {
            return null;
        }

        var whole = piece with
        {
            Id = piece.Id[..^$" cut for {made}".Length],
            CutFor = null,
            CutFrom = null,
            Length = row.Length,
            MinLength = row.Length,
            Width = row.Width,
            MinWidth = row.Width,
            CleanEdges = default,
        };
        return Piece(job, part, new(whole, row.Charges, Money.Zero, []));
    }

    private static bool ComesFrom(Stock source, Length along, Length across) => source.Form.IsBar()
        ? along <= source.MinLength
        : (along <= source.MinLength && across <= source.MinWidth) || (across <= source.MinLength && along <= source.MinWidth);

    private static Stock Cut(Job job, Part part, CutOffer offer, Length along, Length? across)
    {
        var source = offer.From;
        var piece = source with
        {
            Id = $"{source.Id} cut for {part.Id}",
            CutFor = part.Id,
            Length = along,
            MinLength = along,
            Width = across ?? source.Width,
            MinWidth = across ?? source.MinWidth,
            CleanEdges = new(true, true, true, true),
            KeepOuts = [],
        };
        var material = job.MaterialOf(part.MaterialId);
        var share = source.PriceBasis == PriceBasis.Piece
            ? (piece.Length * piece.Width).ShareOf(source.Length * source.Width)
            : StockPrice.Amount(source.PriceBasis, piece, material);
        var charges = offer.PerPiece + (offer.PerCut * (source.Form.IsBar() ? 1 : 2));
        return piece with
        {
            CutFrom = new(source.Length, source.Width, charges),
            PiecePrice = Price(source.UnitPrice),
            Terms = source.Terms with { Breaks = [.. offer.Breaks.Select(step => new PriceBreak(step.From, Price(step.UnitPrice)))] },
        };

        Money Price(decimal rate) => Money.FromAmount((rate * share) + charges.Amount);
    }
}
