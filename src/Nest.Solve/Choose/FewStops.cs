using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Cuts small loads another way where that saves more settings of fence and stop than it costs in metal and cuts.</summary>
/// <remarks>Each layout by itself, with its settings paid once for all pieces of stock cut alike. Never dearer. O(layouts · trees), see <see cref="SmallTrees"/>.</remarks>
internal static class FewStops
{
    /// <summary>Small layouts that are looked at.</summary>
    private const int MostLayouts = 24;

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

    /// <summary>The layouts of a choice that has few; where there are more they stay as they are.</summary>
    public static ImmutableArray<Column> Of(Component component, ImmutableArray<Column> columns) => columns.Count(column => IsSmall(component, column)) > MostLayouts
        ? columns
        : [.. columns.Select(column => IsSmall(component, column) ? Cheapest(component, [column], column, 1) : column)];

    private static bool IsSmall(Component component, Column column)
    {
        var frame = component.Stocks[column.Stock];
        return !frame.IsBar && !frame.IsFree && frame.Stock.CutFor is null && SettingCosts.One(frame.Saw) > Money.Zero && column.Counts.Sum() is > 0 and <= SmallTrees.MostPieces;
    }

    private static Column Cheapest(Component component, IEnumerable<Column> known, Column load, int count) =>
        known.Concat(SmallTrees.Of(component, load.Stock, load.Counts)).MinBy(column => (column.Cost * count) + column.SetUp(component))!;
}
