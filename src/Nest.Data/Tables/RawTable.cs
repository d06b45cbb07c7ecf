namespace Nest.Data.Tables;

/// <summary>What a cell was in its file.</summary>
internal enum CellKind : byte
{
    /// <summary>Text as it was written; a number in it may have any decimal mark.</summary>
    Text,

    /// <summary>A number of a workbook, its text with a decimal point.</summary>
    Number,

    /// <summary>A day of a workbook, its text as 2026-03-02.</summary>
    Date,
}

/// <summary>A cell: its text, trimmed, and what it was.</summary>
internal readonly record struct RawCell(string Text, CellKind Kind = CellKind.Text)
{
    public bool IsEmpty => Text.Length == 0;
}

/// <summary>A row before anything is known of its columns.</summary>
/// <param name="Line">Line of the text, or row of the sheet, where it begins.</param>
/// <param name="Hidden">Whether the sheet hides it.</param>
internal readonly record struct RawRow(int Line, RawCell[] Cells, bool Hidden = false)
{
    public bool IsEmpty => Array.TrueForAll(Cells, cell => cell.IsEmpty);

    public bool IsComment => Cells.Length > 0 && Cells[0].Text.StartsWith('#') && Cells[0].Kind == CellKind.Text;

    public string At(int column) => column < Cells.Length ? Cells[column].Text ?? "" : "";
}

/// <summary>A table as it stands in its file.</summary>
/// <param name="File">Name in messages.</param>
/// <param name="Kind">What the file is, for people: <c>text with semicolons, UTF-16</c>, <c>sheet of a workbook (.xlsx)</c>.</param>
/// <param name="Rows">Rows that hold something, with those of a text that don't.</param>
internal sealed record RawTable(string File, string Kind, List<RawRow> Rows)
{
    /// <summary>Sheet that was read; null: the file has none.</summary>
    public string? Sheet { get; init; }

    /// <summary>All sheets of the file.</summary>
    public IReadOnlyList<string> Sheets { get; init; } = [];

    /// <summary>What was met on the way and is worth telling: rule, row, message, advice.</summary>
    public List<(string Rule, int Row, string Message, string Advice)> Notes { get; init; } = [];
}
