using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Scenes;

namespace Nest.Output.Pictures;

/// <summary>The outlines of the parts within a gang blank, thin and dashed, so that the blank's own edge stays what the saw follows.</summary>
/// <remarks>What the blank has over the block is drawn as the same margin on both sides. A blank that stands on its edge shows no outlines.</remarks>
internal static class PartsInBlank
{
    private static readonly Stroke Pen = new(Tint.Of(0x6D7780), 0.18, 1.2);

    /// <param name="box">The whole blank on the picture.</param>
    public static void Draw(SceneBuilder scene, Part part, PlacedPiece piece, Box box)
    {
        if (box.Width <= 0 || box.Height <= 0)
        {
            return;
        }

        var (sx, sy) = (box.Width / Millimetres(piece.Area.SizeX), box.Height / Millimetres(piece.Area.SizeY));
        foreach (var area in Of(part, piece))
        {
            scene.Box(Layer.Piece, new Box(
                box.X + (Millimetres(area.X - piece.Area.X) * sx), box.Y + (Millimetres(area.Y - piece.Area.Y) * sy), Millimetres(area.SizeX) * sx, Millimetres(area.SizeY) * sy), null, Pen);
        }
    }

    /// <summary>Each part of the blank in the stock's own coordinates; none where the blank is one part, or stands on its edge.</summary>
    public static IEnumerable<Rect> Of(Part part, PlacedPiece piece)
    {
        if (part.Gang is not { Parts: > 1 } gang)
        {
            yield break;
        }

        var block = part.AsBlock();
        var gap = part.PerBlank?.Gap ?? Length.Zero;
        var (x, y, nx, ny, px, py) = piece.Turned
            ? (block.Width, block.Length, gang.Rows, gang.Columns, part.Width, part.Length)
            : (block.Length, block.Width, gang.Columns, gang.Rows, part.Length, part.Width);
        if (piece.Area.SizeX < x || piece.Area.SizeY < y)
        {
            yield break;
        }

        var (left, below) = (Half(piece.Area.SizeX - x), Half(piece.Area.SizeY - y));
        for (var i = 0; i < nx; i++)
        {
            for (var j = 0; j < ny; j++)
            {
                yield return new(piece.Area.X + left + ((px + gap) * i), piece.Area.Y + below + ((py + gap) * j), px, py);
            }
        }

        static Length Half(Length length) => Length.FromNanometres(length.Nanometres / 2);
    }

    private static double Millimetres(Length length) => (double)length.ToMillimetres();
}
