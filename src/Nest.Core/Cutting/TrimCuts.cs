using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>A cut that takes a trim off the stock.</summary>
/// <param name="Before">The metal before the cut.</param>
/// <param name="Rest">The metal after it.</param>
/// <param name="Waste">The solid part of the trim; null where the cut turns all of it into chips.</param>
internal sealed record TrimCut(Setting Setting, Edge Against, Rect Before, Rect Kerf, Rect Rest, Rect? Waste, string Name);

/// <summary>The trimming cuts of a layout: left, right, bottom, top. The raw edge first, measured from itself; the edge across from it
/// from the clean one, so that what lies between is exactly the usable size.</summary>
internal static class TrimCuts
{
    public static IReadOnlyList<TrimCut> Of(Layout layout, Saw saw, Stock stock, SplitGraph graph)
    {
        var cuts = new List<TrimCut>();
        var (sheet, usable, trims) = (layout.Sheet, layout.Usable, layout.Trims);
        var metal = sheet;
        if (trims.Left > Length.Zero)
        {
            var kerf = Length.Min(saw.Kerf, trims.Left);
            var waste = trims.Left - kerf;
            Add(CutDirection.Crosscut, waste, Edge.Left, metal with { X = sheet.X + waste, SizeX = kerf },
                metal with { X = usable.X, SizeX = sheet.Right - usable.X }, metal with { SizeX = waste }, "trim left");
        }

        // A bar's right trim is taken off by the cut behind the last piece, unless the bar is one piece.
        if (trims.Right > Length.Zero && (!stock.Form.IsBar() || graph.Whole is not null))
        {
            var kerf = Length.Min(saw.Kerf, trims.Right);
            Add(CutDirection.Crosscut, usable.SizeX, Edge.Left, metal with { X = usable.Right, SizeX = kerf },
                metal with { SizeX = usable.SizeX }, metal with { X = usable.Right + kerf, SizeX = trims.Right - kerf }, "trim right");
        }

        if (trims.Bottom > Length.Zero)
        {
            var kerf = Length.Min(saw.Kerf, trims.Bottom);
            var waste = trims.Bottom - kerf;
            Add(CutDirection.Rip, waste, Edge.Bottom, metal with { Y = sheet.Y + waste, SizeY = kerf },
                metal with { Y = usable.Y, SizeY = sheet.Top - usable.Y }, metal with { SizeY = waste }, "trim bottom");
        }

        if (trims.Top > Length.Zero)
        {
            var kerf = Length.Min(saw.Kerf, trims.Top);
            Add(CutDirection.Rip, usable.SizeY, Edge.Bottom, metal with { Y = usable.Top, SizeY = kerf },
                metal with { SizeY = usable.SizeY }, metal with { Y = usable.Top + kerf, SizeY = trims.Top - kerf }, "trim top");
        }

        return cuts;

        void Add(CutDirection direction, Length measure, Edge against, Rect kerf, Rect rest, Rect waste, string name)
        {
            var solid = waste.SizeX > Length.Zero && waste.SizeY > Length.Zero;
            cuts.Add(new(new(direction, measure), against, metal, kerf, rest, solid ? waste : null, name));
            metal = rest;
        }
    }
}
