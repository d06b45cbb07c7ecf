using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Plates;

namespace Nest.Solve.Choose;

/// <summary>Leaves out cuts that only divide waste from waste.</summary>
/// <remarks>Around damage a kernel may leave two rests side by side. Where they are worth no less as one, kerf included, the cut between
/// them is left out. O(nodes).</remarks>
internal static class RestJoiner
{
    /// <param name="worth">What a rest gives back.</param>
    public static PlateNode Join(PlateNode node, Func<PlateRect, Money> worth)
    {
        if (node.Kind != PlateNodeKind.Split)
        {
            return node;
        }

        var rip = node.Direction == CutDirection.Rip;
        var children = ImmutableArray.CreateBuilder<PlateNode>(node.Children.Length);
        foreach (var child in node.Children.Select(one => Join(one, worth)))
        {
            if (children.Count > 0 && children[^1] is { Kind: PlateNodeKind.Rest } before && child.Kind == PlateNodeKind.Rest)
            {
                var both = rip
                    ? before.Area with { SizeY = child.Area.Y + child.Area.SizeY - before.Area.Y }
                    : before.Area with { SizeX = child.Area.X + child.Area.SizeX - before.Area.X };
                if (worth(both) >= worth(before.Area) + worth(child.Area))
                {
                    children[^1] = before with { Area = both };
                    continue;
                }
            }

            children.Add(child);
        }

        return children is [{ Kind: PlateNodeKind.Rest } only] && only.Area == node.Area
            ? only
            : node with { Children = children.ToImmutable() };
    }
}
