using Nest.Output.Draw;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using QRCoder;

namespace Nest.Output.Rack;

/// <summary>Labels for pieces: the mark as a QR code and in letters to be read at arm's length, a bar under it that says which way up,
/// material, size and what else has room.</summary>
/// <remarks>At arm's length (0.7 m) a letter should be 1/200 of the distance high, 3.5 mm (common practice, no source): the mark is at
/// least that, size and material where the label is high enough. QR code: ISO/IEC 18004, error correction M (15 %), quiet zone of four
/// modules.</remarks>
public static class LabelPages
{
    /// <summary>Capital height of text read at arm's length.</summary>
    public const double ArmsLength = 3.5;

    // Smallest capital height of anything on a label, millimetres.
    private const double Least = 1.6;

    /// <summary>All labels as a PDF in true size.</summary>
    /// <param name="skip">Labels of the first sheet that are gone already.</param>
    public static byte[] Pdf(IReadOnlyList<LabelContent> labels, LabelSheet sheet, int skip, DateOnly? date) =>
        PdfFile.Bytes(Scenes(labels, sheet, skip), "Labels", date);

    /// <summary>One label as a PNG.</summary>
    public static byte[] Png(LabelContent label, double width, double height) =>
        PngFile.Bytes(Scenes([label], LabelSheet.OneLabel(width, height), 0)[0]);

    internal static IReadOnlyList<Scene> Scenes(IReadOnlyList<LabelContent> labels, LabelSheet sheet, int skip)
    {
        if (sheet.Problem() is { } problem)
        {
            throw new ArgumentException(problem, nameof(sheet));
        }

        ArgumentOutOfRangeException.ThrowIfNegative(skip);
        var pages = new List<Scene>();
        SceneBuilder? page = null;
        for (var i = 0; i < labels.Count; i++)
        {
            var at = (skip + i) % sheet.PerPage;
            if (page is null || at == 0)
            {
                Close();
                page = new SceneBuilder(FormattableString.Invariant($"labels {pages.Count + 1}"), sheet.PageWidth, sheet.PageHeight);
            }

            Draw(page, labels[i], new Box(
                sheet.Left + (at % sheet.Columns * sheet.PitchX), sheet.Top + (at / sheet.Columns * sheet.PitchY), sheet.Width, sheet.Height));
        }

        Close();
        return pages;

        void Close()
        {
            if (page is not null)
            {
                pages.Add(page.Build());
            }
        }
    }

    private static void Draw(SceneBuilder scene, LabelContent label, Box whole)
    {
        // Printers and sheets are never quite true: a fourteenth of the height, at least 1.5 mm, stays free all round.
        var box = whole.Shrink(Math.Max(1.5, whole.Height / 14));

        // The mark at arm's length comes first, the code takes what is left.
        var needed = FontBook.Width(label.Mark, Face.Bold, ArmsLength / FontBook.CapHeight) + 0.1;
        var code = Math.Min(Math.Min(box.Height, box.Width * 0.42), box.Width - 1.2 - needed);
        DrawCode(scene, label.Mark, new Box(box.X, box.CenterY - (code / 2), code, code));

        var text = Box.FromEdges(box.X + code + 1.2, box.Y, box.Right, box.Bottom);
        var markCap = Math.Max(ArmsLength, Math.Min(text.Height * 0.36, text.Width * 0.9 * FontBook.CapHeight / FontBook.Width(label.Mark, Face.Bold, 1)));
        var y = text.Y + markCap;
        var mark = scene.Text(Layer.Label, label.Mark, text.X, y, markCap / FontBook.CapHeight, text, Face.Bold);

        // No mark reads the same upside down, and the bar says which way up all the same.
        var bar = Math.Max(0.5, markCap / 10);
        scene.Box(Layer.Label, new Box(text.X, y + (bar * 1.4), Math.Max(mark.Width, 1), bar), Tint.Black);
        y += bar * 2.6;

        var left = text.Bottom - y;
        var cap = Math.Min(ArmsLength, left / (2 * 1.45));
        var sizes = SizeLines(label.Size, cap, text.Width);
        var large = sizes.Count + 1;
        if (large > 2)
        {
            cap = Math.Min(cap, left / (large * 1.45));
        }

        string[] lines = [.. sizes, label.Material, .. label.Details.Where(detail => detail.Length > 0)];
        for (var i = 0; i < lines.Length; i++)
        {
            // Size and material are read at arm's length, the rest close by.
            var height = i < large ? cap : Math.Min(cap, 2.0);
            var size = height / FontBook.CapHeight;
            var face = i < sizes.Count ? Face.Bold : Face.Regular;
            var wide = FontBook.Width(lines[i], face, size);
            size = wide > text.Width ? Math.Max(size * text.Width / wide * 0.999, Least / FontBook.CapHeight) : size;
            y += (size * FontBook.CapHeight) + (0.35 * height);
            if (y + (0.05 * height) > text.Bottom + 1e-6)
            {
                break;
            }

            scene.Text(Layer.Label, lines[i], text.X, y, size, text, face);
        }
    }

    /// <summary>The size in one line, or in two where it would be smaller than two thirds of the height: a size that is cut off is no
    /// size.</summary>
    private static IReadOnlyList<string> SizeLines(string size, double cap, double width)
    {
        var wide = FontBook.Width(size, Face.Bold, cap / FontBook.CapHeight);
        var last = size.LastIndexOf(" × ", StringComparison.Ordinal);
        return last < 0 || width / wide >= 2 / 3.0 && cap * width / wide >= Least ? [size] : [size[..last], size[(last + 1)..]];
    }

    private static void DrawCode(SceneBuilder scene, string text, Box box)
    {
        using var generator = new QRCodeGenerator();
        using var data = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var modules = data.ModuleMatrix;
        var step = box.Width / modules.Count;
        for (var row = 0; row < modules.Count; row++)
        {
            for (var column = 0; column < modules.Count; column++)
            {
                var from = column;
                while (column < modules.Count && modules[row][column])
                {
                    column++;
                }

                // Runs of dark modules as one box, a hair higher than a module, so that no light line shows between rows.
                if (column > from)
                {
                    scene.Box(Layer.Label, new Box(box.X + (from * step), box.Y + (row * step), (column - from) * step, step * 1.01), Tint.Black);
                }
            }
        }
    }
}
