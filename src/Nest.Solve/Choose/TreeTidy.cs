using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>Takes pieces out of a cut tree and joins what becomes free with the offcuts beside it.</summary>
/// <remarks>A Split whose children are all offcuts becomes one offcut; neighbours that are both offcuts become one, the kerf between
/// them included; an offcut at the end takes in the dust behind it. O(nodes).</remarks>
internal static class TreeTidy
{
    /// <summary>The tree without these pieces (indices in the layout). Indices of the offcuts are not valid afterwards.</summary>
    public static CutNode Without(CutNode node, HashSet<int> pieces)
    {
        switch (node.Kind)
        {
            case CutNodeKind.Piece when pieces.Contains(node.Index):
                return Offcut(node.Area);
            case CutNodeKind.Piece or CutNodeKind.Offcut:
                return node;
        }

        var rip = node.Direction == CutDirection.Rip;
        var children = ImmutableArray.CreateBuilder<CutNode>();
        foreach (var original in node.Children)
        {
            var child = Without(original, pieces);
            if (child.Kind == CutNodeKind.Offcut && children.Count > 0 && children[^1].Kind == CutNodeKind.Offcut)
            {
                children[^1] = Offcut(Span(children[^1].Area, child.Area));
            }
            else
            {
                children.Add(child);
            }
        }

        if (children[^1].Kind == CutNodeKind.Offcut)
        {
            var last = children[^1].Area;
            children[^1] = Offcut(rip
                ? last with { SizeY = node.Area.Top - last.Y }
                : last with { SizeX = node.Area.Right - last.X });
        }

        return children.Count == 1 && children[0].Kind == CutNodeKind.Offcut
            ? Offcut(node.Area)
            : node with { Children = children.ToImmutable() };
    }

    private static CutNode Offcut(Rect area) => new() { Kind = CutNodeKind.Offcut, Area = area };

    private static Rect Span(Rect first, Rect last) =>
        new(first.X, first.Y, last.Right - first.X, last.Top - first.Y);
}
