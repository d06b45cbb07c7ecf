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
    private readonly char[] place = new char[16];
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
        using var xml = archive.Open(sheets[sheet].Part)!;
        while (ArchiveParts.Next(xml))
        {
            if (xml.NodeType != XmlNodeType.Element)
            {
                continue;
            }

            if (xml.LocalName == "row")
            {
                rows.Begin(Whole(xml.GetAttribute("r")), xml.GetAttribute("hidden") is "1" or "true");
            }
            else if (xml.LocalName == "c")
            {
                Cell(xml, rows);
            }
            else if (xml.LocalName == "mergeCell" && xml.GetAttribute("ref") is { } area)
            {
                var ends = area.Split(':');
                if (ends.Length == 2 && Place(ends[0]) is var (top, left) && Place(ends[1]) is var (bottom, _))
                {
                    rows.Merge(top, left, bottom);
                }
            }
        }

        return rows;
    }

    private void Cell(XmlReader xml, SheetRows rows)
    {
        // A list of 100 000 rows has a million of these: no text is made of a place.
        var (column, type, style) = (0, "n", 0);
        while (xml.MoveToNextAttribute())
        {
            switch (xml.LocalName)
            {
                case "r":
                    column = Place(place.AsSpan(0, xml.ReadValueChunk(place, 0, place.Length))).Column;
                    break;
                case "t":
                    type = xml.Value;
                    break;
                case "s":
                    style = Whole(xml.Value) ?? 0;
                    break;
                default:
                    break;
            }
        }

        xml.MoveToElement();
        string? value = null;
        var formula = false;
        if (!xml.IsEmptyElement)
        {
            var depth = xml.Depth;
            while (ArchiveParts.Next(xml) && xml.Depth > depth)
            {
                if (xml.NodeType != XmlNodeType.Element)
                {
                    continue;
                }

                switch (xml.LocalName)
                {
                    case "v" or "is":
                        value = ArchiveParts.TextOf(xml, IsReading);
                        break;
                    case "f":
                        formula = true;
                        ArchiveParts.Pass(xml);
                        break;
                    default:
                        ArchiveParts.Pass(xml);
                        break;
                }
            }
        }

        var cell = value is null ? default : Meaning(value, type, style);
        if (formula && cell.Text is null or "")
        {
            rows.UnsavedFormula();
        }

        rows.Add(column - 1, cell.Text is null ? new("") : cell);
    }

    private RawCell Meaning(string value, string type, int style)
    {
        switch (type)
        {
            case "s":
                return int.TryParse(value.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var at) && at < shared!.Count ? new(shared[at]) : new("");
            case "b":
                return new(value.Trim() == "1" ? "yes" : "no");
            case "str" or "inlineStr" or "e":
                return new(value.Trim());
            case "d":
                return new(value.Trim(), CellKind.Date);
            default:
                return SheetNumbers.Cell(value.Trim(), styles!.KindOf(style), from1904);
        }
    }

    private List<string> ReadShared()
    {
        var texts = new List<string>();
        using var xml = archive.Open("xl/sharedStrings.xml");
        while (xml is not null && ArchiveParts.Next(xml))
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "si")
            {
                texts.Add(texts.Count < TableLimits.SharedTexts
                    ? ArchiveParts.TextOf(xml, IsReading).Trim()
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
    private static bool IsReading(string element) => element is "rPh" or "phoneticPr";

    private static int? Whole(string? text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    /// <summary>Row and column of <c>B12</c>, from 1; zero where the text has none.</summary>
    private static (int Row, int Column) Place(ReadOnlySpan<char> reference)
    {
        var (row, column) = (0, 0);
        foreach (var c in reference)
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
