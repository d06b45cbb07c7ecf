using Nest.Output.Scenes;
using SkiaSharp;

namespace Nest.Output.Draw;

/// <summary>A scene as PNG.</summary>
internal static class PngFile
{
    /// <summary>Dots per millimetre: 200 dots per inch.</summary>
    private const double Dots = 200 / 25.4;

    public static byte[] Bytes(Scene scene)
    {
        var info = new SKImageInfo((int)Math.Round(scene.Width * Dots), (int)Math.Round(scene.Height * Dots), SKColorType.Rgba8888, SKAlphaType.Opaque);
        using var surface = SKSurface.Create(info) ?? throw new InvalidOperationException("The picture is too large to draw.");
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale((float)Dots);
        SkiaPainter.Paint(surface.Canvas, scene);
        using var image = surface.Snapshot();
        using var pixels = image.PeekPixels();
        using var data = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.Up, 3));
        return data!.ToArray();
    }
}
