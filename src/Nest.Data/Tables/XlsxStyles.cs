using System.Globalization;
using System.Xml;

namespace Nest.Data.Tables;

/// <summary>What a number in a sheet stands for, by its format.</summary>
internal enum NumberKind
{
    Plain,
    Percent,
    Date,
}

/// <summary>The formats of a workbook's cells, as far as they change what a number means.</summary>
internal sealed class XlsxStyles
{
    private readonly List<NumberKind> kinds = [];

    public NumberKind KindOf(int style) => style >= 0 && style < kinds.Count ? kinds[style] : NumberKind.Plain;

    public static XlsxStyles Read(ArchiveParts archive)
    {
        var styles = new XlsxStyles();
        var own = new Dictionary<int, NumberKind>();
        using var xml = archive.Open("xl/styles.xml");
        var inCells = false;
        while (xml is not null && ArchiveParts.Next(xml))
        {
            if (xml.LocalName == "cellXfs")
            {
                inCells = xml.NodeType == XmlNodeType.Element && !xml.IsEmptyElement;
            }
            else if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "numFmt" && Id(xml, "numFmtId") is { } id)
            {
                own[id] = OfCode(xml.GetAttribute("formatCode") ?? "");
            }
            else if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "xf" && inCells && styles.kinds.Count < 100_000)
            {
                var format = Id(xml, "numFmtId") ?? 0;
                styles.kinds.Add(own.TryGetValue(format, out var kind) ? kind : OfBuiltIn(format));
            }
        }

        return styles;
    }

    private static int? Id(XmlReader xml, string name) =>
        int.TryParse(xml.GetAttribute(name), NumberStyles.None, CultureInfo.InvariantCulture, out var id) ? id : null;

    // ECMA-376 part 1, 18.8.30.
    private static NumberKind OfBuiltIn(int format) => format switch
    {
        9 or 10 => NumberKind.Percent,
        >= 14 and <= 22 or >= 27 and <= 36 or >= 45 and <= 47 or >= 50 and <= 58 => NumberKind.Date,
        _ => NumberKind.Plain,
    };

    /// <summary>By the letters of a format outside quotes and brackets.</summary>
    private static NumberKind OfCode(string code)
    {
        var (quoted, bracket) = (false, false);
        for (var i = 0; i < code.Length; i++)
        {
            var c = code[i];
            if (c == '\\')
            {
                i++;
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (!quoted && c is '[' or ']')
            {
                bracket = c == '[';
            }
            else if (!quoted && !bracket && c == '%')
            {
                return NumberKind.Percent;
            }
            else if (!quoted && !bracket && char.ToLowerInvariant(c) is 'y' or 'd' or 'm' or 'h' or 's')
            {
                return NumberKind.Date;
            }
        }

        return NumberKind.Plain;
    }
}
