using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using Nest.Output.Scenes;
using SkiaSharp;

namespace Nest.Output.Draw;

/// <summary>A scene as PNG (W3C recommendation, third edition): 8 bits of red, green, blue and alpha, with its size on paper.</summary>
/// <remarks>The library's encoder takes twice as long as the drawing itself. A picture of ours is flat colours, in which the fastest compression
/// finds nearly all that there is to find, and a fifth of its rows are the row above again. O(pixels).</remarks>
internal static class PngFile
{
    /// <summary>Dots per millimetre: 200 dots per inch.</summary>
    private const double Dots = 200 / 25.4;

    // Filter types of a row: as it is; the difference to the row above.
    private const byte AsItIs = 0;
    private const byte Up = 2;

    public static byte[] Bytes(Scene scene)
    {
        var info = new SKImageInfo((int)Math.Round(scene.Width * Dots), (int)Math.Round(scene.Height * Dots), SKColorType.Rgba8888, SKAlphaType.Opaque);
        using var surface = SKSurface.Create(info) ?? throw new InvalidOperationException("The picture is too large to draw.");
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale((float)Dots);
        SkiaPainter.Paint(surface.Canvas, scene);
        using var image = surface.Snapshot();
        using var pixels = image.PeekPixels();
        var png = new MemoryStream();
        png.Write([0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A]);
        var head = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(head, info.Width);
        BinaryPrimitives.WriteInt32BigEndian(head.AsSpan(4), info.Height);
        (head[8], head[9]) = (8, 6);
        Chunk(png, "IHDR", head);
        var size = new byte[9];
        BinaryPrimitives.WriteInt32BigEndian(size, (int)Math.Round(Dots * 1000));
        BinaryPrimitives.WriteInt32BigEndian(size.AsSpan(4), (int)Math.Round(Dots * 1000));
        size[8] = 1;
        Chunk(png, "pHYs", size);
        Chunk(png, "IDAT", Rows(pixels.GetPixelSpan(), info.Width * 4, pixels.RowBytes, info.Height));
        Chunk(png, "IEND", []);
        return png.ToArray();
    }

    private static ReadOnlySpan<byte> Rows(ReadOnlySpan<byte> pixels, int width, int stride, int height)
    {
        var packed = new MemoryStream();
        using (var zip = new ZLibStream(packed, CompressionLevel.Fastest, leaveOpen: true))
        {
            var same = new byte[width + 1];
            same[0] = Up;
            for (var y = 0; y < height; y++)
            {
                var row = pixels.Slice(y * stride, width);
                if (y > 0 && row.SequenceEqual(pixels.Slice((y - 1) * stride, width)))
                {
                    zip.Write(same);
                }
                else
                {
                    zip.WriteByte(AsItIs);
                    zip.Write(row);
                }
            }
        }

        return packed.GetBuffer().AsSpan(0, (int)packed.Length);
    }

    private static void Chunk(MemoryStream png, string name, ReadOnlySpan<byte> data)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, data.Length);
        png.Write(number);
        var from = (int)png.Length;
        png.Write(Encoding.ASCII.GetBytes(name));
        png.Write(data);
        BinaryPrimitives.WriteUInt32BigEndian(number, Crc(png.GetBuffer().AsSpan(from, (int)png.Length - from)));
        png.Write(number);
    }

    // ISO 3309, polynomial 0xEDB88320 reversed, as annex D of the recommendation gives it.
    private static uint Crc(ReadOnlySpan<byte> bytes)
    {
        var crc = uint.MaxValue;
        foreach (var one in bytes)
        {
            crc = Table[(crc ^ one) & 0xFF] ^ (crc >> 8);
        }

        return ~crc;
    }

    private static readonly uint[] Table = [.. Enumerable.Range(0, 256).Select(start =>
    {
        var value = (uint)start;
        for (var bit = 0; bit < 8; bit++)
        {
            value = (value & 1) == 1 ? 0xEDB88320 ^ (value >> 1) : value >> 1;
        }

        return value;
    })];
}
