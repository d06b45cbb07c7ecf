using System.Globalization;
using System.Xml;

namespace Nest.Data.Tables;

/// <summary>Reads sheets of a workbook in Office Open XML (ECMA-376 part 1, 18: SpreadsheetML).</summary>
/// <remarks>Of a formula the saved value counts. Rows and cells are read as they come: what the sheet says of its own size is not believed.</remarks>
internal sealed class XlsxSheets : ISheets
{
    private readonly ArchiveParts archive;
    private readonly List<(string Name, string Part, bool Hidden)> sheets = [];
    private readonly bool from1904;
    private List<string>? shared;
    private XlsxStyles? styles;

    public XlsxSheets(ArchiveParts archive)
    {
        this.archive = archive;
        var targets = Targets();
        using var xml = archive.Open("xl/workbook.xml") ?? throw new InvalidDataException("no workbook");
        while (ArchiveParts.Next(xml))
        {
            if (xml.NodeType != XmlNodeType.Element)
            {
                continue;
            }

            if (xml.LocalName == "workbookPr")
            {
                from1904 = xml.GetAttribute("date1904") is "1" or "true";
            }
            else if (xml.LocalName == "sheet" && Relation(xml) is { } id && targets.TryGetValue(id, out var part) && archive.Has(part) && sheets.Count < TableLimits.Sheets)
            {
                sheets.Add((xml.GetAttribute("name") ?? $"sheet {sheets.Count + 1}", part, xml.GetAttribute("state") is "hidden" or "veryHidden"));
            }
        }
    }

    public IReadOnlyList<string> Names => [.. sheets.Select(sheet => sheet.Name)];

    public bool IsHidden(int sheet) => sheets[sheet].Hidden;

    public SheetRows Read(int sheet)
    {
        shared ??= ReadShared();
        styles ??= XlsxStyles.Read(archive);
        var rows = new SheetRows();
        using var xml = archive.Scan(sheets[sheet].Part)!;
        while (xml.Next())
        {
            if (!xml.IsStart)
            {
                continue;
            }

            if (xml.Name.SequenceEqual("c"u8))
            {
                Cell(xml, rows);
            }
            else if (xml.Name.SequenceEqual("row"u8))
            {
                var (number, hidden) = ((int?)null, false);
                while (xml.Attribute(out var key, out var value))
                {
                    number = key.SequenceEqual("r"u8) ? Whole(value) : number;
                    hidden |= key.SequenceEqual("hidden"u8) && (value.SequenceEqual("1"u8) || value.SequenceEqual("true"u8));
                }

                rows.Begin(number, hidden);
            }
            else if (xml.Name.SequenceEqual("mergeCell"u8))
            {
                Merge(xml, rows);
            }
        }

        return rows;
    }

    private static void Merge(XmlScanner xml, SheetRows rows)
    {
        while (xml.Attribute(out var key, out var value))
        {
            var colon = value.IndexOf((byte)':');
            if (key.SequenceEqual("ref"u8) && colon > 0 && !value[(colon + 1)..].Contains((byte)':'))
            {
                var (top, left) = Place(value[..colon]);
                rows.Merge(top, left, Place(value[(colon + 1)..]).Row);
            }
        }
    }

    private void Cell(XmlScanner xml, SheetRows rows)
    {
        // A list of 100 000 rows has a million of these: no text is made of a place or a type.
        var (column, type, style) = (0, CellType.Number, 0);
        while (xml.Attribute(out var key, out var said))
        {
            switch (key)
            {
                case [(byte)'r']:
                    column = Place(said).Column;
                    break;
                case [(byte)'t']:
                    type = TypeOf(said);
                    break;
                case [(byte)'s']:
                    style = Whole(said) ?? 0;
                    break;
                default:
                    break;
            }
        }

        string? value = null;
        var formula = false;
        for (var depth = xml.Depth; !xml.IsEmpty && xml.Next() && xml.Depth >= depth;)
        {
            if (!xml.IsStart)
            {
                continue;
            }

            if (xml.Name is [(byte)'v'] or [(byte)'i', (byte)'s'])
            {
                value = xml.Text(IsReading);
            }
            else
            {
                formula |= xml.Name is [(byte)'f'];
                xml.Pass();
            }
        }

        var cell = value is null ? default : Meaning(value.Trim(), type, style);
        if (formula && cell.Text is null or "")
        {
            rows.UnsavedFormula();
        }

        rows.Add(column - 1, cell.Text is null ? new("") : cell);
    }

    /// <summary>ECMA-376 part 1, 18.18.11.</summary>
    private enum CellType
    {
        Number,
        Shared,
        Flag,
        Text,
        Day,
    }

    private static CellType TypeOf(ReadOnlySpan<byte> text) => text.SequenceEqual("s"u8) ? CellType.Shared
        : text.SequenceEqual("str"u8) || text.SequenceEqual("inlineStr"u8) || text.SequenceEqual("e"u8) ? CellType.Text
        : text.SequenceEqual("b"u8) ? CellType.Flag
        : text.SequenceEqual("d"u8) ? CellType.Day
        : CellType.Number;

    private RawCell Meaning(string value, CellType type, int style) => type switch
    {
        CellType.Shared => int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out var at) && at < shared!.Count ? new(shared[at]) : new(""),
        CellType.Flag => new(value == "1" ? "yes" : "no"),
        CellType.Text => new(value),
        CellType.Day => new(value, CellKind.Date),
        _ => SheetNumbers.Cell(value, styles!.KindOf(style), from1904),
    };

    private List<string> ReadShared()
    {
        var texts = new List<string>();
        using var xml = archive.Scan("xl/sharedStrings.xml");
        while (xml?.Next() == true)
        {
            if (xml.IsStart && xml.Name.SequenceEqual("si"u8))
            {
                texts.Add(texts.Count < TableLimits.SharedTexts
                    ? xml.Text(IsReading).Trim()
                    : throw new TooLargeException($"its cells share more than {TableLimits.SharedTexts} texts"));
            }
        }

        return texts;
    }

    /// <summary>Relations of the workbook: id → part.</summary>
    private Dictionary<string, string> Targets()
    {
        var targets = new Dictionary<string, string>(StringComparer.Ordinal);
        using var xml = archive.Open("xl/_rels/workbook.xml.rels") ?? throw new InvalidDataException("no relations");
        while (ArchiveParts.Next(xml))
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "Relationship"
                && xml.GetAttribute("Id") is { } id && xml.GetAttribute("Target") is { } target && xml.GetAttribute("TargetMode") != "External")
            {
                // Only ever looked up among the archive's names, so no path leads out of it.
                targets.TryAdd(id, target.StartsWith('/') ? target[1..] : "xl/" + target.Replace("./", "", StringComparison.Ordinal));
            }
        }

        return targets;
    }

    private static string? Relation(XmlReader xml)
    {
        for (var i = 0; i < xml.AttributeCount; i++)
        {
            xml.MoveToAttribute(i);
            if (xml.LocalName == "id" && xml.Prefix.Length > 0)
            {
                var id = xml.Value;
                xml.MoveToElement();
                return id;
            }
        }

        xml.MoveToElement();
        return null;
    }

    /// <summary>How a text is spoken, in scripts where that is written beside it.</summary>
    private static bool IsReading(XmlScanner xml) => xml.Name.SequenceEqual("rPh"u8) || xml.Name.SequenceEqual("phoneticPr"u8);

    private static int? Whole(ReadOnlySpan<byte> text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    /// <summary>Row and column of <c>B12</c>, from 1; zero where the text has none.</summary>
    private static (int Row, int Column) Place(ReadOnlySpan<byte> reference)
    {
        var (row, column) = (0, 0);
        foreach (char c in reference)
        {
            if (char.IsAsciiLetter(c) && row == 0 && column < 100_000)
            {
                column = (column * 26) + (char.ToUpperInvariant(c) - 'A' + 1);
            }
            else if (char.IsAsciiDigit(c) && row < 10_000_000)
            {
                row = (row * 10) + (c - '0');
            }
        }

        return (row, column);
    }
}
