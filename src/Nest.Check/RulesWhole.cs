using Nest.Core.Geometry;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Stock that nobody saws: bought whole for the rack, or cut to size by the supplier.</summary>
internal static class RulesWhole
{
    /// <summary>A layout without pieces is bought stock that goes to the rack as it is: one kept offcut, the whole sheet.</summary>
    public static void BoughtWhole(PlanFacts facts, LayoutFacts one)
    {
        var layout = one.Layout;
        if (!one.BoughtWhole)
        {
            return;
        }

        var sheet = new Rect(Length.Zero, Length.Zero, one.Stock.MinLength, one.Stock.MinWidth);
        if (one.Stock.RackMark is not null || one.Stock.CutFor is not null
            || layout.Offcuts.Length != 1 || layout.Offcuts[0].Area != sheet || !layout.Offcuts[0].Keep)
        {
            facts.Add("empty-layout", one.Name, "it has no piece, and is not bought stock kept whole for the rack");
        }

        // Nothing is cut: the tree is the one piece that is kept, or there is none.
        if (layout.Tree is { } root && (root.Kind != CutNodeKind.Offcut || root.Index != 0 || root.Area != sheet || root.Children.Length > 0))
        {
            facts.Add("empty-layout", one.Name, "nothing is cut from it, but its tree is not the whole piece");
        }
    }

    /// <summary>Stock cut to size is one blank of the part it is cut for.</summary>
    public static void CutToSize(PlanFacts facts, LayoutFacts one)
    {
        var pieces = one.Layout.Pieces;
        if (one.Stock.CutFor is { } part
            && (pieces.Length != 1 || pieces[0].PartId != part || pieces[0].Area != one.Layout.Sheet || one.Layout.Offcuts.Length > 0))
        {
            facts.Add("cut-to-size", one.Name, $"{one.Stock.Id} is one blank of {part} and nothing else");
        }
    }
}
