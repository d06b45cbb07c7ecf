using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Rack.Plans;

/// <summary>Plan area that the saw turns into chips in one layout, by the cuts themselves (not as what is left over in a sum).</summary>
/// <remarks>A trim gives one kerf, or all of itself when it is narrower. Inside the trims: each Split's own area less its children's.
/// Exact. O(nodes).</remarks>
internal static class LayoutKerf
{
    public static Area Of(Saw saw, Layout layout)
    {
        var trims = layout.Trims;
        var chips = ((Chips(trims.Left) + Chips(trims.Right)) * layout.Sheet.SizeY)
            + ((Chips(trims.Bottom) + Chips(trims.Top)) * layout.Usable.SizeX);
        return layout.Tree is { } tree ? chips + OfSplits(tree) : chips;

        Length Chips(Length trim) => Length.Min(trim, saw.Kerf);
    }

    private static Area OfSplits(CutNode node)
    {
        if (node.Kind != CutNodeKind.Split)
        {
            return Area.Zero;
        }

        var chips = node.Area.Area;
        foreach (var child in node.Children)
        {
            chips = chips - child.Area.Area + OfSplits(child);
        }

        return chips;
    }
}
