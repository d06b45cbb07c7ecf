using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Pictures;

/// <summary>Sets the label of a rectangle: as much as is readable, never over its border.</summary>
internal static class PieceLabel
{
    /// <summary>Smallest text on a piece: 5.4 points.</summary>
    public const double Smallest = 1.9;

    private const double Leading = 1.28;

    /// <summary>Tries the choices from the richest to the plainest, each lying and standing, from large to small.</summary>
    /// <param name="choices">Lines of each choice; the first line is bold.</param>
    /// <param name="ground">A plain box under the text, where the piece has a pattern.</param>
    /// <returns>Index of the choice that was set, −1 when none fits.</returns>
    public static int Set(SceneBuilder scene, Layer layer, Box box, IReadOnlyList<string[]> choices, bool ground, double largest = 3.8, Tint? tint = null)
    {
        var room = box.Shrink(0.5);
        for (var index = 0; index < choices.Count; index++)
        {
            var lines = choices[index];
            for (var size = largest; size >= Smallest - 1e-9; size -= 0.19)
            {
                var height = ((lines.Length - 1) * Leading * size) + ((FontBook.CapHeight + FontBook.Descent) * size);
                var width = lines.Select((line, at) => FontBook.Width(line, at == 0 ? Face.Bold : Face.Regular, size)).Max();
                if (width <= room.Width && height <= room.Height)
                {
                    if (Place(scene, layer, room, lines, size, width, height, false, ground, tint))
                    {
                        return index;
                    }
                }
                else if (width <= room.Height && height <= room.Width
                    && Place(scene, layer, room, lines, size, width, height, true, ground, tint))
                {
                    return index;
                }
            }
        }

        return -1;
    }

    private static bool Place(
        SceneBuilder scene, Layer layer, Box room, string[] lines, double size, double width, double height, bool standing, bool ground, Tint? tint)
    {
        var (w, h) = standing ? (height, width) : (width, height);
        var block = new Box(room.CenterX - (w / 2), room.CenterY - (h / 2), w, h);
        if (!scene.IsFree(block))
        {
            return false;
        }

        if (ground)
        {
            scene.Box(layer, Box.FromEdges(block.X - 0.4, block.Y - 0.4, block.Right + 0.4, block.Bottom + 0.4).Clip(room), Tint.White);
        }

        for (var at = 0; at < lines.Length; at++)
        {
            var face = at == 0 ? Face.Bold : Face.Regular;
            if (standing)
            {
                var x = block.X + (FontBook.CapHeight * size / 2) + (at * Leading * size);
                scene.Standing(layer, lines[at], x, block.CenterY, size, room, face, tint);
            }
            else
            {
                scene.Text(layer, lines[at], block.CenterX, block.Y + (FontBook.CapHeight * size) + (at * Leading * size), size,
                    room with { X = room.X - 0.01, Width = room.Width + 0.02 }, face, Align.Center, tint);
            }
        }

        return true;
    }
}
