using Nest.Output.Scenes;
using SkiaSharp;

namespace Nest.Output.Draw;

/// <summary>Scenes as the pages of a PDF, in true size. Same scenes, same bytes: no date but the given one, no random identifier.</summary>
internal static class PdfFile
{
    private const double PointsPerMillimetre = 72 / 25.4;

    public static byte[] Bytes(IReadOnlyList<Scene> pages, string title, DateOnly? date)
    {
        // The library's own memory: a stream of ours is called from inside it, where an exception of ours, as that memory is short, would end the program.
        using var stream = new SKDynamicMemoryWStream();
        var metadata = new SKDocumentPdfMetadata
        {
            Title = title,
            Creator = "Nest",
            Producer = "Nest",
            Creation = date?.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc),
            Modified = date?.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc),
            // Page sizes are rounded to this grid: a hundredth of a millimetre keeps both papers exact. Nothing here is rastered.
            RasterDpi = 2540,
            EncodingQuality = 101,
        };
        using (var document = SKDocument.CreatePdf(stream, metadata))
        {
            foreach (var page in pages)
            {
                using var canvas = document.BeginPage(
                    (float)(page.Width * PointsPerMillimetre), (float)(page.Height * PointsPerMillimetre));
                canvas.Scale((float)PointsPerMillimetre);
                SkiaPainter.Paint(canvas, page);
                document.EndPage();
            }

            document.Close();
        }

        using var bytes = stream.DetachAsData();
        return bytes.ToArray();
    }
}
