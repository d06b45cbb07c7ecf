using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>Heads of columns in small print: on two lines, then smaller, before a word is cut off; a translation may be longer.</summary>
internal static class HeadRow
{
    /// <summary>Height with heads of one line.</summary>
    public const double Height = 4.4;

    private const double Largest = 2.4;
    private const double Smallest = 1.5;
    private const double Leading = 1.15;

    /// <returns>Height of the row in millimetres.</returns>
    public static double Draw(SceneBuilder scene, double left, double top, IReadOnlyList<Column> columns, double pad)
    {
        var set = columns.Select(column => Lines(column.Head, column.Width - (2 * pad))).ToArray();
        var height = Height + ((set.Max(head => head.Lines.Count) - 1) * Largest * Leading);
        var x = left;
        for (var at = 0; at < columns.Count; at++)
        {
            var column = columns[at];
            var cell = new Box(x + pad, top, column.Width - (2 * pad), height);
            var anchor = column.Align == Align.Left ? cell.X : column.Align == Align.Right ? cell.Right : cell.CenterX;
            var (lines, size) = set[at];
            for (var line = 0; line < lines.Count; line++)
            {
                // The last lines of all heads stand on one line.
                var y = top + height - 1.4 - ((lines.Count - 1 - line) * size * Leading);
                scene.Text(Layer.Page, lines[line], anchor, y, size, cell, Face.Regular, column.Align, Tint.Of(0x444444));
            }

            x += column.Width;
        }

        return height;
    }

    private static (IReadOnlyList<string> Lines, double Size) Lines(string head, double width)
    {
        if (head.Length == 0)
        {
            return ([""], Largest);
        }

        for (var size = Largest; size >= Smallest - 1e-9; size -= 0.1)
        {
            var lines = FontBook.Wrap(head, Face.Regular, size, width);
            if (lines.Count <= 2 && string.Join(' ', lines) == head)
            {
                return (lines, size);
            }
        }

        return ([head], Smallest);
    }
}
