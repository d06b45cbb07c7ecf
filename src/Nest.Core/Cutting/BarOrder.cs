using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>One cut of a bar.</summary>
/// <param name="Metal">The bar before the cut.</param>
/// <param name="Yields">What the cut leaves: first what lies at the stop, or at the mark's end.</param>
internal readonly record struct BarMove(CutPurpose Purpose, Setting Setting, Workpiece Metal, Rect Kerf, IReadOnlyList<Workpiece> Yields);

/// <summary>The order of a bar's cuts.</summary>
/// <remarks>
/// From the clean end, the left one where both are: blank after blank is cut to the stop, in the order of the layout, the last one too, so
/// that none is what is left over; what remains, kept or scrap, takes all errors of kerf and length. Where both ends are raw the left one is
/// first cut off at a mark, since no stop stands a bar's length away. The vise holds what does not lie at the stop; where that is too short
/// the bar is turned round, the blank is clamped and the cut made at a mark. At a clean end the last cut takes off only what the bar is
/// longer. O(pieces).
/// </remarks>
internal static class BarOrder
{
    public static IReadOnlyList<BarMove> Of(Layout layout, Saw saw, Stock stock)
    {
        var moves = new List<BarMove>();
        var trimmed = TrimmedEdges.Of(saw, stock, layout);
        var fromRight = TrimmedEdges.FromRight(stock, layout.Trims);
        var metal = layout.Sheet;
        if (trimmed.Left)
        {
            var kerf = Length.Min(saw.Kerf, layout.Trims.Left);
            var waste = layout.Trims.Left - kerf;
            var rest = metal with { X = layout.Trims.Left, SizeX = metal.SizeX - layout.Trims.Left };
            var end = Scrap("trim left", metal with { SizeX = waste });
            moves.Add(new(CutPurpose.Trim, new(CutDirection.Crosscut, waste, Marked: true), Bar(metal),
                metal with { X = metal.X + waste, SizeX = kerf }, Solid(end, Bar(rest))));
            metal = rest;
        }

        // What is no blank lies at the far end.
        var leaves = Leaves(SplitGraph.PassOver(layout.Tree!)).Select(node => SplitGraph.Leaf(layout, node, trimmed)).ToList();
        if (fromRight)
        {
            leaves.Reverse();
        }

        for (var at = 0; at < leaves.Count && leaves[at].Kind == WorkKind.Piece; at++)
        {
            var blank = leaves[at];
            var size = blank.Area.SizeX;
            var kerf = Length.Min(saw.Kerf, metal.SizeX - size);
            var rest = metal.SizeX - size - kerf;
            var (cut, remains) = fromRight
                ? (metal with { X = blank.Area.X - kerf, SizeX = kerf }, metal with { SizeX = rest })
                : (metal with { X = blank.Area.Right, SizeX = kerf }, metal with { X = blank.Area.Right + kerf, SizeX = rest });
            var behind = at + 1 == leaves.Count ? Scrap(fromRight ? "trim left" : "trim right", remains)
                : leaves[at + 1].Kind == WorkKind.Piece ? Bar(remains) : leaves[at + 1];
            moves.Add(new(CutPurpose.Divide, new(CutDirection.Crosscut, size, Marked: rest < saw.ShortestHeld), Bar(metal), cut, Solid(blank, behind)));
            metal = remains;
        }

        return moves;
    }

    private static IEnumerable<CutNode> Leaves(CutNode node) =>
        node.Kind == CutNodeKind.Split ? node.Children.Select(SplitGraph.PassOver).SelectMany(Leaves) : [node];

    private static Workpiece Bar(Rect area) => new(WorkKind.Stock, "bar", area, Destination.Pile);

    private static Workpiece Scrap(string name, Rect area) => new(WorkKind.Scrap, name, area, Destination.Bin);

    private static List<Workpiece> Solid(params ReadOnlySpan<Workpiece> pieces)
    {
        var solid = new List<Workpiece>();
        foreach (var piece in pieces)
        {
            if (piece.Area.SizeX > Length.Zero)
            {
                solid.Add(piece);
            }
        }

        return solid;
    }
}
