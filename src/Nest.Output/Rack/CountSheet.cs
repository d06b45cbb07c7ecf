using Nest.Output.Draw;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Rack;

/// <summary>A row of a count sheet.</summary>
public sealed record CountSheetRow(string Place, string Mark, string Form, string Material, string Size);

/// <summary>The sheet that is carried along the rack in a stock-take: one row for each piece, place by place, with a box to tick and room
/// to write another place.</summary>
public static class CountSheet
{
    private const double PageWidth = 210;
    private const double PageHeight = 297;
    private const double Margin = 12;
    private const double RowHeight = 8;
    private const double Text = 3.6;

    private static readonly (string Head, double X, double Width)[] Columns =
    [
        ("place", 12, 38), ("mark", 50, 22), ("found", 72, 14), ("form", 86, 20), ("material", 106, 26), ("size", 132, 40), ("elsewhere", 172, 26),
    ];

    /// <summary>The sheets as a PDF file.</summary>
    public static byte[] Pdf(IReadOnlyList<CountSheetRow> rows, string title, DateOnly? date) => PdfFile.Bytes(Scenes(rows, title), title, date);

    internal static IReadOnlyList<Scene> Scenes(IReadOnlyList<CountSheetRow> rows, string title)
    {
        const double First = Margin + 20;
        const int PerPage = (int)((PageHeight - First - Margin - 14) / RowHeight);
        var count = Math.Max(1, (rows.Count + PerPage - 1) / PerPage);
        var pages = new List<Scene>();
        for (var page = 0; page < count; page++)
        {
            var scene = new SceneBuilder(FormattableString.Invariant($"count {page + 1}"), PageWidth, PageHeight);
            scene.Text(Layer.Page, title, Margin, Margin + 5, 6, scene.Area, Face.Bold);
            scene.Text(Layer.Page, FormattableString.Invariant($"page {page + 1} of {count}"), PageWidth - Margin, Margin + 5, Text, scene.Area, align: Align.Right);
            foreach (var (head, x, width) in Columns)
            {
                scene.Text(Layer.Page, head, x, First - 3, Text, new Box(x, First - 8, width, 8), Face.Bold);
            }

            var y = First;
            foreach (var row in rows.Skip(page * PerPage).Take(PerPage))
            {
                scene.Line(Layer.Page, Margin, y, PageWidth - Margin, y, new Stroke(Tint.Of(0x8C8C8C), 0.15));
                string[] cells = [row.Place, row.Mark, "", row.Form, row.Material, row.Size, ""];
                for (var i = 0; i < cells.Length; i++)
                {
                    var (_, x, width) = Columns[i];
                    var cell = new Box(x, y, width - 1, RowHeight);
                    if (i != 1 && FontBook.Width(cells[i], Face.Regular, Text) > cell.Width)
                    {
                        // Long names of places and materials in two lines.
                        var lines = FontBook.Wrap(cells[i], Face.Regular, Text * 0.8, cell.Width);
                        scene.Text(Layer.Label, lines[0], x, y + 3.4, Text * 0.8, cell);
                        scene.Text(Layer.Label, string.Join(' ', lines.Skip(1)), x, y + 6.8, Text * 0.8, cell);
                        continue;
                    }

                    scene.Text(Layer.Label, cells[i], x, y + 5.4, i == 1 ? Text * 1.3 : Text, cell, i == 1 ? Face.Bold : Face.Regular);
                }

                scene.Box(Layer.Page, new Box(Columns[2].X + 2, y + 1.6, 5, 5), null, new Stroke(Tint.Black, 0.35));
                y += RowHeight;
            }

            scene.Line(Layer.Page, Margin, y, PageWidth - Margin, y, new Stroke(Tint.Of(0x8C8C8C), 0.15));
            scene.Text(Layer.Page, "Found without a row here (write the mark):", Margin, PageHeight - Margin - 6, Text, scene.Area);
            scene.Text(Layer.Page, "Counted by, on:", PageWidth - Margin - 60, PageHeight - Margin - 6, Text, scene.Area);
            pages.Add(scene.Build());
        }

        return pages;
    }
}
