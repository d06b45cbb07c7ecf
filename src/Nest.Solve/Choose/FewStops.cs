using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Exact;

namespace Nest.Solve.Choose;

/// <summary>Cuts small loads another way where that saves more settings of fence and stop than it costs in metal and cuts.</summary>
/// <remarks>Each layout by itself, with its settings paid once for all pieces of stock cut alike. Never dearer. O(layouts · trees), see <see cref="SmallTrees"/>.</remarks>
internal static class FewStops
{
    /// <summary>Small layouts that are looked at.</summary>
    private const int MostLayouts = 24;

    /// <summary>Plates times loads that are few.</summary>
    private const double MostLoads = 100;

    public static Chosen Of(Component component, Chosen plan)
    {
        var left = MostLayouts;
        return new([.. plan.Columns.GroupBy(entry => entry.Column.Key, StringComparer.Ordinal).SelectMany(alike => IsSmall(component, alike.First().Column) && left-- > 0 ? [Best([.. alike])] : alike.ToArray())], plan.Missing);

        // The same pieces from the same stock are never cheaper in two layouts than in the better of these.
        (Column Column, int Count) Best((Column Column, int Count)[] alike)
        {
            var count = alike.Sum(entry => entry.Count);
            return (Cheapest(component, alike.Select(entry => entry.Column), alike[0].Column, count), count);
        }
    }

    /// <summary>Every load of a small component from every stock, cut in the way that is cheapest with its settings; none where there are many.</summary>
    public static IEnumerable<Column> EveryLoad(Component component, CancellationToken cancel)
    {
        var plates = Enumerable.Range(0, component.Stocks.Length).Where(stock => component.Stocks[stock] is { IsBar: false, IsFree: false, Stock.Available: not 0 }).ToList();
        if (component.Demand.Sum() > SmallTrees.MostPieces || plates.Count * ExactJob.LoadsOf(component.Demand) > MostLoads)
        {
            return [];
        }

        return plates.SelectMany(stock => Loads(component.Demand).Where(counts => counts.Sum() > 0 && !counts.Where((count, item) => count > 0 && component.Fits[stock, item] is null).Any())
            .Select(counts => SmallTrees.Of(component, stock, counts).MinBy(column => column.Cost + column.SetUp(component)))).OfType<Column>()
            .Concat(AllColumns.Of(component, cancel).Columns);
    }

    private static IEnumerable<ImmutableArray<int>> Loads(ImmutableArray<int> demand) => demand.Aggregate(
        (IEnumerable<ImmutableArray<int>>)[[]], (loads, most) => loads.SelectMany(load => Enumerable.Range(0, most + 1).Select(load.Add)));

    /// <summary>The layouts of a choice that has few; where there are more they stay as they are.</summary>
    public static ImmutableArray<Column> Of(Component component, ImmutableArray<Column> columns) => columns.Count(column => IsSmall(component, column)) > MostLayouts
        ? columns
        : [.. columns.Select(column => IsSmall(component, column) ? Cheapest(component, [column], column, 1) : column)];

    private static bool IsSmall(Component component, Column column) => IsSawn(component.Stocks[column.Stock]) && column.Counts.Sum() is > 0 and <= SmallTrees.MostPieces;

    /// <summary>A plate on a saw whose settings cost something.</summary>
    public static bool IsSawn(StockFrame frame) => !frame.IsBar && !frame.IsFree && frame.Stock.CutFor is null && SettingCosts.One(frame.Saw) > Money.Zero;

    private static Column Cheapest(Component component, IEnumerable<Column> known, Column load, int count) =>
        known.Concat(SmallTrees.Of(component, load.Stock, load.Counts)).MinBy(column => (column.Cost * count) + column.SetUp(component))!;
}
