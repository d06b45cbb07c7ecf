using Nest.Output.Draw;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Rack;

/// <summary>Mark, size and material of a piece on the picture of the rack: in it where all of it has room, else under it.</summary>
internal static class PictureText
{
    private const double TextSize = 2.6;
    private const double Small = TextSize * 0.8;
    private const double Inset = 0.6;
    private const double Apart = 1.5;

    /// <summary>Whether a box of this size on paper (millimetres) holds the whole text.</summary>
    public static bool Holds(PictureItem item, double width, double height) =>
        width >= FontBook.Width(item.Mark, Face.Bold, TextSize) + 2 && Lines(item, width - (2 * Inset) - 0.4) is { } lines
            && height >= (2 * Inset) + (TextSize * (1.2 + lines.Count));

    /// <summary>Width that the text needs.</summary>
    public static double Width(PictureItem item, bool inside) => inside
        ? FontBook.Width(item.Mark, Face.Bold, TextSize) + 1
        : new[] { FontBook.Width(item.Mark, Face.Bold, TextSize), FontBook.Width(item.SizeText, Face.Regular, Small), FontBook.Width(item.Material, Face.Regular, Small) }.Max() + 1;

    /// <summary>Height of the text under a piece so wide on paper.</summary>
    public static double Below(PictureItem item, double width) => InOneLine(item, width) ? TextSize + 0.8 : (TextSize * 3) + 0.8;

    /// <param name="box">The piece.</param>
    public static void Draw(SceneBuilder scene, PictureItem item, Box box, bool inside)
    {
        if (inside)
        {
            var inner = box.Shrink(Inset);
            Line(item.Mark, inner.X + 0.4, inner.Y + (TextSize * 0.85), TextSize, Face.Bold, inner);
            var lines = Lines(item, inner.Width - 0.4) ?? [];
            for (var i = 0; i < lines.Count; i++)
            {
                Line(lines[i], inner.X + 0.4, inner.Y + (TextSize * (1.95 + i)), Small, Face.Regular, inner);
            }

            return;
        }

        var below = new Box(box.X, box.Bottom, Math.Max(box.Width, Width(item, inside)), Below(item, box.Width));
        var mark = scene.Text(Layer.Label, item.Mark, box.X, box.Bottom + TextSize, TextSize, below, Face.Bold);
        if (InOneLine(item, box.Width))
        {
            scene.Text(Layer.Label, $"{item.SizeText} {item.Material}", mark.Right + Apart, box.Bottom + TextSize, Small, below);
            return;
        }

        scene.Text(Layer.Label, item.SizeText, box.X, box.Bottom + (TextSize * 2), Small, below);
        scene.Text(Layer.Label, item.Material, box.X, box.Bottom + (TextSize * 3), Small, below);

        // What is hatched or damaged must not run through the letters.
        void Line(string text, double x, double y, double size, Face face, Box within)
        {
            if (item.Reserved || item.KeepOuts.Count > 0)
            {
                scene.Box(Layer.Label, new Box(x - 0.3, y - (size * 0.8), FontBook.Width(text, face, size) + 0.6, size), Tint.White);
            }

            scene.Text(Layer.Label, text, x, y, size, within, face);
        }
    }

    private static bool InOneLine(PictureItem item, double width) =>
        FontBook.Width(item.Mark, Face.Bold, TextSize) + Apart + FontBook.Width($"{item.SizeText} {item.Material}", Face.Regular, Small) <= width;

    /// <summary>Size and material in as many lines as it takes; null where a number would be torn.</summary>
    private static IReadOnlyList<string>? Lines(PictureItem item, double width)
    {
        // A wrapped line may begin with the sign, but no number may be torn.
        var text = $"{item.SizeText} {item.Material}";
        var lines = FontBook.Wrap(text, Face.Regular, Small, Math.Max(width, 1));
        return string.Join(' ', lines) == FontBook.Clean(text) && lines.All(line => FontBook.Width(line, Face.Regular, Small) <= width + 1e-6) ? lines : null;
    }
}
