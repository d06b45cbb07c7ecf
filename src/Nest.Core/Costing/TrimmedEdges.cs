using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>Which raw edges of a layout's stock piece are cut off, and how far metal reaches where they are not.</summary>
/// <remarks>
/// The zone of a trim is reserved on every raw edge (<see cref="Layout.Trims"/>); its cut is made only where it is needed:
/// <list type="bullet">
/// <item>Bars: an end is clean in order to measure from it. Where both ends are raw the left one is cut off; else the work starts at the
/// clean end (the right one where only that is clean). The other end stays on the rest, or falls with the cut behind the last blank.</item>
/// <item>Plates: left and bottom are measured from, so they are cut off where they are raw. Right and top are cut off only where a blank
/// lies against them, or where a cut would else be longer than the saw makes.</item>
/// <item>A cutter trims nothing.</item>
/// </list>
/// O(pieces).
/// </remarks>
public readonly record struct TrimmedEdges(bool Left, bool Right, bool Bottom, bool Top)
{
    /// <summary>The trims that are cut in this layout.</summary>
    public static TrimmedEdges Of(Saw saw, Stock stock, Layout layout)
    {
        if (saw.Kind == SawKind.Cutter || layout.Pieces.IsEmpty)
        {
            return default;
        }

        var (trims, usable) = (layout.Trims, layout.Usable);
        if (stock.Form.IsBar())
        {
            return new(trims.Left > Length.Zero && !FromRight(stock, trims), false, false, false);
        }

        var (right, top) = (BeyondReach(layout.Sheet.SizeX), BeyondReach(layout.Sheet.SizeY));
        foreach (var piece in layout.Pieces)
        {
            right |= piece.Area.Right == usable.Right;
            top |= piece.Area.Top == usable.Top;
        }

        return new(trims.Left > Length.Zero, trims.Right > Length.Zero && right, trims.Bottom > Length.Zero, trims.Top > Length.Zero && top);

        bool BeyondReach(Length side) => saw.LargestCut is { } largest && side > largest;
    }

    /// <summary>Whether a bar is cut from its right end, the only one that is clean.</summary>
    public static bool FromRight(Stock stock, EdgeTrims trims) =>
        stock.Form.IsBar() && trims.Left > Length.Zero && stock.CleanEdges.Right;

    /// <summary>The metal of a part of the layout that is no blank: where it lies at an edge that is not cut off, it reaches to the
    /// edge of the sheet.</summary>
    public Rect Metal(Layout layout, Rect area)
    {
        if (layout.Tree is null)
        {
            return area;
        }

        var (sheet, usable) = (layout.Sheet, layout.Usable);
        var left = !Left && area.X == usable.X ? sheet.X : area.X;
        var bottom = !Bottom && area.Y == usable.Y ? sheet.Y : area.Y;
        var right = !Right && area.Right == usable.Right ? sheet.Right : area.Right;
        var top = !Top && area.Top == usable.Top ? sheet.Top : area.Top;
        return new(left, bottom, right - left, top - bottom);
    }
}
