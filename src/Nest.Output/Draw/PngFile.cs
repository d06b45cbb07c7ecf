using Nest.Output.Scenes;
using SkiaSharp;

namespace Nest.Output.Draw;

/// <summary>A scene as PNG, with its size on paper.</summary>
/// <remarks>Encoded by the library, with the fastest compression: a picture of ours is flat colours, in which it finds nearly all that there is to find.
/// The library writes no size on paper, and without it a picture that is put into a letter is as large as the program likes, though its
/// title block names a scale; so that one chunk is added. O(pixels).</remarks>
internal static class PngFile
{
    /// <summary>Dots per millimetre: 200 dots per inch.</summary>
    private const double Dots = 200 / 25.4;

    // The difference to the row above: of our pictures most rows are the row above again. Of the filters the quickest by far.
    private static readonly SKPngEncoderOptions Fast = new(SKPngEncoderFilterFlags.Up, 1);

    // The file's first chunk, of 25 bytes, stands behind a signature of 8.
    private const int BehindHead = 8 + 25;

    // Length 9, "pHYs", 7 874 dots a metre both ways, unit metre, and the chunk's check sum (W3C recommendation, third edition, 11.3.4.3).
    private static ReadOnlySpan<byte> SizeOnPaper =>
        [0, 0, 0, 9, (byte)'p', (byte)'H', (byte)'Y', (byte)'s', 0, 0, 0x1E, 0xC2, 0, 0, 0x1E, 0xC2, 1, 0x6E, 0xD0, 0x75, 0x3E];

    public static byte[] Bytes(Scene scene)
    {
        var info = new SKImageInfo((int)Math.Round(scene.Width * Dots), (int)Math.Round(scene.Height * Dots), SKColorType.Rgba8888, SKAlphaType.Opaque);
        using var surface = SKSurface.Create(info) ?? throw new InvalidOperationException("The picture is too large to draw.");
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale((float)Dots);
        SkiaPainter.Paint(surface.Canvas, scene);
        using var pixels = surface.PeekPixels();
        using var png = pixels.Encode(Fast) ?? throw new InvalidOperationException("The picture cannot be packed.");
        var bytes = png.AsSpan();
        return [.. bytes[..BehindHead], .. SizeOnPaper, .. bytes[BehindHead..]];
    }
}
