using System.Globalization;
using System.IO.Compression;
using System.Xml;
using System.Xml.Linq;

namespace Nest.Rack.Exchange;

/// <summary>Reads the first sheet of a workbook (ECMA-376) as texts. Formulas give the value they had when the file was saved.</summary>
/// <remarks>Bounded: no part larger than <see cref="MostBytes"/> unpacked, no document type declarations, so that a crafted file cannot
/// fill the memory.</remarks>
public static class XlsxReader
{
    public const long MostBytes = 256L * 1024 * 1024;

    private static readonly XNamespace Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private static readonly XNamespace Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

    /// <summary>The first sheet as CSV, one line for each row of the sheet, so that rows keep their numbers.</summary>
    /// <param name="error">Why the file cannot be read; empty when it was.</param>
    public static string? ToCsv(byte[] file, out string error)
    {
        try
        {
            using var zip = new ZipArchive(new MemoryStream(file), ZipArchiveMode.Read);
            var rows = Rows(zip);
            error = "";
            return CsvTable.Text(null, rows);
        }
        catch (Exception fault) when (fault is InvalidDataException or XmlException or FormatException or OverflowException)
        {
            error = fault.Message;
            return null;
        }
    }

    /// <summary>A, B … Z, AA …</summary>
    internal static string ColumnName(int index)
    {
        var name = "";
        for (var left = index + 1; left > 0; left = (left - 1) / 26)
        {
            name = (char)('A' + ((left - 1) % 26)) + name;
        }

        return name;
    }

    private static List<string[]> Rows(ZipArchive zip)
    {
        var workbook = Load(zip, "xl/workbook.xml") ?? throw new InvalidDataException("it has no workbook");
        var first = workbook.Descendants(Main + "sheet").FirstOrDefault() ?? throw new InvalidDataException("it has no sheet");
        var id = first.Attribute(Relations + "id")?.Value;
        var target = Load(zip, "xl/_rels/workbook.xml.rels")?.Root?.Elements().FirstOrDefault(relation => relation.Attribute("Id")?.Value == id)?.Attribute("Target")?.Value;
        var path = target is null ? "xl/worksheets/sheet1.xml" : target.StartsWith('/') ? target[1..] : "xl/" + target;
        var sheet = Load(zip, path) ?? throw new InvalidDataException($"its sheet {path} is missing");
        var shared = Load(zip, "xl/sharedStrings.xml")?.Root?.Elements(Main + "si").Select(Text).ToArray() ?? [];
        var rows = new List<string[]>();
        foreach (var row in sheet.Descendants(Main + "row"))
        {
            var number = (int?)row.Attribute("r") ?? rows.Count + 1;
            if (number is < 1 or > 1_048_576)
            {
                throw new InvalidDataException($"row {number} is out of range");
            }

            while (rows.Count < number - 1)
            {
                rows.Add([""]);
            }

            var cells = new List<string>();
            foreach (var cell in row.Elements(Main + "c"))
            {
                var column = Column(cell.Attribute("r")?.Value) ?? cells.Count;
                while (cells.Count < column)
                {
                    cells.Add("");
                }

                cells.Add(Value(cell, shared).ReplaceLineEndings(" "));
            }

            rows.Add(cells.Count == 0 ? [""] : [.. cells]);
        }

        return rows;
    }

    private static string Value(XElement cell, string[] shared)
    {
        var value = cell.Element(Main + "v")?.Value ?? "";
        switch (cell.Attribute("t")?.Value)
        {
            case "s":
                var index = int.Parse(value, NumberStyles.None, CultureInfo.InvariantCulture);
                return index < shared.Length ? shared[index] : throw new InvalidDataException($"text {index} is missing");
            case "inlineStr":
                return cell.Element(Main + "is") is { } text ? Text(text) : "";
            case "b":
                return value == "1" ? "yes" : "no";
            case "str" or "e":
                return value;
            default:
                // Numbers are stored as binary ones are printed: 0.1 + 0.2 may read 0.30000000000000004.
                return decimal.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
                    ? decimal.Round(number, 9).ToString("0.#########", CultureInfo.InvariantCulture)
                    : value;
        }
    }

    private static string Text(XElement element) => string.Concat(element.Descendants(Main + "t")
        .Where(text => text.Parent?.Name != Main + "rPh")
        .Select(text => text.Value));

    private static int? Column(string? reference)
    {
        if (reference is null)
        {
            return null;
        }

        var column = 0;
        foreach (var letter in reference.TakeWhile(char.IsAsciiLetterUpper))
        {
            column = checked((column * 26) + (letter - 'A' + 1));
        }

        return column is >= 1 and <= 16_384 ? column - 1 : throw new InvalidDataException($"cell {reference} is out of range");
    }

    private static XDocument? Load(ZipArchive zip, string name)
    {
        if (zip.GetEntry(name) is not { } entry)
        {
            return null;
        }

        if (entry.Length > MostBytes)
        {
            throw new InvalidDataException($"{name} is too large");
        }

        using var stream = entry.Open();
        using var reader = XmlReader.Create(stream, new() { DtdProcessing = DtdProcessing.Prohibit, MaxCharactersInDocument = MostBytes });
        return XDocument.Load(reader);
    }
}
