using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>Where the metal of one sawn stock piece goes that is neither blank nor kept: plan areas by the cuts' own geometry.</summary>
/// <param name="Chips">What the cuts turn into chips: one kerf each, or what there is of it at the end of the metal.</param>
/// <param name="Scrap">Trims that are cut off, offcuts not kept, and what falls behind the last piece of a row.</param>
/// <remarks>Blanks + kept offcuts (as <see cref="TrimmedEdges.Metal"/>) + chips + scrap = sheet, exactly. O(nodes).</remarks>
public readonly record struct SawnMetal(Area Chips, Area Scrap)
{
    public static SawnMetal Of(Saw saw, Stock stock, Layout layout)
    {
        var trimmed = TrimmedEdges.Of(saw, stock, layout);
        var (chips, scrap) = (Area.Zero, Area.Zero);
        var (sheet, trims) = (layout.Sheet, layout.Trims);
        var inner = sheet.SizeX - (trimmed.Left ? trims.Left : Length.Zero) - (trimmed.Right ? trims.Right : Length.Zero);
        Cut(trimmed.Left, trims.Left, sheet.SizeY);
        Cut(trimmed.Right, trims.Right, sheet.SizeY);
        Cut(trimmed.Bottom, trims.Bottom, inner);
        Cut(trimmed.Top, trims.Top, inner);
        if (layout.Tree is { } tree && !layout.Pieces.IsEmpty)
        {
            Visit(tree, stock.Form.IsBar());
        }

        return new(chips, scrap);

        void Cut(bool made, Length metal, Length across)
        {
            if (made)
            {
                var kerf = Length.Min(saw.Kerf, metal);
                chips += kerf * across;
                scrap += (metal - kerf) * across;
            }
        }

        void Visit(CutNode node, bool bar)
        {
            var metal = trimmed.Metal(layout, node.Area);
            if (node.Kind == CutNodeKind.Offcut)
            {
                scrap += layout.Offcuts[node.Index].Keep ? Area.Zero : metal.Area;
                return;
            }

            if (node.Kind == CutNodeKind.Piece && !bar)
            {
                return;
            }

            // A bar that is one piece is cut at its end like any other.
            var children = node.Kind == CutNodeKind.Piece ? [node] : node.Children;
            var along = node.Kind == CutNodeKind.Split && node.Direction == CutDirection.Rip;
            var across = along ? metal.SizeX : metal.SizeY;
            chips += saw.Kerf * across * (children.Length - 1);
            var (first, last) = (children[0], children[^1]);
            if (bar && TrimmedEdges.FromRight(stock, trims))
            {
                Cut(first.Kind == CutNodeKind.Piece, first.Area.X - metal.X, across);
            }
            else if (bar)
            {
                Cut(last.Kind == CutNodeKind.Piece, metal.Right - last.Area.Right, across);
            }
            else
            {
                var (end, ofLast) = along ? (node.Area.Top, last.Area.Top) : (node.Area.Right, last.Area.Right);
                Cut(ofLast != end, (along ? metal.Top : metal.Right) - ofLast, across);
            }

            foreach (var child in children)
            {
                if (!ReferenceEquals(child, node))
                {
                    Visit(child, false);
                }
            }
        }
    }
}
