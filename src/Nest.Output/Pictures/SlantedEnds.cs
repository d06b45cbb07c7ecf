using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Scenes;

namespace Nest.Output.Pictures;

/// <summary>Draws the angled ends of a blank: the cut as a line over the bar's height, the wedge behind it as scrap.</summary>
/// <remarks>Along the bar to scale; a cut that leans across the thickness is not seen from above and is drawn dashed where its long
/// point is.</remarks>
internal static class SlantedEnds
{
    private const double Shade = 0.25;

    /// <summary>The piece as it lies on the saw, and what its cuts run across: a section that is mitred across its thickness lies on its thickness.</summary>
    public static (PlacedPiece Piece, Length Across) AsItLies(Part part, PlacedPiece piece) => part.Detail is not null && piece.Ends is { AcrossThickness: true } ends
        ? (piece with { Ends = ends with { AcrossThickness = false } }, part.Thickness)
        : (piece, part.Width);

    /// <summary>The part of a blank's box that both slanted ends leave free: where its label stands.</summary>
    public static Box Free(Box box, PlacedPiece piece, Saw saw, Length across)
    {
        if (piece.Ends is not { } ends || piece.Area.SizeX <= Length.Zero)
        {
            return box;
        }

        var scale = box.Width / piece.Area.SizeX.Nanometres;
        var free = Box.FromEdges(box.X + Taken(ends.Start), box.Y, box.Right - Taken(ends.End), box.Bottom);
        return free.Width < box.Width * 0.4 ? box : free;

        double Taken(Angle angle) => angle.IsSquare ? 0
            : (angle.Along(saw.Kerf) + (ends.AcrossThickness ? Length.Zero : angle.Slope(across))).Nanometres * scale;
    }

    /// <param name="box">The whole blank on paper.</param>
    /// <param name="clip">The visible part of the bar.</param>
    /// <param name="across">Width that the cuts run across.</param>
    public static void Draw(SceneBuilder scene, Box box, Box clip, PlacedPiece piece, Saw saw, Length across)
    {
        if (piece.Ends is not { } ends || piece.Area.SizeX <= Length.Zero)
        {
            return;
        }

        var scale = box.Width / piece.Area.SizeX.Nanometres;
        End(ends.Start, box.X, 1);
        End(ends.End, box.Right, -1);

        void End(Angle angle, double edge, int inward)
        {
            if (angle.IsSquare)
            {
                return;
            }

            var point = edge + (inward * angle.Along(saw.Kerf).Nanometres * scale);
            var other = point + (ends.AcrossThickness ? 0 : inward * angle.Slope(across).Nanometres * scale);
            var (top, bottom) = angle > Angle.Square ? (other, point) : (point, other);
            if (Math.Min(Math.Min(top, bottom), edge) < clip.X - 0.01 || Math.Max(Math.Max(top, bottom), edge) > clip.Right + 0.01)
            {
                // The end is in another row of the picture.
                return;
            }

            var shade = new List<Segment>();
            for (var y = box.Y + (Shade / 2); y < box.Bottom; y += Shade)
            {
                shade.Add(new(edge, y, top + ((bottom - top) * (y - box.Y) / box.Height), y));
            }

            scene.Lines(Layer.Scrap, shade, new Stroke(PartLook.Scrap, Shade + 0.02));
            scene.Line(Layer.Cut, top, box.Y, bottom, box.Bottom, new Stroke(PartLook.Kerf, 0.5, ends.AcrossThickness ? 1 : 0));
        }
    }
}
