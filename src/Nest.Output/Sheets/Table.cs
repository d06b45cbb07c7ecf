using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>A column of a table on paper.</summary>
internal sealed record Column(string Head, double Width, Align Align = Align.Left, Face Face = Face.Regular);

/// <summary>Plain ruled tables that run over pages; cells wrap.</summary>
internal static class Table
{
    private const double Pad = 1;

    /// <param name="size">Of the type.</param>
    /// <param name="air">Added to each row: room to write with a marker.</param>
    /// <param name="title">Drawn again on each further page of the table.</param>
    /// <returns>Y below the table.</returns>
    public static double Draw(
        SheetPages pages, double top, IReadOnlyList<Column> columns, IReadOnlyList<string[]> rows, double size = Print.Least, double air = 0, string title = "")
    {
        var y = Head(pages, top, columns);
        foreach (var row in rows)
        {
            var lines = row.Select((cell, at) => FontBook.Wrap(cell, columns[at].Face, size, columns[at].Width - (2 * Pad))).ToArray();
            var height = (lines.Max(cell => cell.Count) * size * 1.25) + 2.2 + air;
            if (y + height > pages.Body.Bottom)
            {
                y = pages.Next();
                if (title.Length > 0)
                {
                    pages.Scene.Text(Layer.Page, title, pages.Body.X, y + 4, Print.Head, pages.Body, Face.Bold);
                    y += 5.6;
                }

                y = Head(pages, y, columns);
            }

            var x = pages.Body.X;
            for (var at = 0; at < columns.Count; at++)
            {
                var column = columns[at];
                var cell = new Box(x + Pad, y, column.Width - (2 * Pad), height);
                var anchor = column.Align == Align.Left ? cell.X : column.Align == Align.Right ? cell.Right : cell.CenterX;
                for (var line = 0; line < lines[at].Count; line++)
                {
                    pages.Scene.Text(Layer.Page, lines[at][line], anchor, y + 1.3 + (air / 2) + (FontBook.CapHeight * size) + (line * size * 1.25), size, cell, column.Face, column.Align);
                }

                x += column.Width;
            }

            y += height;
            pages.Scene.Line(Layer.Page, pages.Body.X, y, pages.Body.X + columns.Sum(column => column.Width), y, new Stroke(Tint.Of(0x777777), 0.15));
        }

        return y;
    }

    private static double Head(SheetPages pages, double top, IReadOnlyList<Column> columns)
    {
        if (top + 16 > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        var below = top + HeadRow.Draw(pages.Scene, pages.Body.X, top, columns, Pad);
        pages.Scene.Line(Layer.Page, pages.Body.X, below, pages.Body.X + columns.Sum(column => column.Width), below, new Stroke(PartLook.Ink, 0.4));
        return below;
    }
}
