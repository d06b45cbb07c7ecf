using System.Globalization;
using MiniExcelLibs;

namespace Nest.Data.Csv;

/// <summary>Reads the first sheet of a workbook (XLSX) as rows of text.</summary>
internal static class WorkbookFile
{
    private const int MostRows = 100_000;

    public static bool IsWorkbook(string path) => Path.GetExtension(path).Equals(".xlsx", StringComparison.OrdinalIgnoreCase);

    /// <summary>Rows from the sheet's first, empty ones too, so that row numbers are those of the sheet; null after a finding.</summary>
    /// <param name="decimalMark">Numbers are written with it, as in the job's other files.</param>
    public static TableText? Read(string path, string what, char decimalMark, FindingList findings)
    {
        if (!File.Exists(path))
        {
            // The reader of text files knows all that may be wrong with a name.
            TextFile.Read(path, what, findings);
            return null;
        }

        try
        {
            if (new FileInfo(path).Length > TextFile.MostBytes)
            {
                findings.Error("file-too-large", new(path), $"the file is too large for {what}", "check the name of the file");
                return null;
            }

            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            var rows = new List<string[]>();
            foreach (IDictionary<string, object?> row in MiniExcel.Query(stream, useHeaderRow: false, excelType: ExcelType.XLSX))
            {
                rows.Add([.. row.Values.Select(value => Text(value, decimalMark))]);
                if (rows.Count > MostRows)
                {
                    findings.Error("file-too-large", new(path, MostRows), $"the sheet has more than {MostRows} rows", "leave only the table in it");
                    return null;
                }
            }

            return new(null, rows);
        }
#pragma warning disable CA1031 // A damaged workbook makes the library throw whatever it likes; bad input is a finding.
        catch (Exception problem) when (problem is not OutOfMemoryException)
#pragma warning restore CA1031
        {
            findings.Error(
                "workbook-unreadable", new(path), $"{what} cannot be read as a workbook", "open it in a spreadsheet and save it as XLSX or CSV");
            return null;
        }
    }

    private static string Text(object? value, char decimalMark) => value switch
    {
        null => "",
        string text => text.Trim(),
        bool flag => flag ? "yes" : "no",
        // Shortest digits that give the same number: 0.1 stays 0.1.
        double number => Number(number).Replace('.', decimalMark),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString() ?? "",
    };

    private static string Number(double number) => double.IsFinite(number) && Math.Abs(number) < 1e15
        ? ((decimal)number).ToString(CultureInfo.InvariantCulture)
        : number.ToString(CultureInfo.InvariantCulture);
}
