using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>The order of work over a plan, in which the stop is left standing for the next layout as often as may be.</summary>
/// <remarks>
/// As a person cuts them: by saw, material, section (<see cref="MaterialOrder"/>). Among layouts of the same section next the one that may begin where the stop may stand. Then, on each saw, the order of
/// the blanks within bars (<see cref="StopWays"/>) with which most is carried over, by dynamic programming over the positions. O(layouts² + layouts · ways · positions).
/// </remarks>
internal static class StopOrder
{
    /// <summary>Layouts on a saw up to which a saved setting counts more than the order of sections, and the work may begin with any.</summary>
    private const int MostStarts = 6;

    /// <summary>A chain of ways up to a layout, and how often the stop stood.</summary>
    private sealed record Chain(Chain? Before, StopWay Way, int Carried, int Changed);

    /// <param name="layouts">Those of no stock (−1) stay as they are, as their sheet may be printed.</param>
    /// <returns>The layouts in order, and what is saved where the stop still stands.</returns>
    public static (List<(Layout Layout, int Count)> Layouts, Money Carried) Of(Job job, IEnumerable<(Column Column, int Count)> layouts)
    {
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var saws = job.Saws.ToDictionary(saw => saw.Id, StringComparer.Ordinal);
        var entries = MaterialOrder.Sort(job, layouts, entry => (entry.Column.Layout.SawId, stocks[entry.Column.Layout.StockId]))
            .ThenByDescending(entry => entry.Count)
            .ThenByDescending(entry => entry.Column.Layout.Pieces.Length)
            .ThenBy(entry => entry.Column.Key, StringComparer.Ordinal)
            .Select(entry => new Entry(entry.Column.Layout, entry.Count, WaysOf(entry.Column)));
        var ordered = new List<(Layout, int)>();
        var carried = Money.Zero;
        foreach (var saw in entries.GroupBy(entry => entry.Layout.SawId, StringComparer.Ordinal))
        {
            List<Entry> own = [.. saw];
            var (sequence, chain) = Starts(own, stocks).Select(start => Sequence(own, start, stocks)).Select(some => (some, Best(some))).MaxBy(some => some.Item2[^1].Carried);
            ordered.AddRange(chain.Select((link, at) => (link.Way.Layout, sequence[at].Count)));
            carried += saws.TryGetValue(saw.Key, out var cuts) ? SettingCosts.One(cuts) * chain[^1].Carried : Money.Zero;
        }

        return (ordered, carried);

        ImmutableArray<StopWay> WaysOf(Column column) => !saws.TryGetValue(column.Layout.SawId, out var saw)
            ? [new(column.Layout, null, null)]
            : StopWays.Of(stocks[column.Layout.StockId], saw, column.Layout, job.Unit) is var ways && column.Stock < 0 ? [ways[0]] : ways;
    }

    /// <summary>Where the work may begin: with the first, where there are few with any of its material.</summary>
    private static IEnumerable<int> Starts(List<Entry> sorted, Dictionary<string, Stock> stocks) =>
        Enumerable.Range(0, sorted.Count <= MostStarts ? sorted.Count : 1).Where(at => stocks[sorted[at].Layout.StockId].MaterialId == stocks[sorted[0].Layout.StockId].MaterialId);

    /// <summary>Among neighbours of the same section (of the same material, where there are few), next the one that may begin where the stop may stand, if there is one.</summary>
    private static List<Entry> Sequence(List<Entry> sorted, int start, Dictionary<string, Stock> stocks)
    {
        List<Entry> left = [sorted[start], .. sorted.Where((_, at) => at != start)];
        var few = sorted.Count <= MostStarts;
        var ordered = new List<Entry>(left.Count);
        var standing = new HashSet<StopPosition>();
        while (left.Count > 0)
        {
            var next = 0;
            var alike = Kind(left[0]);
            for (var at = 0; standing.Count > 0 && at < left.Count && Kind(left[at]) == alike; at++)
            {
                if (left[at].Ways.Any(Fits))
                {
                    next = at;
                    break;
                }
            }

            var entry = left[next];
            var fitting = entry.Ways.Where(Fits).ToList();
            var after = (fitting.Count > 0 ? fitting : [.. entry.Ways]).Select(way => way.Last).OfType<StopPosition>().ToHashSet();
            standing = after.Count > 0 ? after : standing;
            ordered.Add(entry);
            left.RemoveAt(next);
        }

        return ordered;

        bool Fits(StopWay way) => way.First is { } first && standing.Contains(first);

        (string, string, Form, Length, Length) Kind(Entry entry) =>
            stocks[entry.Layout.StockId] is var stock && !few ? (entry.Layout.SawId, stock.MaterialId, stock.Form, stock.Thickness, stock.Width) : (entry.Layout.SawId, stock.MaterialId, default, default, default);
    }

    /// <summary>A way for each of the layouts of one saw, in their order.</summary>
    private static List<Chain> Best(List<Entry> entries)
    {
        Dictionary<StopPosition, Chain> standing = [];
        Chain? none = null;
        foreach (var entry in entries)
        {
            Dictionary<StopPosition, Chain> after = [];
            Chain? still = null;
            foreach (var (stop, chain) in standing.Select(pair => ((StopPosition?)pair.Key, (Chain?)pair.Value)).Concat(standing.Count == 0 || none is not null ? [(null, none)] : []))
            {
                for (var w = 0; w < entry.Ways.Length; w++)
                {
                    var way = entry.Ways[w];
                    var link = new Chain(chain, way, (chain?.Carried ?? 0) + (way.First is not null && way.First == stop ? 1 : 0), (chain?.Changed ?? 0) + (w > 0 ? 1 : 0));
                    if ((way.Last ?? stop) is { } last)
                    {
                        after[last] = Better(after.GetValueOrDefault(last), link);
                    }
                    else
                    {
                        still = Better(still, link);
                    }
                }
            }

            (standing, none) = (after, still);
        }

        var best = standing.Values.Aggregate(none, (one, other) => Better(one, other));
        var links = new List<Chain>();
        for (var link = best; link is not null; link = link.Before)
        {
            links.Add(link);
        }

        links.Reverse();
        return links;
    }

    /// <summary>The one in which more is carried over, then the one with fewer bars in another order, then the first.</summary>
    private static Chain Better(Chain? one, Chain other) => one is null || other.Carried > one.Carried || (other.Carried == one.Carried && other.Changed < one.Changed) ? other : one;

    private sealed record Entry(Layout Layout, int Count, ImmutableArray<StopWay> Ways);
}
