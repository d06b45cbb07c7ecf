using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Nest.Output.Files;

/// <summary>Formats of the workbook's numbers: money and shares to two places, masses to three; and columns as wide as what stands in
/// them. The library writes every number plain, so its style sheet and sheets are completed here.</summary>
/// <remarks>Of SpreadsheetML (ECMA-376 part 1, 18.8): built-in format 4 is <c>#,##0.00</c>, own formats begin at 164; a cell names its style by
/// its place among <c>cellXfs</c>.</remarks>
internal static partial class NumberFormats
{
    private const int Thousandths = 164;
    private const int Widest = 60;

    // Heads of the columns whose decimals are money or shares.
    private static readonly string[] Money =
    [
        "price_listed_each", "price_each", "price_total", "rack_value_total", "yield_percent", "metal", "saw", "saw_cost", "facing", "offcut_credit", "scrap_credit", "cost_each",
        "cost_total", "total", "per_piece", "value_each", "value",
    ];

    /// <summary>The style sheet with two styles more: like the plain one, but with a number format.</summary>
    public static string Styles(string xml)
    {
        var count = int.Parse(CellStyles().Match(xml).Groups[1].Value, CultureInfo.InvariantCulture);
        var plain = PlainStyle(xml);
        var more = plain.Replace("numFmtId=\"0\"", "numFmtId=\"4\"", StringComparison.Ordinal)
            + plain.Replace("numFmtId=\"0\"", $"numFmtId=\"{Thousandths}\"", StringComparison.Ordinal);
        return xml.Replace("<x:numFmts count=\"0\"></x:numFmts>", $"<x:numFmts count=\"1\"><x:numFmt numFmtId=\"{Thousandths}\" formatCode=\"0.000\" /></x:numFmts>", StringComparison.Ordinal)
            .Replace($"<x:cellXfs count=\"{count}\">", $"<x:cellXfs count=\"{count + 2}\">", StringComparison.Ordinal)
            .Replace("</x:cellXfs>", more + "</x:cellXfs>", StringComparison.Ordinal);
    }

    /// <summary>A sheet whose decimal cells name their style, with the widths of its columns.</summary>
    public static string Cells(string xml, Sheet sheet)
    {
        var styles = sheet.Heads.Select(StyleOf).ToArray();
        var formatted = NumberCell().Replace(xml, match =>
        {
            var column = ColumnOf(match.Groups["column"].Value);
            var row = int.Parse(match.Groups["row"].Value, CultureInfo.InvariantCulture) - 2;
            return styles[column] is { } style && row >= 0 && row < sheet.Rows.Count && sheet.Rows[row][column] is decimal
                ? $"<x:c r=\"{match.Groups["column"].Value}{match.Groups["row"].Value}\" t=\"n\" s=\"{style}\">"
                : match.Value;
        });
        var widths = new StringBuilder("<x:cols>");
        for (var at = 0; at < sheet.Heads.Count; at++)
        {
            var widest = sheet.Rows.Select(row => at < row.Length ? Convert.ToString(row[at], CultureInfo.InvariantCulture)!.Length : 0).Append(sheet.Heads[at].Length).Max();
            widths.Append(CultureInfo.InvariantCulture, $"<x:col min=\"{at + 1}\" max=\"{at + 1}\" width=\"{Math.Min(widest, Widest) + 2}\" customWidth=\"1\" />");
        }

        return formatted.Replace("<x:sheetData>", widths.Append("</x:cols><x:sheetData>").ToString(), StringComparison.Ordinal);
    }

    // The library's sheets have six styles, the third is the plain cell; ours follow.
    private static int? StyleOf(string head) => Money.Contains(head) ? 6 : head.StartsWith("mass_", StringComparison.Ordinal) ? 7 : null;

    private static string PlainStyle(string xml)
    {
        var from = xml.IndexOf("<x:cellXfs", StringComparison.Ordinal);
        for (var at = 0; at < 3; at++)
        {
            from = xml.IndexOf("<x:xf ", from + 1, StringComparison.Ordinal);
        }

        return xml[from..(xml.IndexOf("</x:xf>", from, StringComparison.Ordinal) + "</x:xf>".Length)];
    }

    private static int ColumnOf(string letters) => letters.Aggregate(0, (sum, letter) => (sum * 26) + letter - 'A' + 1) - 1;

    [GeneratedRegex("<x:cellXfs count=\"([0-9]+)\">")]
    private static partial Regex CellStyles();

    [GeneratedRegex("<x:c r=\"(?<column>[A-Z]+)(?<row>[0-9]+)\" t=\"n\" s=\"2\">")]
    private static partial Regex NumberCell();
}
