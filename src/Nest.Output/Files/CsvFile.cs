using System.Globalization;
using System.Text;
using CsvHelper;
using Nest.Core.Texts;

namespace Nest.Output.Files;

/// <summary>A table as CSV: commas, decimal points, UTF-8 without mark, line ends LF; safe to open in a spreadsheet.</summary>
public static class CsvFile
{
    /// <summary>The table as a file.</summary>
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
                    csv.WriteField(cell is string words ? SafeCell.Guard(words) : Convert.ToString(cell, CultureInfo.InvariantCulture) ?? "");
                }

                csv.EndRecord();
            }
        }

        return Encoding.UTF8.GetBytes(text.ToString());
    }
}
