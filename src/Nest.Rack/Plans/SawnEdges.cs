using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Rack.Plans;

/// <summary>Which edges of a leftover are clean: those inside the sheet were sawn; those on the sheet's own edge are as clean as it
/// was: the far end of a leftover is not cut off before it is used.</summary>
internal static class SawnEdges
{
    public static CleanEdges Of(Stock stock, Saw saw, Layout layout, Rect offcut)
    {
        if (saw.Kind == SawKind.Cutter)
        {
            // Nothing was sawn through: whoever cuts the skeleton apart says what became of its edges.
            return default;
        }

        var sheet = layout.Sheet;
        var old = stock.CleanEdges;
        return new(
            offcut.X > sheet.X || old.Left,
            offcut.Right < sheet.Right || old.Right,
            offcut.Y > sheet.Y || old.Bottom,
            offcut.Top < sheet.Top || old.Top);
    }
}
