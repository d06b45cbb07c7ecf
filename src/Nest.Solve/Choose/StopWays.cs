using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A layout with its blanks in one order, and where the stop stands before and after it.</summary>
/// <param name="First">The first position of the stop; null: it is not set.</param>
/// <param name="Last">Where it is left; null: as it was found.</param>
internal sealed record StopWay(Layout Layout, StopPosition? First, StopPosition? Last);

/// <summary>The orders in which the blanks of a bar may be cut with no more settings, so that another size comes first or last.</summary>
/// <remarks>Blanks of a size stay together. Plates, and bars with angled ends, have the one order that they have. O(sizes² · blanks).</remarks>
internal static class StopWays
{
    /// <summary>Sizes on one bar up to which others are tried.</summary>
    private const int MostSizes = 6;

    /// <returns>The layout as it is first.</returns>
    public static ImmutableArray<StopWay> Of(Stock stock, Saw saw, Layout layout, LengthUnit unit)
    {
        var own = LayoutSettings.Of(stock, saw, layout, unit);
        var ways = ImmutableArray.Create(new StopWay(layout, own.First, own.Last));
        var sizes = stock.Form.IsBar() && layout.Tree is not null && layout.Pieces.All(piece => piece.Ends is null)
            ? layout.Pieces.Select(piece => piece.Area.SizeX).Distinct().OrderDescending().ToList() : [];
        if (sizes.Count is < 2 or > MostSizes || own.First is null)
        {
            return ways;
        }

        var fromRight = TrimmedEdges.FromRight(stock, layout.Trims);
        var metal = layout.Sheet.SizeX - (fromRight ? Length.Zero : layout.Trims.Left);
        foreach (var first in sizes)
        {
            foreach (var last in sizes.Where(size => size != first))
            {
                List<int> order = [.. Enumerable.Range(0, layout.Pieces.Length)
                    .OrderBy(at => layout.Pieces[at].Area.SizeX == first ? 0 : layout.Pieces[at].Area.SizeX == last ? 2 : 1)
                    .ThenByDescending(at => layout.Pieces[at].Area.SizeX).ThenBy(at => at)];
                if (BarSequence.SettingsOf(order.Select(at => layout.Pieces[at].Area.SizeX), metal, saw) is not null
                    && Laid(layout, order, fromRight, saw.Kerf) is var other
                    && LayoutSettings.Of(stock, saw, other, unit) is var settings && settings.Count <= own.Count
                    && !ways.Any(way => way.First == settings.First && way.Last == settings.Last))
                {
                    ways = ways.Add(new(other, settings.First, settings.Last));
                }
            }
        }

        return ways;
    }

    /// <summary>The bar with its blanks in this order from its clean end; what is left behind them stays where it is.</summary>
    private static Layout Laid(Layout layout, List<int> order, bool fromRight, Length kerf)
    {
        var pieces = layout.Pieces.ToArray();
        var at = fromRight ? pieces.Max(piece => piece.Area.Right) : pieces.Min(piece => piece.Area.X);
        var children = new List<CutNode>();
        foreach (var index in order)
        {
            var size = pieces[index].Area.SizeX;
            at -= fromRight ? size : Length.Zero;
            pieces[index] = pieces[index] with { Area = pieces[index].Area with { X = at } };
            children.Add(new() { Kind = CutNodeKind.Piece, Area = pieces[index].Area, Index = index });
            at += fromRight ? -kerf : size + kerf;
        }

        children.AddRange(layout.Tree!.Children.Where(child => child.Kind == CutNodeKind.Offcut));
        return layout with { Pieces = [.. pieces], Tree = layout.Tree with { Children = [.. children.OrderBy(child => child.Area.X)] } };
    }
}
