using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>Heads of columns, on as many lines as they need; the last lines of all heads stand on one line.</summary>
internal static class HeadRow
{
    private const double Size = Print.Least;
    private const double Leading = 1.12;

    /// <returns>Height of the row in millimetres.</returns>
    public static double Draw(SceneBuilder scene, double left, double top, IReadOnlyList<Column> columns, double pad)
    {
        var set = columns.Select(column => FontBook.Wrap(column.Head, Face.Regular, Size, column.Width - (2 * pad))).ToArray();
        var height = 5 + ((set.Max(lines => lines.Count) - 1) * Size * Leading);
        var x = left;
        for (var at = 0; at < columns.Count; at++)
        {
            var column = columns[at];
            var cell = new Box(x + pad, top, column.Width - (2 * pad), height);
            var anchor = column.Align == Align.Left ? cell.X : column.Align == Align.Right ? cell.Right : cell.CenterX;
            for (var line = 0; line < set[at].Count; line++)
            {
                var y = top + height - 1.4 - ((set[at].Count - 1 - line) * Size * Leading);
                scene.Text(Layer.Page, set[at][line], anchor, y, Size, cell, Face.Regular, column.Align, Tint.Of(0x333333));
            }

            x += column.Width;
        }

        return height;
    }
}
