using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>Blanks on a bar one behind the other from its clean end, a kerf apart; what is left lies behind them.</summary>
public static class BarRow
{
    /// <param name="pieces">As they are to be listed; where they lie follows from <paramref name="order"/>.</param>
    /// <param name="order">Indices of the pieces, the first to be cut first. Together they are no longer than the bar.</param>
    /// <returns>The layout with these pieces, their tree and offcut; its cost is still that of the layout given.</returns>
    public static Layout Lay(Job job, Stock stock, Saw saw, Layout layout, IReadOnlyList<PlacedPiece> pieces, IReadOnlyList<int> order)
    {
        var usable = layout.Usable;
        var fromRight = TrimmedEdges.FromRight(stock, layout.Trims);
        var placed = pieces.ToArray();
        var children = new List<CutNode>();
        var at = fromRight ? usable.Right : usable.X;
        foreach (var index in order)
        {
            var size = placed[index].Area.SizeX;
            at -= fromRight ? size : Length.Zero;
            placed[index] = placed[index] with { Area = placed[index].Area with { X = at } };
            children.Add(new() { Kind = CutNodeKind.Piece, Area = placed[index].Area, Index = index });
            at += fromRight ? -saw.Kerf : size + saw.Kerf;
        }

        var offcuts = ImmutableArray<Offcut>.Empty;
        var rest = fromRight ? at - usable.X : usable.Right - at;
        if (rest > Length.Zero)
        {
            var area = new Rect(fromRight ? usable.X : at, Length.Zero, rest, layout.Sheet.SizeY);
            offcuts = [CostModel.Judge(job, stock, area, layout.Sheet)];
            children.Add(new() { Kind = CutNodeKind.Offcut, Area = area, Index = 0 });
        }

        if (fromRight)
        {
            children.Reverse();
        }

        return layout with
        {
            Pieces = [.. placed],
            Offcuts = offcuts,
            Tree = new() { Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut, Children = [.. children] },
        };
    }
}
