using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Scenes;

namespace Nest.Output.Pictures;

/// <summary>What lies under the pieces of a plate's picture: trims and offcuts, and around the pieces of a cutter its gap.</summary>
internal static class PlateGround
{
    /// <summary>Draws it.</summary>
    public static void Draw(SceneBuilder scene, Layout layout, Stock stock, Saw saw, View view)
    {
        if (saw.Kind == SawKind.Cutter)
        {
            PartLook.FillScrap(scene, view.Box);
            Offcuts(keep: false);
            Offcuts(keep: true);
            foreach (var piece in layout.Pieces)
            {
                var gap = new Rect(piece.Area.X - saw.Kerf, piece.Area.Y - saw.Kerf, piece.Area.SizeX + (saw.Kerf * 2), piece.Area.SizeY + (saw.Kerf * 2));
                scene.Box(Layer.Cut, view.Clipped(gap), Tint.White);
            }
        }
        else
        {
            foreach (var trim in TrimAreas(layout, stock, saw))
            {
                PartLook.FillScrap(scene, view.Clipped(trim));
            }

            Offcuts(keep: false);
            Offcuts(keep: true);
        }

        void Offcuts(bool keep)
        {
            foreach (var offcut in layout.Offcuts.Where(offcut => offcut.Keep == keep))
            {
                var box = view.Clipped(offcut.Area);
                if (keep)
                {
                    PartLook.FillKeep(scene, box);
                }
                else
                {
                    PartLook.FillScrap(scene, box);
                }
            }
        }
    }

    /// <summary>The solid part of the trims: what falls off beside the kerf.</summary>
    private static IEnumerable<Rect> TrimAreas(Layout layout, Stock stock, Saw saw)
    {
        var sheet = layout.Sheet;
        var usable = layout.Usable;
        var zero = Length.Zero;
        var trims = layout.Trims;
        var trimmed = TrimmedEdges.Of(saw, stock, layout);
        var left = Solid(trims.Left, trimmed.Left);
        var right = Solid(trims.Right, trimmed.Right);
        var bottom = Solid(trims.Bottom, trimmed.Bottom);
        var top = Solid(trims.Top, trimmed.Top);
        if (left > zero)
        {
            yield return new(zero, zero, left, sheet.SizeY);
        }

        if (right > zero)
        {
            yield return new(sheet.SizeX - right, zero, right, sheet.SizeY);
        }

        if (bottom > zero)
        {
            yield return new(usable.X, zero, usable.SizeX, bottom);
        }

        if (top > zero)
        {
            yield return new(usable.X, sheet.SizeY - top, usable.SizeX, top);
        }

        // What is not cut off falls with what lies beside it.
        Length Solid(Length trim, bool cut) => Length.Max(zero, cut ? trim - saw.Kerf : trim);
    }
}
