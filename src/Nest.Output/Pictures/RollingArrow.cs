using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The rolling direction: along X in every picture of a plate.</summary>
internal static class RollingArrow
{
    /// <summary>Height of the line below a plate.</summary>
    public const double Band = 4.6;

    private const double TextSize = Print.Least;
    private static readonly Tint Colour = PartLook.Ink;

    /// <summary>Below a plate: an arrow with two heads, and the words.</summary>
    public static void OfPlate(SceneBuilder scene, SheetContext context, double left, double right, double top)
    {
        var text = context.Texts.RollingDirection;
        var width = FontBook.Width(text, Face.Bold, TextSize);
        var length = Math.Min(22, Math.Max(8, right - left - width - 4));
        Arrow(scene, Layer.Ruler, left, top + (Band / 2), length, 0.35, 1.3);
        var within = new Box(left + length + 2, top, width + 2, Band);
        scene.Text(Layer.Ruler, text, within.X, top + (Band / 2) + (FontBook.CapHeight * TextSize / 2), TextSize, within, Face.Bold);
        scene.Taken.Add(new(left, top, length + 4 + width, Band));
    }

    /// <summary>On a blank that must lie along it: a small arrow with two heads below its upper edge.</summary>
    public static void OnBlank(SceneBuilder scene, Box box)
    {
        if (box.Width < 4 || box.Height < 3)
        {
            return;
        }

        var length = Math.Min(9, box.Width * 0.6);
        Arrow(scene, Layer.Piece, box.CenterX - (length / 2), box.Y + 1.2, length, 0.3, 0.7);
    }

    private static void Arrow(SceneBuilder scene, Layer layer, double x, double y, double length, double pen, double head) =>
        scene.Lines(layer,
        [
            new(x, y, x + length, y),
            new(x, y, x + (head * 1.4), y - head), new(x, y, x + (head * 1.4), y + head),
            new(x + length, y, x + length - (head * 1.4), y - head), new(x + length, y, x + length - (head * 1.4), y + head),
        ], new Stroke(Colour, pen));
}
