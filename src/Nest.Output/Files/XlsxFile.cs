using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;
using MiniExcelLibs;
using MiniExcelLibs.OpenXml;
using Nest.Core.Texts;

namespace Nest.Output.Files;

/// <summary>Tables as one XLSX workbook. Texts are made safe as in CSV. The archive is packed again with one fixed time, so that the
/// same plan gives the same bytes.</summary>
public static partial class XlsxFile
{
    private static readonly DateTimeOffset Time = new(2000, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>The tables as one workbook, a sheet each.</summary>
    public static byte[] Bytes(IReadOnlyList<Sheet> sheets)
    {
        var book = sheets.ToDictionary(sheet => sheet.Name, object (sheet) => sheet.Rows.Select(row => Row(sheet, row)).DefaultIfEmpty(Row(sheet, [])).ToArray());
        using var stream = new MemoryStream();
        stream.SaveAs(book, printHeader: true, excelType: ExcelType.XLSX, configuration: new OpenXmlConfiguration { AutoFilter = false, FreezeRowCount = 1 });
        return Packed(stream.ToArray(), sheets);
    }

    private static Dictionary<string, object?> Row(Sheet sheet, object?[] cells)
    {
        var row = new Dictionary<string, object?>();
        for (var at = 0; at < sheet.Heads.Count; at++)
        {
            row[sheet.Heads[at]] = at >= cells.Length ? null : cells[at] is string text ? SafeCell.Guard(text) : cells[at];
        }

        return row;
    }

    private static byte[] Packed(byte[] archive, IReadOnlyList<Sheet> sheets)
    {
        var ids = new Dictionary<string, string>(StringComparer.Ordinal);
        using var output = new MemoryStream();
        using (var from = new ZipArchive(new MemoryStream(archive), ZipArchiveMode.Read))
        using (var to = new ZipArchive(output, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var entry in from.Entries)
            {
                var copy = to.CreateEntry(entry.FullName, CompressionLevel.Optimal);
                copy.LastWriteTime = Time;
                using var read = entry.Open();
                using var write = copy.Open();
                if (entry.FullName.StartsWith("xl/workbook.xml", StringComparison.Ordinal) || entry.FullName.StartsWith("xl/_rels/", StringComparison.Ordinal))
                {
                    using var text = new StreamReader(read, Encoding.UTF8);
                    write.Write(Encoding.UTF8.GetBytes(RandomIds().Replace(text.ReadToEnd(), match => Known(match.Value))));
                }
                else if (entry.FullName == "xl/styles.xml")
                {
                    using var text = new StreamReader(read, Encoding.UTF8);
                    write.Write(Encoding.UTF8.GetBytes(NumberFormats.Styles(text.ReadToEnd())));
                }
                else if (SheetFile().Match(entry.FullName) is { Success: true } file)
                {
                    using var text = new StreamReader(read, Encoding.UTF8);
                    var at = int.Parse(file.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture) - 1;
                    write.Write(Encoding.UTF8.GetBytes(NumberFormats.Cells(text.ReadToEnd(), sheets[at])));
                }
                else
                {
                    read.CopyTo(write);
                }
            }
        }

        return output.ToArray();

        string Known(string id)
        {
            ids.TryAdd(id, $"sheet{ids.Count + 1}");
            return ids[id];
        }
    }

    [GeneratedRegex("^xl/worksheets/sheet([0-9]+)\\.xml$")]
    private static partial Regex SheetFile();

    // The library ties sheets to their files by random names.
    [GeneratedRegex("(?<=\")R[0-9a-f]{32}(?=\")")]
    private static partial Regex RandomIds();
}
