using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Solve.Batch;

namespace Nest.Cli.Commands;

/// <summary>What a batch curve tells about a number beside its cost: price breaks that it reaches, sets that are free.</summary>
internal static class BatchNotes
{
    /// <summary>Sets more than this number that cost no more money, up to the end of the range. O(range).</summary>
    public static int FreeSets(ImmutableArray<BatchPoint> points, BatchPoint point) => !point.Complete
        ? 0
        : points.Where(other => other.Complete && other.Sets > point.Sets && other.Cost <= point.Cost).Select(other => other.Sets - point.Sets).DefaultIfEmpty(0).Max();

    /// <summary>Lines of the orders that are priced by a higher break than with fewer sets: <c>5 of bar-40x20 (price from 5)</c>.</summary>
    /// <param name="before">The point before; null: at the begin of the range every break that is reached counts.</param>
    public static IEnumerable<string> Breaks(BatchPoint? before, BatchPoint point)
    {
        foreach (var (stock, count) in Lines(point.Plan))
        {
            if (Reached(stock, count) is { } from && from > (before is null ? 0 : Lines(before.Plan).Where(line => line.Stock.Id == stock.Id).Select(line => Reached(stock, line.Count) ?? 0).FirstOrDefault()))
            {
                yield return string.Create(CultureInfo.InvariantCulture, $"{count} of {stock.Id} (price from {from})");
            }
        }
    }

    /// <summary>The last price break that so many pieces reach.</summary>
    private static int? Reached(Stock stock, int count) =>
        stock.Terms.Breaks.Where(step => step.From <= count).Select(step => (int?)step.From).Max();

    private static IEnumerable<(Stock Stock, int Count)> Lines(Plan plan)
    {
        var stocks = plan.Job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        return plan.Orders.SelectMany(order => order.Lines).Select(line => (stocks[line.StockId], line.Count));
    }
}
