using System.Globalization;
using System.Xml;

namespace Nest.Data.Tables;

/// <summary>Reads sheets of an OpenDocument spreadsheet (ISO/IEC 26300, part 1, 9: tables).</summary>
/// <remarks>Values come from the office attributes, texts from their paragraphs. Repeats are counted, not believed: empty ones cost
/// nothing, filled ones count against the limits.</remarks>
internal sealed class OdsSheets : ISheets
{
    private readonly ArchiveParts archive;
    private readonly List<string> names = [];

    public OdsSheets(ArchiveParts archive)
    {
        this.archive = archive;
        using var xml = Content();
        while (ArchiveParts.Next(xml))
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "table" && names.Count < TableLimits.Sheets)
            {
                names.Add(Of(xml, "name") ?? $"sheet {names.Count + 1}");
                ArchiveParts.Pass(xml);
            }
        }
    }

    public IReadOnlyList<string> Names => names;

    public bool IsHidden(int sheet) => false;

    public SheetRows Read(int sheet)
    {
        var rows = new SheetRows();
        using var xml = Content();
        var seen = -1;
        while (ArchiveParts.Next(xml))
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "table")
            {
                if (++seen == sheet)
                {
                    Table(xml, rows);
                    break;
                }

                ArchiveParts.Pass(xml);
            }
        }

        return rows;
    }

    private XmlReader Content() => archive.Open("content.xml") ?? throw new InvalidDataException("no content");

    private static void Table(XmlReader xml, SheetRows rows)
    {
        var depth = xml.Depth;
        long number = 0;
        while (!xml.IsEmptyElement && ArchiveParts.Next(xml) && xml.Depth > depth)
        {
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName != "table-row")
            {
                continue;
            }

            var repeated = Repeat(xml, "number-rows-repeated");
            var hidden = Of(xml, "visibility") is "collapse" or "filter";
            var cells = new List<(int Column, RawCell Cell)>();
            var line = (int)Math.Min(number + 1, int.MaxValue / 2);
            Row(xml, line, cells, rows);
            for (var again = 0; again < repeated && cells.Count > 0; again++)
            {
                rows.Begin(line + again, hidden);
                foreach (var (column, cell) in cells)
                {
                    rows.Add(column, cell);
                }
            }

            number += repeated;
        }
    }

    private static void Row(XmlReader xml, int line, List<(int Column, RawCell Cell)> cells, SheetRows rows)
    {
        if (xml.IsEmptyElement)
        {
            return;
        }

        var depth = xml.Depth;
        var column = 0L;
        while (ArchiveParts.Next(xml) && xml.Depth > depth)
        {
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName is not ("table-cell" or "covered-table-cell"))
            {
                continue;
            }

            var repeated = Repeat(xml, "number-columns-repeated");
            var spanned = Repeat(xml, "number-rows-spanned");
            var cell = Cell(xml, rows);
            if (!cell.IsEmpty)
            {
                if (spanned > 1)
                {
                    rows.Merge(line, (int)Math.Min(column + 1, int.MaxValue), (int)Math.Min(line + spanned - 1, int.MaxValue / 2));
                }

                for (var at = column; at < Math.Min(column + repeated, TableLimits.Columns + 1); at++)
                {
                    cells.Add(((int)at, cell));
                }
            }

            column += repeated;
        }
    }

    private static RawCell Cell(XmlReader xml, SheetRows rows)
    {
        var type = Of(xml, "value-type");
        var value = Of(xml, "value");
        var day = Of(xml, "date-value");
        var flag = Of(xml, "boolean-value");
        var formula = Of(xml, "formula") is not null;
        var text = Paragraphs(xml);
        var cell = type switch
        {
            "float" or "currency" when value is not null => SheetNumbers.Cell(value, NumberKind.Plain, false),
            "percentage" when value is not null => SheetNumbers.Cell(value, NumberKind.Percent, false),
            "date" when day is not null => new(day.Length > 10 ? day[..10] : day, CellKind.Date),
            "boolean" when flag is not null => new(flag == "true" ? "yes" : "no"),
            _ => new RawCell(text),
        };
        if (formula && cell.IsEmpty)
        {
            rows.UnsavedFormula();
        }

        return cell;
    }

    /// <summary>The cell's paragraphs, one line each; remarks that are pinned to it don't count.</summary>
    private static string Paragraphs(XmlReader xml)
    {
        if (xml.IsEmptyElement)
        {
            return "";
        }

        var depth = xml.Depth;
        var text = "";
        while (ArchiveParts.Next(xml) && xml.Depth > depth)
        {
            if (xml.NodeType != XmlNodeType.Element)
            {
                continue;
            }

            if (xml.LocalName == "p")
            {
                var line = ArchiveParts.TextOf(xml);
                text = text.Length == 0 ? line : text.Length > TableLimits.CellText ? text : text + "\n" + line;
            }
            else
            {
                ArchiveParts.Pass(xml);
            }
        }

        return text.Trim();
    }

    private static long Repeat(XmlReader xml, string name) =>
        long.TryParse(Of(xml, name), NumberStyles.None, CultureInfo.InvariantCulture, out var count) ? Math.Clamp(count, 1, int.MaxValue / 4) : 1;

    /// <summary>An attribute by its local name: prefixes may be any.</summary>
    private static string? Of(XmlReader xml, string name)
    {
        for (var i = 0; i < xml.AttributeCount; i++)
        {
            xml.MoveToAttribute(i);
            if (xml.LocalName == name)
            {
                var value = xml.Value;
                xml.MoveToElement();
                return value;
            }
        }

        xml.MoveToElement();
        return null;
    }
}
