using System.Globalization;
using System.Net;
using System.Text;
using Nest.Core.Texts;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Draw;

/// <summary>A scene as SVG in true millimetres. Texts stay texts; their measured width is kept whatever font the viewer has.</summary>
internal static class SvgFile
{
    public static byte[] Bytes(Scene scene) => Encoding.UTF8.GetBytes("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + Text(scene, true));

    /// <param name="sized">With width and height in millimetres; without, it fills what holds it.</param>
    public static string Text(Scene scene, bool sized)
    {
        var svg = new StringBuilder();
        var size = sized ? $" width=\"{N(scene.Width)}mm\" height=\"{N(scene.Height)}mm\"" : "";
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\"{size} viewBox=\"0 0 {N(scene.Width)} {N(scene.Height)}\" font-family=\"'DejaVu Sans Condensed','Arial Narrow',Arial,sans-serif\">\n");
        svg.Append(CultureInfo.InvariantCulture, $"<rect width=\"{N(scene.Width)}\" height=\"{N(scene.Height)}\" fill=\"#fff\"/>\n");
        foreach (var element in scene.Elements)
        {
            Element(svg, element);
        }

        return svg.Append("</svg>\n").ToString();
    }

    private static void Element(StringBuilder svg, Element element)
    {
        switch (element)
        {
            case BoxElement box:
                svg.Append(CultureInfo.InvariantCulture, $"<rect x=\"{N(box.Box.X)}\" y=\"{N(box.Box.Y)}\" width=\"{N(box.Box.Width)}\" height=\"{N(box.Box.Height)}\"{Paint(box.Fill, box.Stroke)}/>\n");
                break;
            case CircleElement circle:
                svg.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{N(circle.X)}\" cy=\"{N(circle.Y)}\" r=\"{N(circle.Radius)}\"{Paint(circle.Fill, circle.Stroke)}/>\n");
                break;
            case LinesElement lines:
                svg.Append("<path d=\"");
                foreach (var line in lines.Segments)
                {
                    svg.Append(CultureInfo.InvariantCulture, $"M{N(line.X1)} {N(line.Y1)}L{N(line.X2)} {N(line.Y2)}");
                }

                svg.Append(CultureInfo.InvariantCulture, $"\"{Paint(null, lines.Stroke)}/>\n");
                break;
            case TextElement text:
                Text(svg, text);
                break;
            default:
                throw new InvalidOperationException($"No way to write {element.GetType().Name}.");
        }
    }

    private static void Text(StringBuilder svg, TextElement text)
    {
        var width = FontBook.Width(text.Text, text.Face, text.Size);
        var turn = text.Standing ? $" transform=\"rotate(-90 {N(text.X)} {N(text.Y)})\"" : "";
        var face = text.Face switch
        {
            Face.Bold => " font-weight=\"bold\"",
            Face.Mono => " font-family=\"'DejaVu Sans Mono',monospace\"",
            _ => "",
        };
        svg.Append(CultureInfo.InvariantCulture,
            $"<text x=\"{N(text.X)}\" y=\"{N(text.Y)}\" font-size=\"{N(text.Size)}\" textLength=\"{N(width)}\" lengthAdjust=\"spacingAndGlyphs\" fill=\"{Color(text.Tint)}\"{face}{turn}>{Escape(text.Text)}</text>\n");
    }

    /// <summary>Text for XML; characters that XML forbids become a box.</summary>
    public static string Escape(string text) =>
        WebUtility.HtmlEncode(string.Concat(text.Select(c => PlainText.Acts(c) || c is '\uFFFE' or '\uFFFF' ? '□' : c)));

    private static string Paint(Tint? fill, Stroke? stroke)
    {
        var text = $" fill=\"{(fill is { } tint ? Color(tint) : "none")}\"";
        if (stroke is { } line)
        {
            text += $" stroke=\"{Color(line.Tint)}\" stroke-width=\"{N(line.Width)}\"";
            if (line.Dash > 0)
            {
                text += $" stroke-dasharray=\"{N(line.Dash)} {N(line.Dash * 0.7)}\"";
            }
        }

        return text;
    }

    private static string Color(Tint tint) => $"#{tint.Red:x2}{tint.Green:x2}{tint.Blue:x2}";

    /// <summary>A thousandth of a millimetre is finer than any printer.</summary>
    private static string N(double value)
    {
        var text = Math.Round(value, 3).ToString("0.###", CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text;
    }
}
