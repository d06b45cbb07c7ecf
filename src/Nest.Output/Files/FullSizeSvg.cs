using System.Globalization;
using System.Text;
using Nest.Core.Geometry;
using Nest.Core.Quantities;
using Nest.Output.Draw;

namespace Nest.Output.Files;

/// <summary>A drawing as SVG at full size: one unit is one millimetre, one group per layer, named like the layers of the DXF.</summary>
internal static class FullSizeSvg
{
    private static readonly string[] Colors = ["#000000", "#1d4ed8", "#b91c1c", "#0a6b58", "#a21caf", "#444444", "#0e7490", "#6d7780"];

    public static byte[] Bytes(Drawing drawing)
    {
        var sheet = drawing.Sheet;
        var svg = new StringBuilder("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{N(sheet.SizeX)}mm\" height=\"{N(sheet.SizeY)}mm\" viewBox=\"0 0 {N(sheet.SizeX)} {N(sheet.SizeY)}\">\n");
        for (var index = 0; index < Drawing.Layers.Length; index++)
        {
            var layer = Drawing.Layers[index];
            var paint = layer == Drawing.Text
                ? $"fill=\"{Colors[index]}\" font-family=\"sans-serif\" text-anchor=\"middle\""
                : $"fill=\"none\" stroke=\"{Colors[index]}\" stroke-width=\"0.2\"";
            svg.Append(CultureInfo.InvariantCulture, $"<g id=\"{layer}\" {paint}>\n");
            foreach (var rect in drawing.Rects.Where(rect => rect.Layer == layer))
            {
                svg.Append(CultureInfo.InvariantCulture, $"<rect x=\"{N(rect.Area.X)}\" y=\"{N(sheet.Top - rect.Area.Top)}\" width=\"{N(rect.Area.SizeX)}\" height=\"{N(rect.Area.SizeY)}\"/>\n");
            }

            foreach (var shape in drawing.Shapes.Where(shape => shape.Layer == layer))
            {
                svg.Append(CultureInfo.InvariantCulture, $"<polygon points=\"{string.Join(' ', shape.Corners.Select(corner => $"{N(corner.X)},{N(sheet.Top - corner.Y)}"))}\"/>\n");
            }

            foreach (var line in drawing.Lines.Where(line => line.Layer == layer))
            {
                svg.Append(CultureInfo.InvariantCulture, $"<path d=\"M{N(line.X1)} {N(sheet.Top - line.Y1)}L{N(line.X2)} {N(sheet.Top - line.Y2)}\"/>\n");
            }

            if (layer == Drawing.Text)
            {
                Texts(svg, drawing, sheet);
            }

            svg.Append("</g>\n");
        }

        return Encoding.UTF8.GetBytes(svg.Append("</svg>\n").ToString());
    }

    private static void Texts(StringBuilder svg, Drawing drawing, Rect sheet)
    {
        foreach (var text in drawing.Texts)
        {
            var height = Drawing.TextHeight(text);
            if (height >= 0.5m)
            {
                var x = text.Area.X.ToMillimetres() + (text.Area.SizeX.ToMillimetres() / 2);
                var y = sheet.Top.ToMillimetres() - text.Area.Y.ToMillimetres() - (text.Area.SizeY.ToMillimetres() / 2) + (height * 0.35m);
                svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{x:0.###}\" y=\"{y:0.###}\" font-size=\"{height:0.###}\">{SvgFile.Escape(text.Text)}</text>\n");
            }
        }
    }

    private static string N(Length length) => length.ToMillimetres().ToString("0.######", CultureInfo.InvariantCulture);
}
