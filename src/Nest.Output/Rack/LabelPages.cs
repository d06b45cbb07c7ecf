using Nest.Output.Draw;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

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

    /// <summary>Marks of the labels that are too small for their heat number.</summary>
    public static IReadOnlyList<string> WithoutHeat(IEnumerable<LabelContent> labels, LabelSheet sheet) =>
        [.. labels.Where(label => Parts(label, new(0, 0, sheet.Width, sheet.Height)).Lines.LacksHeat).Select(label => label.Mark)];

    private static void Draw(SceneBuilder scene, LabelContent label, Box whole)
    {
        var (code, text, markCap, lines) = Parts(label, whole);
        CodeScene.Draw(scene, Layer.Label, label.Address ?? label.Mark, code);
        var y = text.Y + markCap;
        var mark = scene.Text(Layer.Label, label.Mark, text.X, y, markCap / FontBook.CapHeight, text, Face.Bold);

        // No mark reads the same upside down, and the bar says which way up all the same.
        var bar = Bar(markCap);
        scene.Box(Layer.Label, new Box(text.X, y + (bar * 1.4), Math.Max(mark.Width, 1), bar), Tint.Black);
        y += bar * UnderMark;
        foreach (var line in lines.Lines)
        {
            y += line.Step;
            scene.Text(Layer.Label, line.Text, text.X, y, line.Cap / FontBook.CapHeight, text, line.Face);
        }
    }

    private const double UnderMark = 2.6;

    private static double Bar(double markCap) => Math.Max(0.5, markCap / 10);

    /// <summary>Where everything goes: code left and text right, or on a label that is as high as wide the code above the text.</summary>
    private static (Box Code, Box Text, double MarkCap, LabelLines Lines) Parts(LabelContent label, Box whole)
    {
        // Printers and sheets are never quite true: a fourteenth of the height, from 1.5 to 4 mm, stays free all round.
        var box = whole.Shrink(Math.Clamp(whole.Height / 14, 1.5, 4));
        var upright = box.Height >= box.Width * 0.9;

        // The mark at arm's length comes first, the code takes what is left.
        var needed = FontBook.Width(label.Mark, Face.Bold, ArmsLength / FontBook.CapHeight) + 0.1;
        var side = upright ? Math.Min(box.Width, box.Height * 0.45) : Math.Min(Math.Min(box.Height, box.Width * 0.42), box.Width - 1.2 - needed);
        var code = upright ? new Box(box.CenterX - (side / 2), box.Y, side, side) : new Box(box.X, box.CenterY - (side / 2), side, side);
        var text = upright
            ? Box.FromEdges(box.X, code.Bottom + 1.2, box.Right, box.Bottom)
            : Box.FromEdges(box.X + side + 1.2, box.Y, box.Right, box.Bottom);

        var widest = Math.Min(text.Height * 0.36, text.Width * 0.9 * FontBook.CapHeight / FontBook.Width(label.Mark, Face.Bold, 1));
        var markCap = Math.Max(ArmsLength, widest);
        var lines = Lines(markCap);
        if (!lines.IsWhole)
        {
            // The mark gives way first, as far as it can still be read at arm's length.
            markCap = ArmsLength;
            lines = Lines(markCap);
        }

        return (code, text, markCap, lines);

        LabelLines Lines(double cap)
        {
            var height = text.Height - cap - (Bar(cap) * UnderMark);
            return LabelLines.For(label, text.Width, height, Math.Min(Math.Max(ArmsLength, text.Height / 11), height / (2 * 1.45)));
        }
    }
}
