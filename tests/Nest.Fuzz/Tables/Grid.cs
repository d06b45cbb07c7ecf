using System.Globalization;
using System.IO.Compression;
using System.Security;
using System.Text;

namespace Nest.Fuzz.Tables;

/// <summary>A table as rows of cells, written as text or as a workbook of either kind. A cell that begins with <c>num:</c> is a number of the
/// workbook, <c>date:</c> a day, <c>pct:</c> a percentage, <c>f:</c> a formula with its saved value, <c>f!</c> one without; a row whose first cell begins with
/// <c>hidden:</c> is hidden; <c>merge:N:</c> is merged over N rows.</summary>
public sealed class Grid(IReadOnlyList<string[]> rows)
{
    private static readonly DateTimeOffset Time = new(2000, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public string Text(char separator) => string.Concat(rows.Select(row => string.Join(separator, row.Select(cell => Quoted(cell, separator))) + "\n"));

    /// <summary>A workbook in Office Open XML, by hand (ECMA-376 part 1, 18).</summary>
    /// <param name="before">XML before the rows, as a dimension.</param>
    public byte[] Xlsx(string name = "Parts", string before = "", IReadOnlyList<(string Name, Grid Grid)>? more = null)
    {
        (string Name, Grid Grid)[] sheets = [(name, this), .. more ?? []];
        return Pack(
            ("[Content_Types].xml", "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"xml\" ContentType=\"application/xml\"/></Types>"),
            ("xl/workbook.xml", $"<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets>{string.Concat(sheets.Select((sheet, at) => $"<sheet name=\"{SecurityElement.Escape(sheet.Name)}\" sheetId=\"{at + 1}\" r:id=\"rId{at + 1}\"/>"))}</sheets></workbook>"),
            ("xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">{string.Concat(sheets.Select((_, at) => $"<Relationship Id=\"rId{at + 1}\" Type=\"t\" Target=\"worksheets/sheet{at + 1}.xml\"/>"))}</Relationships>"),
            ("xl/styles.xml", "<styleSheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><numFmts><numFmt numFmtId=\"170\" formatCode=\"d/mmm\"/></numFmts><cellXfs><xf numFmtId=\"0\"/><xf numFmtId=\"170\"/><xf numFmtId=\"9\"/></cellXfs></styleSheet>"),
            [.. sheets.Select((sheet, at) => ($"xl/worksheets/sheet{at + 1}.xml", $"<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\">{(at == 0 ? before : "")}{sheet.Grid.SheetData()}</worksheet>"))]);
    }

    /// <summary>An OpenDocument spreadsheet, by hand (ISO/IEC 26300).</summary>
    public byte[] Ods(string name = "Parts") => Pack(
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("content.xml", $"<office:document-content xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:spreadsheet><table:table table:name=\"{SecurityElement.Escape(name)}\">{string.Concat(rows.Select(OdsRow))}</table:table></office:spreadsheet></office:body></office:document-content>"));

    public static byte[] Pack(params IEnumerable<(string Name, string Body)> parts)
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, body) in parts)
            {
                var entry = zip.CreateEntry(name, CompressionLevel.Fastest);
                entry.LastWriteTime = Time;
                using var writer = new StreamWriter(entry.Open(), new UTF8Encoding(false));
                writer.Write(body);
            }
        }

        return stream.ToArray();
    }

    private static byte[] Pack((string, string) a, (string, string) b, (string, string) c, (string, string) d, IEnumerable<(string, string)> rest) => Pack([a, b, c, d, .. rest]);

    private string SheetData()
    {
        var merges = new StringBuilder();
        var text = new StringBuilder("<sheetData>");
        for (var at = 0; at < rows.Count; at++)
        {
            var hidden = rows[at].Length > 0 && rows[at][0].StartsWith("hidden:", StringComparison.Ordinal);
            text.Append(CultureInfo.InvariantCulture, $"<row r=\"{at + 1}\"{(hidden ? " hidden=\"1\"" : "")}>");
            for (var column = 0; column < rows[at].Length; column++)
            {
                var (kind, value) = Kind(rows[at][column]);
                var place = $"{(char)('A' + (column % 26))}{at + 1}";
                if (kind.StartsWith("merge", StringComparison.Ordinal))
                {
                    merges.Append(CultureInfo.InvariantCulture, $"<mergeCell ref=\"{place}:{place[0]}{at + int.Parse(kind[5..], CultureInfo.InvariantCulture)}\"/>");
                }

                text.Append(kind switch
                {
                    "num" => $"<c r=\"{place}\"><v>{value}</v></c>",
                    "date" => $"<c r=\"{place}\" s=\"1\"><v>{value}</v></c>",
                    "pct" => $"<c r=\"{place}\" s=\"2\"><v>{value}</v></c>",
                    "f" => $"<c r=\"{place}\"><f>1+1</f><v>{value}</v></c>",
                    "f!" => $"<c r=\"{place}\"><f>1+1</f></c>",
                    _ when value.Length == 0 => "",
                    _ => $"<c r=\"{place}\" t=\"inlineStr\"><is><t xml:space=\"preserve\">{SecurityElement.Escape(value)}</t></is></c>",
                });
            }

            text.Append("</row>");
        }

        return $"{text}</sheetData>{(merges.Length > 0 ? $"<mergeCells>{merges}</mergeCells>" : "")}";
    }

    private static string OdsRow(string[] row)
    {
        var hidden = row.Length > 0 && row[0].StartsWith("hidden:", StringComparison.Ordinal);
        return $"<table:table-row{(hidden ? " table:visibility=\"collapse\"" : "")}>{string.Concat(row.Select(OdsCell))}</table:table-row>";
    }

    private static string OdsCell(string cell)
    {
        var (kind, value) = Kind(cell);
        return kind switch
        {
            "num" or "f" => $"<table:table-cell{(kind == "f" ? " table:formula=\"of:=1+1\"" : "")} office:value-type=\"float\" office:value=\"{value}\"><text:p>{value}</text:p></table:table-cell>",
            "pct" => $"<table:table-cell office:value-type=\"percentage\" office:value=\"{value}\"/>",
            "date" => "<table:table-cell office:value-type=\"date\" office:date-value=\"2026-01-02\"/>",
            "f!" => "<table:table-cell table:formula=\"of:=1+1\"/>",
            _ when kind.StartsWith("merge", StringComparison.Ordinal) => $"<table:table-cell table:number-rows-spanned=\"{kind[5..]}\" office:value-type=\"string\"><text:p>{SecurityElement.Escape(value)}</text:p></table:table-cell>",
            _ => value.Length == 0 ? "<table:table-cell/>" : $"<table:table-cell office:value-type=\"string\"><text:p>{SecurityElement.Escape(value)}</text:p></table:table-cell>",
        };
    }

    private static (string Kind, string Value) Kind(string cell)
    {
        if (cell.StartsWith("hidden:", StringComparison.Ordinal))
        {
            cell = cell[7..];
        }

        foreach (var kind in (string[])["num", "date", "pct", "f"])
        {
            if (cell.StartsWith(kind + ":", StringComparison.Ordinal))
            {
                return (kind, cell[(kind.Length + 1)..]);
            }
        }

        return cell.StartsWith("f!", StringComparison.Ordinal) ? ("f!", "")
            : cell.StartsWith("merge:", StringComparison.Ordinal) ? ("merge" + cell[6], cell[8..])
            : ("text", cell);
    }

    private static string Quoted(string cell, char separator) =>
        cell.Contains(separator) || cell.Contains('\n') || cell.StartsWith('"') ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell;
}
