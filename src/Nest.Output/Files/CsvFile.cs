using System.Globalization;
using System.Text;
using CsvHelper;

namespace Nest.Output.Files;

/// <summary>A table as CSV: commas, decimal points, UTF-8 without mark, line ends LF; safe to open in a spreadsheet.</summary>
internal static class CsvFile
{
    public static byte[] Bytes(Sheet sheet)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using (var csv = CsvWriter.Create(text, CsvWriterOptions.Default with { NewLine = "\n" }, true))
        {
            foreach (var head in sheet.Heads)
            {
                csv.WriteField(head);
            }

            csv.EndRecord();
            foreach (var row in sheet.Rows)
            {
                foreach (var cell in row)
                {
                    csv.WriteField(cell is string words ? Safe(words) : Convert.ToString(cell, CultureInfo.InvariantCulture) ?? "");
                }

                csv.EndRecord();
            }
        }

        return Encoding.UTF8.GetBytes(text.ToString());
    }

    /// <summary>A text that a spreadsheet would take for a formula gets an apostrophe in front; so do those that have one already, so
    /// that taking one off gives the text back.</summary>
    public static string Safe(string text) =>
        text.Length > 0 && text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' or '\'' ? "'" + text : text;
}
