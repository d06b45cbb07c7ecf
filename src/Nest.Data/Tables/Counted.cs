using System.Globalization;

namespace Nest.Data.Tables;

/// <summary>Numbers in messages.</summary>
internal static class Counted
{
    public static string Of(int count, string one, string many) => string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many)}");

    /// <summary><c>row 3</c>, <c>rows 3, 5-9 and 12</c>; at most eight places.</summary>
    public static string Rows(IReadOnlyList<int> rows)
    {
        var parts = new List<string>();
        for (var i = 0; i < rows.Count; i++)
        {
            var from = i;
            while (i + 1 < rows.Count && rows[i + 1] == rows[i] + 1)
            {
                i++;
            }

            parts.Add(i == from ? Number(rows[i]) : i == from + 1 ? $"{Number(rows[from])}, {Number(rows[i])}" : $"{Number(rows[from])}-{Number(rows[i])}");
        }

        var more = parts.Count > 8 ? $" and more" : "";
        return $"{(rows.Count == 1 ? "row" : "rows")} {string.Join(", ", parts.Take(8))}{more}";

        static string Number(int row) => row.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>The beginning of a text in quotes, on one line.</summary>
    public static string Start(string text, int most = 40)
    {
        var line = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return $"'{(line.Length > most ? line[..most] + "…" : line)}'";
    }
}
