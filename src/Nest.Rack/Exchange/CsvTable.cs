using System.Globalization;
using System.Text;

namespace Nest.Rack.Exchange;

/// <summary>Writes a table as CSV (RFC 4180): commas, decimal points, UTF-8, safe to open in a spreadsheet.</summary>
public static class CsvTable
{
    public static byte[] Bytes(IReadOnlyList<string> heads, IEnumerable<object?[]> rows) =>
        Encoding.UTF8.GetBytes(Text(heads, rows.Select(row => row.Select(cell => cell is string text ? SafeCell.Guard(text) : cell))));

    /// <summary>As text, cells as they are.</summary>
    internal static string Text(IReadOnlyList<string>? heads, IEnumerable<IEnumerable<object?>> rows)
    {
        var text = new StringBuilder();
        if (heads is not null)
        {
            Line(heads);
        }

        foreach (var row in rows)
        {
            Line(row);
        }

        return text.ToString();

        void Line(IEnumerable<object?> cells) => text.AppendJoin(',', cells.Select(Cell)).Append('\n');
    }

    private static string Cell(object? value)
    {
        var cell = Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
        return cell.AsSpan().IndexOfAny(",\"\n\r#") >= 0 || cell != cell.Trim() ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell;
    }
}
