using System.Globalization;
using System.Text;
using QRCoder;

namespace Nest.Output.Rack;

/// <summary>A text as a QR code in SVG, with attributes only, so that it shows under a strict content policy.</summary>
/// <remarks>ISO/IEC 18004, error correction M (15 %), quiet zone of four modules; always dark on white, or cameras may refuse it.</remarks>
public static class QrPicture
{
    /// <param name="name">What it opens, for those who do not see it.</param>
    public static string Svg(string text, string name)
    {
        using var generator = new QRCodeGenerator();
        using var data = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        // The library's matrix has its own quiet zone, of four modules.
        var modules = data.ModuleMatrix;
        var path = new StringBuilder();
        for (var row = 0; row < modules.Count; row++)
        {
            for (var column = 0; column < modules.Count; column++)
            {
                if (modules[row][column])
                {
                    path.Append(CultureInfo.InvariantCulture, $"M{column} {row}h1v1h-1z");
                }
            }
        }

        var size = modules.Count;
        return $"<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"code\" viewBox=\"0 0 {size} {size}\" role=\"img\" aria-label=\"{Draw.SvgFile.Escape(name)}\" shape-rendering=\"crispEdges\"><rect width=\"{size}\" height=\"{size}\" fill=\"#fff\"/><path d=\"{path}\" fill=\"#000\"/></svg>";
    }
}
