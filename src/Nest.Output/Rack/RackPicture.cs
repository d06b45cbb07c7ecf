using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output.Draw;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Rack;

/// <summary>A piece on the picture of the rack.</summary>
/// <param name="Reserved">Taken by a plan: drawn hatched.</param>
public sealed record PictureItem(
    string Mark, string Place, string Material, Form Form, Length Length, Length Width, string SizeText, IReadOnlyList<Rect> KeepOuts, bool Reserved);

/// <summary>The rack to scale: all pieces in plan view, place by place, at one scale on all pages.</summary>
/// <remarks>Pieces of a place are put in rows from large to small, as on shelves; heuristic, only a picture. The scale is the largest
/// round one (1:1, 1:2, 1:5, 1:10 …) at which the longest piece fits the page and a page holds a fair number of pieces.</remarks>
public static class RackPicture
{
    private const double PageWidth = 297;
    private const double PageHeight = 210;
    private const double Margin = 10;
    private const double Gap = 2.5;
    private const double HeadSize = 5;

    private static readonly int[] Scales = [1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000];

    /// <summary>All pieces to scale, as a PDF file.</summary>
    public static byte[] Pdf(IReadOnlyList<PictureItem> items, string title, DateOnly? date, LengthUnit unit = LengthUnit.Millimetre) =>
        PdfFile.Bytes(Scenes(items, title, unit), title, date);

    /// <summary>The pages as PNGs.</summary>
    public static IReadOnlyList<byte[]> Pngs(IReadOnlyList<PictureItem> items, string title, LengthUnit unit = LengthUnit.Millimetre) =>
        [.. Scenes(items, title, unit).Select(PngFile.Bytes)];

    internal static IReadOnlyList<Scene> Scenes(IReadOnlyList<PictureItem> items, string title, LengthUnit unit = LengthUnit.Millimetre)
    {
        var scale = ScaleFor(items);
        var pages = new List<Scene>();
        var scene = NewPage();
        var y = Top();
        foreach (var place in items.GroupBy(item => item.Place, StringComparer.OrdinalIgnoreCase).OrderBy(group => group.Key, StringComparer.OrdinalIgnoreCase))
        {
            var sorted = place.OrderByDescending(item => item.Width).ThenByDescending(item => item.Length).ThenBy(item => item.Mark, StringComparer.Ordinal).ToList();
            if (y + HeadSize + 2 + Height(sorted[0]) > Bottom())
            {
                Turn();
            }

            Head(place.Key, continued: false);
            var x = Margin;
            var rowHeight = 0.0;
            foreach (var item in sorted)
            {
                if (x > Margin && x + Wide(item) > PageWidth - Margin)
                {
                    x = Margin;
                    y += rowHeight + Gap;
                    rowHeight = 0;
                }

                if (y + Height(item) > Bottom())
                {
                    Turn();
                    Head(place.Key, continued: true);
                    x = Margin;
                    rowHeight = 0;
                }

                Draw(scene, item, x, y, scale);
                x += Wide(item) + Gap;
                rowHeight = Math.Max(rowHeight, Height(item));
            }

            y += rowHeight + 4;
        }

        if (items.Count == 0)
        {
            scene.Text(Layer.Label, "The rack is empty.", Margin, y + 5, 5, scene.Area);
        }

        pages.Add(scene.Build());
        return pages;

        double Wide(PictureItem item) => Math.Max(OnPaper(item.Length, scale), PictureText.Width(item, Holds(item, scale)));

        double Height(PictureItem item) => Drawn(item.Width, scale) + (Holds(item, scale) ? 0 : PictureText.Below(item, OnPaper(item.Length, scale)));

        double Top() => Margin + 12;

        double Bottom() => PageHeight - Margin - 6;

        SceneBuilder NewPage()
        {
            var page = new SceneBuilder(FormattableString.Invariant($"rack {pages.Count + 1}"), PageWidth, PageHeight);
            page.Text(Layer.Page, title, Margin, Margin + 5, 6, page.Area, Face.Bold);
            page.Text(Layer.Page, FormattableString.Invariant($"scale 1:{scale}    page {pages.Count + 1}    hatched: reserved for a plan    red: damaged"), PageWidth - Margin, Margin + 5, 3.5, page.Area, align: Align.Right);
            ScaleBar(page, scale, unit);
            return page;
        }

        void Turn()
        {
            pages.Add(scene.Build());
            scene = NewPage();
            y = Top();
        }

        void Head(string place, bool continued)
        {
            var name = place.Length == 0 ? "no place" : place;
            scene.Text(Layer.Key, continued ? name + " (continued)" : name, Margin, y + 4, HeadSize, scene.Area, Face.Bold);
            y += HeadSize + 2;
        }
    }

    private static double OnPaper(Length length, int scale) => (double)length.ToMillimetres() / scale;

    private static double Drawn(Length length, int scale) => Math.Max(OnPaper(length, scale), 0.6);

    private static bool Holds(PictureItem item, int scale) => PictureText.Holds(item, OnPaper(item.Length, scale), OnPaper(item.Width, scale));

    private static void Draw(SceneBuilder scene, PictureItem item, double x, double y, int scale)
    {
        var box = new Box(x, y, Drawn(item.Length, scale), Drawn(item.Width, scale));
        scene.Box(Layer.Piece, box, item.Form.IsBar() ? Tint.Of(0xD8E2EA) : Tint.Of(0xF4EAD2), new Stroke(PartLook.Ink, 0.25));
        if (item.Reserved)
        {
            scene.Lines(Layer.Piece, Hatch.Diagonal(box.Shrink(0.15), 2), new Stroke(PartLook.Keep, 0.25));
        }

        foreach (var keepOut in item.KeepOuts)
        {
            // Y of the piece grows upwards, of the paper downwards.
            scene.Box(Layer.KeepOut, new Box(
                x + ((double)keepOut.X.ToMillimetres() / scale), box.Bottom - ((double)keepOut.Top.ToMillimetres() / scale),
                (double)keepOut.SizeX.ToMillimetres() / scale, (double)keepOut.SizeY.ToMillimetres() / scale), Tint.Of(0xF3CFC6), new Stroke(PartLook.KeepOut, 0.2));
        }

        PictureText.Draw(scene, item, box, Holds(item, scale));
    }

    private static void ScaleBar(SceneBuilder page, int scale, LengthUnit unit)
    {
        // 20 mm on paper; in inches the longest round number that is not much longer.
        const double PerInch = 25.4;
        var inches = Scales.LastOrDefault(round => round * PerInch / scale <= 26, 1);
        var (wide, text) = unit == LengthUnit.Inch
            ? (inches * PerInch / scale, FormattableString.Invariant($"{inches} in"))
            : (20.0, FormattableString.Invariant($"{scale * 20} mm"));
        var y = PageHeight - Margin;
        page.Line(Layer.Ruler, Margin, y, Margin + wide, y, new Stroke(Tint.Black, 0.5));
        page.Line(Layer.Ruler, Margin, y - 1.2, Margin, y + 1.2, new Stroke(Tint.Black, 0.3));
        page.Line(Layer.Ruler, Margin + wide, y - 1.2, Margin + wide, y + 1.2, new Stroke(Tint.Black, 0.3));
        page.Text(Layer.Ruler, text, Margin + wide + 2, y + 1, 3, page.Area);
    }

    private static int ScaleFor(IReadOnlyList<PictureItem> items)
    {
        if (items.Count == 0)
        {
            return 10;
        }

        var longest = items.Max(item => (double)item.Length.ToMillimetres());
        var widest = items.Max(item => (double)item.Width.ToMillimetres());
        var area = items.Sum(item => (double)item.Length.ToMillimetres() * (double)item.Width.ToMillimetres());

        // Up to four pages where that leaves the pieces large enough to tell apart (1:20), as few as needed beyond.
        const double Paper = (PageWidth - (2 * Margin)) * (PageHeight - 40) * 0.5;
        return Scales.FirstOrDefault(
            scale => longest / scale <= PageWidth - (2 * Margin) && widest / scale <= PageHeight - 50
                && (area / ((double)scale * scale) <= 4 * Paper || scale >= 20),
            Scales[^1]);
    }
}
