namespace Nest.Data.Csv;

/// <summary>A table that is not yet read into columns: the text of a CSV file, or the rows of a workbook.</summary>
/// <param name="Text">CSV; null where there are rows.</param>
/// <param name="Rows">Cells as text.</param>
internal sealed record TableText(string? Text, IReadOnlyList<string[]>? Rows)
{
    /// <summary>The cells of the head, roughly split: only for looking which columns may be there.</summary>
    public IEnumerable<string> Head() => Rows is { } rows
        ? rows.FirstOrDefault(row => row.Any(cell => cell.Length > 0) && !row[0].StartsWith('#')) ?? []
        : Text!.Split('\n').FirstOrDefault(line => line.Trim() is { Length: > 0 } body && !body.TrimStart('"').StartsWith('#') && !body.StartsWith("sep=", StringComparison.OrdinalIgnoreCase))
            ?.Split([',', ';', '\t', '|']).Select(cell => cell.Trim(' ', '"', '\r')) ?? [];

    public CsvTable? Table(string file, IReadOnlyList<Column> columns, FindingList findings) => Rows is { } rows
        ? CsvTable.Of(rows, file, columns, findings)
        : CsvTable.Read(Text!, file, columns, findings);
}
