using Nest.Core.Costing;
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

/// <summary>The trimming cuts of a plate's layout: left, right, bottom, top, as far as they are made (<see cref="TrimmedEdges"/>).</summary>
/// <remarks>The metal that stays lies between fence and blade. The thin strip never does: it could bind and fly. So the left trim is measured from
/// the right edge, which may be raw; the right trim from the left edge, which is clean by then. Where both are made, exactly the usable size lies
/// between them. What a plate is larger than its smallest size goes with the first of the two.</remarks>
internal static class TrimCuts
{
    public static IReadOnlyList<TrimCut> Of(Layout layout, Saw saw, TrimmedEdges trimmed)
    {
        var cuts = new List<TrimCut>();
        var (sheet, usable, trims) = (layout.Sheet, layout.Usable, layout.Trims);
        var metal = sheet;
        if (trimmed.Left)
        {
            var kerf = Length.Min(saw.Kerf, trims.Left);
            var waste = trims.Left - kerf;
            var rest = metal with { X = usable.X, SizeX = sheet.Right - usable.X };
            Add(new(CutDirection.Crosscut, rest.SizeX), Edge.Right, metal with { X = sheet.X + waste, SizeX = kerf }, rest,
                metal with { SizeX = waste }, "trim left");
        }

        if (trimmed.Right)
        {
            var kerf = Length.Min(saw.Kerf, trims.Right);
            Add(new(CutDirection.Crosscut, usable.SizeX), Edge.Left, metal with { X = usable.Right, SizeX = kerf },
                metal with { SizeX = usable.SizeX }, metal with { X = usable.Right + kerf, SizeX = trims.Right - kerf }, "trim right");
        }

        if (trimmed.Bottom)
        {
            var kerf = Length.Min(saw.Kerf, trims.Bottom);
            var waste = trims.Bottom - kerf;
            var rest = metal with { Y = usable.Y, SizeY = sheet.Top - usable.Y };
            Add(new(CutDirection.Rip, rest.SizeY), Edge.Top, metal with { Y = sheet.Y + waste, SizeY = kerf }, rest,
                metal with { SizeY = waste }, "trim bottom");
        }

        if (trimmed.Top)
        {
            var kerf = Length.Min(saw.Kerf, trims.Top);
            Add(new(CutDirection.Rip, usable.SizeY), Edge.Bottom, metal with { Y = usable.Top, SizeY = kerf },
                metal with { SizeY = usable.SizeY }, metal with { Y = usable.Top + kerf, SizeY = trims.Top - kerf }, "trim top");
        }

        return cuts;

        void Add(Setting setting, Edge against, Rect kerf, Rect rest, Rect waste, string name)
        {
            var solid = waste.SizeX > Length.Zero && waste.SizeY > Length.Zero;
            cuts.Add(new(setting, against, metal, kerf, rest, solid ? waste : null, name));
            metal = rest;
        }
    }
}
