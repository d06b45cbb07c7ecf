using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Sets the label of a rectangle: as much as is readable, never over its border.</summary>
internal static class PieceLabel
{
    /// <summary>Smallest text on a piece.</summary>
    public const double Smallest = Print.Least;

    private const double Leading = 1.28;

    /// <summary>Tries the choices from the richest to the plainest, each lying, then standing, from large to small.</summary>
    /// <param name="choices">Lines of each choice; the first line is bold.</param>
    /// <param name="ground">Drawn below the label when one is set.</param>
    /// <returns>Index of the choice that was set, −1 when none fits.</returns>
    public static int Set(SceneBuilder scene, Layer layer, Box box, IReadOnlyList<string[]> choices, double largest = 4.2, Tint? tint = null, BoxElement? ground = null)
    {
        var room = box.Shrink(Math.Clamp(Math.Min(box.Width, box.Height) * 0.05, 0.5, 1.2));
        for (var index = 0; index < choices.Count; index++)
        {
            var lines = choices[index];
            var ems = lines.Select((line, at) => FontBook.Width(line, FaceOf(lines, at), 1)).Max();
            foreach (var standing in new[] { false, true })
            {
                for (var size = largest; size >= Smallest - 1e-9; size -= 0.2)
                {
                    var height = ((lines.Length - 1) * Leading * size) + ((FontBook.CapHeight + FontBook.Descent) * size);
                    var width = ems * size;
                    var (across, down) = standing ? (height, width) : (width, height);
                    if (across <= room.Width && down <= room.Height && Place(scene, layer, room, lines, size, width, height, standing, tint, ground))
                    {
                        return index;
                    }
                }
            }
        }

        return -1;
    }

    /// <summary>What can be written on a piece, from the whole name down to its number: the name on one line, on two or three,
    /// shortened, left out.</summary>
    public static List<string[]> Choices(string number, string name, string size, Box box)
    {
        var clean = number + "  " + FontBook.Clean(name);
        var choices = new List<string[]> { new[] { clean, size } };
        var room = Math.Max(box.Width, box.Height) - 2.4;
        var wrapped = FontBook.Wrap(clean, Face.Bold, 3.4, room);
        // Words are not torn apart; Chinese breaks anywhere.
        if (wrapped.Count is 2 or 3 && (string.Join(' ', wrapped) == $"{number} {string.Join(' ', FontBook.Clean(name).Split(' ', StringSplitOptions.RemoveEmptyEntries))}" || clean.Any(c => c >= '\u2E80')))
        {
            choices.Add([.. wrapped, size]);
        }

        if (FontBook.Shorten(clean, Face.Bold, Smallest, room) is { Length: > 9 } shorter && shorter != clean)
        {
            choices.Add([shorter, size]);
        }

        choices.Add([number, size]);
        choices.Add([number]);
        return choices;
    }

    private static bool Place(
        SceneBuilder scene, Layer layer, Box room, string[] lines, double size, double width, double height, bool standing, Tint? tint, BoxElement? ground)
    {
        var (w, h) = standing ? (height, width) : (width, height);
        var block = new Box(room.CenterX - (w / 2), room.CenterY - (h / 2), w, h);
        if (!scene.IsFree(block))
        {
            return false;
        }

        if (ground is not null)
        {
            scene.Add(ground);
        }

        for (var at = 0; at < lines.Length; at++)
        {
            var face = FaceOf(lines, at);
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

    // Names are bold, the size under them is not; a number alone is bold.
    private static Face FaceOf(string[] lines, int at) => at == 0 || at < lines.Length - 1 ? Face.Bold : Face.Regular;
}
