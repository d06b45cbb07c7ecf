using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>What is left to plan around layouts that stay as they are (<see cref="Job.Kept"/>).</summary>
/// <remarks>Their pieces are taken off the demand and their stock off what there is. What they cost is the same in every plan; what they do to
/// orders (price breaks, deliveries) and to the sizes of a part's blanks is counted where these are.</remarks>
internal static class RestOfJob
{
    public static (Job Job, ImmutableArray<Blank> Blanks) Of(Job job, ImmutableArray<Blank> blanks)
    {
        if (job.Kept.IsEmpty)
        {
            return (job, blanks);
        }

        var (pieces, taken) = (KeptLayouts.Pieces(job.Kept), KeptLayouts.Stocks(job.Kept));
        var stocks = job.Stocks.Select(stock => taken.TryGetValue(stock.Id, out var count) && stock.Available is { } there
            ? stock with { Available = there - count } : stock).ToImmutableArray();
        var gone = stocks.Where(stock => stock.Available == 0).Select(stock => stock.Id).ToHashSet(StringComparer.Ordinal);
        return (job with { Stocks = stocks }, [.. blanks.Select(blank => blank with
        {
            Demand = blank.Demand - pieces.GetValueOrDefault(blank.Part.Id),
            Fits = [.. blank.Fits.Where(fit => !gone.Contains(fit.StockId))],
        })]);
    }

    /// <summary>What the layouts that stay cost in every plan.</summary>
    public static Money Cost(Job job) => job.Kept.Aggregate(Money.Zero, (sum, layout) => sum + (layout.Cost.Total * layout.Count));

    /// <summary>By how much price breaks may make what they buy cheaper: a bound that does not see their orders is so much too high.</summary>
    public static Money MostSaved(Job job)
    {
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        return KeptLayouts.Stocks(job.Kept).Aggregate(Money.Zero, (sum, entry) => stocks[entry.Key] is { IsLeftover: false } stock
            ? sum + ((stock.PiecePrice - stock.Terms.LowestPrice(stock.PiecePrice)) * entry.Value) : sum);
    }
}
