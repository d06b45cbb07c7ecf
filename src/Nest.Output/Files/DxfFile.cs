using System.Globalization;
using System.Text;
using Nest.Core.Geometry;
using Nest.Core.Quantities;

namespace Nest.Output.Files;

/// <summary>A drawing as DXF in ASCII, release 12 (AC1009), in millimetres: what every CAM program reads.</summary>
/// <remarks>Rectangles and the outlines of angled pieces are closed polylines, cuts are lines (the middle of the kerf). Coordinates have up to six decimals and are
/// exact. Release 12 knows no Unicode: other characters are written as <c>\U+XXXX</c>, which later readers show rightly.</remarks>
internal static class DxfFile
{
    // Colours of the release-12 palette, one per layer in the order of Drawing.Layers.
    private static readonly int[] Colors = [7, 5, 1, 3, 6, 8, 4, 9];

    public static byte[] Bytes(Drawing drawing)
    {
        var dxf = new StringBuilder();
        Header(dxf, drawing.Sheet);
        Tables(dxf);
        Pair(dxf, 0, "SECTION");
        Pair(dxf, 2, "ENTITIES");
        foreach (var rect in drawing.Rects)
        {
            var area = rect.Area;
            Polyline(dxf, rect.Layer, [(area.X, area.Y), (area.Right, area.Y), (area.Right, area.Top), (area.X, area.Top)]);
        }

        foreach (var shape in drawing.Shapes)
        {
            Polyline(dxf, shape.Layer, [.. shape.Corners]);
        }

        foreach (var line in drawing.Lines)
        {
            Pair(dxf, 0, "LINE");
            Pair(dxf, 8, line.Layer);
            Point(dxf, 0, line.X1, line.Y1);
            Point(dxf, 1, line.X2, line.Y2);
        }

        foreach (var text in drawing.Texts)
        {
            Text(dxf, text);
        }

        Pair(dxf, 0, "ENDSEC");
        Pair(dxf, 0, "EOF");
        return Encoding.ASCII.GetBytes(dxf.ToString());
    }

    private static void Header(StringBuilder dxf, Rect sheet)
    {
        Pair(dxf, 0, "SECTION");
        Pair(dxf, 2, "HEADER");
        Pair(dxf, 9, "$ACADVER");
        Pair(dxf, 1, "AC1009");
        Pair(dxf, 9, "$EXTMIN");
        Point(dxf, 0, sheet.X, sheet.Y);
        Pair(dxf, 9, "$EXTMAX");
        Point(dxf, 0, sheet.Right, sheet.Top);
        Pair(dxf, 0, "ENDSEC");
    }

    private static void Tables(StringBuilder dxf)
    {
        Pair(dxf, 0, "SECTION");
        Pair(dxf, 2, "TABLES");
        Pair(dxf, 0, "TABLE");
        Pair(dxf, 2, "LTYPE");
        Pair(dxf, 70, "1");
        Pair(dxf, 0, "LTYPE");
        Pair(dxf, 2, "CONTINUOUS");
        Pair(dxf, 70, "0");
        Pair(dxf, 3, "Solid line");
        Pair(dxf, 72, "65");
        Pair(dxf, 73, "0");
        Pair(dxf, 40, "0");
        Pair(dxf, 0, "ENDTAB");
        Pair(dxf, 0, "TABLE");
        Pair(dxf, 2, "LAYER");
        Pair(dxf, 70, Drawing.Layers.Length.ToString(CultureInfo.InvariantCulture));
        for (var index = 0; index < Drawing.Layers.Length; index++)
        {
            Pair(dxf, 0, "LAYER");
            Pair(dxf, 2, Drawing.Layers[index]);
            Pair(dxf, 70, "0");
            Pair(dxf, 62, Colors[index].ToString(CultureInfo.InvariantCulture));
            Pair(dxf, 6, "CONTINUOUS");
        }

        Pair(dxf, 0, "ENDTAB");
        Pair(dxf, 0, "ENDSEC");
    }

    private static void Polyline(StringBuilder dxf, string layer, (Length X, Length Y)[] corners)
    {
        Pair(dxf, 0, "POLYLINE");
        Pair(dxf, 8, layer);
        Pair(dxf, 66, "1");
        Point(dxf, 0, Length.Zero, Length.Zero);
        Pair(dxf, 70, "1");
        foreach (var (x, y) in corners)
        {
            Pair(dxf, 0, "VERTEX");
            Pair(dxf, 8, layer);
            Point(dxf, 0, x, y);
        }

        Pair(dxf, 0, "SEQEND");
        Pair(dxf, 8, layer);
    }

    private static void Text(StringBuilder dxf, DrawnText text)
    {
        var height = Drawing.TextHeight(text);
        if (height < 0.5m)
        {
            return;
        }

        // Centred: the alignment point (11, 21) counts, the first point is for old readers.
        var x = text.Area.X.ToMillimetres() + (text.Area.SizeX.ToMillimetres() / 2);
        var y = text.Area.Y.ToMillimetres() + (text.Area.SizeY.ToMillimetres() / 2);
        Pair(dxf, 0, "TEXT");
        Pair(dxf, 8, Drawing.Text);
        Numbers(dxf, 0, x, y);
        Pair(dxf, 40, Number(height));
        Pair(dxf, 1, Ascii(text.Text));
        Pair(dxf, 72, "1");
        Numbers(dxf, 1, x, y);
        Pair(dxf, 73, "2");
    }

    private static string Ascii(string text)
    {
        var ascii = new StringBuilder();
        foreach (var c in text)
        {
            // %% starts a control code in DXF texts: a lone % does not.
            ascii.Append(c is >= ' ' and <= '~' ? c.ToString() : char.IsControl(c) ? " " : $"\\U+{(int)c:X4}");
        }

        return ascii.ToString().Replace("%%", "% %", StringComparison.Ordinal);
    }

    private static void Point(StringBuilder dxf, int index, Length x, Length y) => Numbers(dxf, index, x.ToMillimetres(), y.ToMillimetres());

    private static void Numbers(StringBuilder dxf, int index, decimal x, decimal y)
    {
        Pair(dxf, 10 + index, Number(x));
        Pair(dxf, 20 + index, Number(y));
        Pair(dxf, 30 + index, "0.0");
    }

    private static string Number(decimal value) => value.ToString("0.0#####", CultureInfo.InvariantCulture);

    private static void Pair(StringBuilder dxf, int code, string value) =>
        dxf.Append(CultureInfo.InvariantCulture, $"{code,3}\r\n{value}\r\n");
}
