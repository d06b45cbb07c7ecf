using Nest.Core.Geometry;
using Nest.Core.Plans;
using SkiaSharp;

namespace Nest.Tests.Output;

/// <summary>An exchange file as somebody else's reader sees it, in millimetres from the lower left corner, drawn on a bitmap and laid
/// beside the layout. Takes numbers that were read from a file; knows nothing of how they were written.</summary>
internal sealed class DrawingRaster
{
    /// <summary>Pixels a millimetre: the raster is half a millimetre.</summary>
    private const int Dots = 2;

    /// <summary>Pixels around the plate, to see what leaves it.</summary>
    private const int Margin = 8;

    public List<(decimal X1, decimal Y1, decimal X2, decimal Y2)> Blanks { get; } = [];

    public List<(decimal X1, decimal Y1, decimal X2, decimal Y2)> Cuts { get; } = [];

    /// <summary>Everything else that is drawn as lines: the plate, offcuts, what must be kept out of.</summary>
    public List<(decimal X1, decimal Y1, decimal X2, decimal Y2)> Others { get; } = [];

    public void AddRect(string layer, decimal left, decimal bottom, decimal right, decimal top)
    {
        var lines = layer == "BLANKS" ? Outlines : Others;
        lines.AddRange([(left, bottom, right, bottom), (right, bottom, right, top), (right, top, left, top), (left, top, left, bottom)]);
        if (layer == "BLANKS")
        {
            Blanks.Add((left, bottom, right, top));
        }
    }

    private List<(decimal X1, decimal Y1, decimal X2, decimal Y2)> Outlines { get; } = [];

    /// <summary>What differs from the layout, in words; empty when nothing does.</summary>
    public List<string> Differences(Layout layout)
    {
        var findings = new List<string>();
        var sheet = layout.Sheet;
        var (wide, high) = (Pixels(Mm(sheet.SizeX)) + (2 * Margin), Pixels(Mm(sheet.SizeY)) + (2 * Margin));

        // Blanks filled, without half tones: a pixel belongs to what its middle lies in.
        using var filled = Draw(wide, high, canvas =>
        {
            using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = false, Style = SKPaintStyle.Fill };
            foreach (var (x1, y1, x2, y2) in Blanks)
            {
                canvas.DrawRect(SKRect.Create(At(x1), high - At(y2), At(x2) - At(x1), At(y2) - At(y1)), paint);
            }
        });
        using var lines = Draw(wide, high, canvas =>
        {
            using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = false, Style = SKPaintStyle.Stroke, StrokeWidth = 1 };
            foreach (var (x1, y1, x2, y2) in Outlines.Concat(Cuts).Concat(Others))
            {
                canvas.DrawLine(At(x1), high - At(y1), At(x2), high - At(y2), paint);
            }
        });
        using var cuts = Draw(wide, high, canvas =>
        {
            using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = false, Style = SKPaintStyle.Stroke, StrokeWidth = 1 };
            foreach (var (x1, y1, x2, y2) in Cuts)
            {
                canvas.DrawLine(At(x1), high - At(y1), At(x2), high - At(y2), paint);
            }
        });

        var expected = new byte[wide * high];
        foreach (var piece in layout.Pieces)
        {
            Expect(piece.Area, expected, wide, high);
        }

        var wrong = 0;
        var outside = 0;
        var sawn = 0;
        for (var y = 0; y < high; y++)
        {
            // Row by row: a sheet has ten million pixels, and the bitmap is asked for its bytes by a call into another library.
            var own = expected.AsSpan(y * wide, wide);
            var fill = Row(filled, y);
            var line = Row(lines, y);
            var cut = Row(cuts, y);
            for (var x = 0; x < wide; x++)
            {
                var want = own[x];
                wrong += want != Edge && fill[x] < Grey != (want == Inside) ? 1 : 0;
                outside += line[x] < Grey && (x < Margin - 1 || y < Margin - 1 || x > wide - Margin || y > high - Margin) ? 1 : 0;
                sawn += cut[x] < Grey && want == Inside ? 1 : 0;
            }
        }

        Say(wrong, "pixels of pieces differ");
        Say(outside, "pixels of lines lie outside the plate");
        Say(sawn, "pixels of cuts lie in a piece");
        Say(layout.Pieces.Sum(piece => Uncovered(piece.Area, lines, high)), "points of outlines have no line");
        Say(Uncovered(sheet, lines, high), "points of the plate's edge have no line");
        return findings;

        void Say(int count, string what)
        {
            if (count > 0)
            {
                findings.Add($"{count} {what}");
            }
        }
    }

    private const byte Grey = 128;
    private const byte Inside = 1;
    private const byte Edge = 2;

    // Whole numbers: a pixel is inside when its square is, at the edge when the edge goes through the square or touches it.
    private static void Expect(Rect area, byte[] expected, int wide, int high)
    {
        const long Pixel = Core.Quantities.Length.NanometresPerMillimetre / Dots;
        var (left, right, bottom, top) = (area.X.Nanometres, area.Right.Nanometres, area.Y.Nanometres, area.Top.Nanometres);
        for (var row = (bottom / Pixel) - 1; row <= top / Pixel; row++)
        {
            for (var column = (left / Pixel) - 1; column <= right / Pixel; column++)
            {
                var (x1, y1, x2, y2) = (column * Pixel, row * Pixel, (column + 1) * Pixel, (row + 1) * Pixel);
                if (x2 < left || x1 > right || y2 < bottom || y1 > top)
                {
                    continue;
                }

                var at = ((high - 1 - Margin - (int)row) * wide) + Margin + (int)column;
                var inside = x1 > left && x2 < right && y1 > bottom && y2 < top;
                expected[at] = inside ? Inside : expected[at] == Inside ? Inside : Edge;
            }
        }
    }

    // Points along the outline, a pixel apart: each has a dark pixel at most one pixel away.
    private static int Uncovered(Rect area, SKBitmap lines, int high)
    {
        var missing = 0;
        var (left, right, bottom, top) = (At(Mm(area.X)), At(Mm(area.Right)), high - At(Mm(area.Y)), high - At(Mm(area.Top)));
        for (var x = left; x <= right; x++)
        {
            missing += Near(x, bottom) ? 0 : 1;
            missing += Near(x, top) ? 0 : 1;
        }

        for (var y = top; y <= bottom; y++)
        {
            missing += Near(left, y) ? 0 : 1;
            missing += Near(right, y) ? 0 : 1;
        }

        return missing;

        bool Near(float x, float y)
        {
            for (var row = (int)y - 1; row <= (int)y + 1; row++)
            {
                for (var column = (int)x - 1; column <= (int)x + 1; column++)
                {
                    if (Dark(lines, column, row))
                    {
                        return true;
                    }
                }
            }

            return false;
        }
    }

    private static SKBitmap Draw(int wide, int high, Action<SKCanvas> draw)
    {
        var bitmap = new SKBitmap(new SKImageInfo(wide, high, SKColorType.Gray8, SKAlphaType.Opaque));
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(SKColors.White);
        draw(canvas);
        return bitmap;
    }

    private static bool Dark(SKBitmap bitmap, int x, int y) => Row(bitmap, y)[x] < Grey;

    private static ReadOnlySpan<byte> Row(SKBitmap bitmap, int y) => bitmap.GetPixelSpan().Slice(y * bitmap.RowBytes, bitmap.Width);

    private static float At(decimal millimetres) => (float)(millimetres * Dots) + Margin;

    private static int Pixels(decimal millimetres) => (int)decimal.Ceiling(millimetres * Dots);

    private static decimal Mm(Core.Quantities.Length length) => length.ToMillimetres();
}
