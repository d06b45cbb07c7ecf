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
        if (part.Gang is not { Parts: > 1 } gang)
        {
            return;
        }

        var block = part.AsBlock();
        var gap = part.PerBlank?.Gap ?? Length.Zero;
        var (x, y, nx, ny, px, py) = piece.Turned
            ? (block.Width, block.Length, gang.Rows, gang.Columns, part.Width, part.Length)
            : (block.Length, block.Width, gang.Columns, gang.Rows, part.Length, part.Width);
        var (left, below) = (Millimetres(piece.Area.SizeX - x) / 2, Millimetres(piece.Area.SizeY - y) / 2);
        if (left < 0 || below < 0 || box.Width <= 0 || box.Height <= 0)
        {
            return;
        }

        var (sx, sy) = (box.Width / Millimetres(piece.Area.SizeX), box.Height / Millimetres(piece.Area.SizeY));
        for (var i = 0; i < nx; i++)
        {
            for (var j = 0; j < ny; j++)
            {
                scene.Box(Layer.Piece, new Box(
                    box.X + ((left + (i * Millimetres(px + gap))) * sx), box.Y + ((below + (j * Millimetres(py + gap))) * sy), Millimetres(px) * sx, Millimetres(py) * sy), null, Pen);
            }
        }
    }

    private static double Millimetres(Length length) => (double)length.ToMillimetres();
}
