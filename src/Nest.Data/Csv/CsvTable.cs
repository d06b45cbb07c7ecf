using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Tables;

namespace Nest.Data.Csv;

/// <summary>A table whose head was found: its columns by name, its rows as cells.</summary>
/// <remarks>The head is the row that names most columns; what stands above it, totals, remarks, units and a head that comes again are left
/// out and named. A position is file:row:column: the line of the text or row of the sheet where the row begins, the number of the cell.</remarks>
internal sealed class CsvTable
{
    private readonly RawTable raw;
    private readonly TableHead head;
    private readonly List<LeftOutRow> leftOut = [];
    private ColumnMarks? marks;

    private CsvTable(RawTable raw, TableHead head) => (this.raw, this.head) = (raw, head);

    public string File => raw.File;

    public List<(int Line, RawCell[] Cells)> Rows { get; } = [];

    /// <summary>Row of the head.</summary>
    public int HeadLine => head.Line;

    /// <summary>Unit that a line above or below the table names for all of it, and that line.</summary>
    public (string Unit, string Line)? SheetUnit { get; private set; }

    /// <summary>Totals that stand under the table: row, column, text.</summary>
    public List<(int Row, string Column, string Text)> Totals { get; } = [];

    public TableChoices Choices => head.Choices;

    public bool Has(string column) => head.Has(column);

    /// <inheritdoc cref="TableHead.Place"/>
    public int Place(string column) => head.Place(column);

    /// <inheritdoc cref="TableHead.UnitOf"/>
    public string? UnitOf(string column) => head.UnitOf(column);

    /// <summary>The head as it is written.</summary>
    public string HeadOf(string column) => head.TextOf(column);

    /// <inheritdoc cref="ColumnMarks.Of"/>
    public char MarkOf(string column) => marks?.Of(column) ?? '.';

    /// <summary>A table in our own files; null after findings that leave nothing to go on with.</summary>
    public static CsvTable? Read(string text, string file, IReadOnlyList<Column> columns, FindingList findings) =>
        Of(TableSource.Read(text, file, row => HeadFinder.Score(row, columns, TableChoices.None), findings), columns, TableChoices.None with { DecimalMark = '.' }, findings);

    /// <summary>A table of a file; null after findings that leave nothing to go on with.</summary>
    public static CsvTable? ReadFile(string path, string what, IReadOnlyList<Column> columns, TableChoices choices, FindingList findings) =>
        Of(TableSource.ReadFile(path, what, choices, row => HeadFinder.Score(row, columns, choices), findings), columns, choices, findings);

    /// <summary>A table from the bytes of a file; null after findings that leave nothing to go on with.</summary>
    public static CsvTable? Read(byte[] bytes, string file, string what, IReadOnlyList<Column> columns, TableChoices choices, FindingList findings) =>
        Of(TableSource.Read(bytes, file, what, choices, row => HeadFinder.Score(row, columns, choices), findings), columns, choices, findings);

    /// <summary>A table from its rows.</summary>
    public static CsvTable? Of(RawTable? raw, IReadOnlyList<Column> columns, TableChoices choices, FindingList findings)
    {
        if (raw is null)
        {
            return null;
        }

        var before = findings.Errors;
        foreach (var (rule, row, message, advice) in raw.Notes)
        {
            findings.Note(rule, new(raw.File, row), message, advice);
        }

        var at = HeadFinder.Find(raw, columns, choices);
        if (at < 0)
        {
            findings.Error("csv-no-head", new(raw.File), "the table has no head", $"begin it with a line that names the columns: {Required(columns)}");
            return null;
        }

        var head = new TableHead(raw.File, raw.Rows[at], columns, choices);
        head.Find(findings);
        var table = new CsvTable(raw, head);
        table.ReadRows(at, findings);
        new UnnamedColumns(head, table.Rows, findings).Look();
        head.Close();
        table.marks = new(head, table.Rows, findings);
        table.TellLeftOut(findings);
        return findings.Errors > before && columns.Any(head.Lacks) ? null : table;
    }

    /// <summary>How it was understood; the unit is the reader's to say.</summary>
    public TableUnderstanding Understanding(LengthUnit unit, string reason) => new()
    {
        File = File,
        Kind = raw.Kind,
        Sheet = raw.Sheet,
        Sheets = [.. raw.Sheets],
        HeadRow = HeadLine,
        Columns = [.. Enumerable.Range(0, head.Width).Where(at => head.At(at).Length > 0).Select(Understood)],
        LeftOut = [.. leftOut],
        RowsRead = Rows.Count,
        Unit = unit,
        UnitReason = reason,
        Choices = Choices,
    };

    private UnderstoodColumn Understood(int at)
    {
        var meaning = head.Meaning(at);
        return new(at + 1, head.At(at), meaning, meaning is null ? null : UnitOf(meaning), meaning is null ? '.' : MarkOf(meaning), head.Reason(at));
    }

    private static string Required(IEnumerable<Column> columns) => string.Join(", ", columns.Where(column => column.Required).Select(column => column.Name));

    private void ReadRows(int at, FindingList findings)
    {
        for (var above = 0; above < at; above++)
        {
            if (raw.Rows[above] is { IsEmpty: false, IsComment: false } row)
            {
                NoteUnit(row);
                leftOut.Add(new(row.Line, "above the head", TextOf(row)));
            }
        }

        var width = head.Width;
        while (width > 0 && head.At(width - 1).Length == 0)
        {
            width--;
        }

        var first = true;
        for (var i = at + 1; i < raw.Rows.Count; i++)
        {
            var row = raw.Rows[i];
            if (row.IsEmpty)
            {
                continue;
            }

            if (row.IsComment)
            {
                NoteComment(row, findings);
                continue;
            }

            if (first && UnitWords.IsRow(row))
            {
                head.TakeUnits(row);
                leftOut.Add(new(row.Line, "units", TextOf(row)));
            }
            else if (RowKind.Of(row, head) is { } why)
            {
                NoteUnit(row);
                TakeTotals(row, why);
                leftOut.Add(new(row.Line, why, TextOf(row)));
            }
            else
            {
                AddRow(row, width, findings);
            }

            first = false;
        }
    }

    private void TakeTotals(RawRow row, string why)
    {
        if (why != RowKind.Total)
        {
            return;
        }

        foreach (var column in head.Columns.Where(column => column.Kind == ColumnKind.Whole && Has(column.Name)))
        {
            if (row.At(Place(column.Name) - 1) is { Length: > 0 } text)
            {
                Totals.Add((row.Line, column.Name, text));
            }
        }
    }

    private void NoteUnit(RawRow row)
    {
        foreach (var cell in row.Cells)
        {
            if (SheetUnit is null && UnitWords.In(cell.Text) is { } unit)
            {
                SheetUnit = (unit, cell.Text);
            }
        }
    }

    private void AddRow(RawRow row, int width, FindingList findings)
    {
        var used = row.Cells.Length;
        while (used > width && row.At(used - 1).Length == 0)
        {
            used--;
        }

        if (used > width && raw.Sheet is null)
        {
            findings.Error(
                "row-too-long", new(File, row.Line, width + 1), $"this row has {used} cells, but the head has {width}",
                "put quotes around a cell that has the separator in it, or separate by semicolons where numbers have decimal commas");
            return;
        }

        Rows.Add((row.Line, row.Cells));
    }

    private void NoteComment(RawRow row, FindingList findings)
    {
        // A part whose name begins with # would vanish without a word.
        if (row.Cells.Length == head.Width && row.Cells.Length > 2 && row.Cells.Count(cell => !cell.IsEmpty) > 2)
        {
            findings.Note("csv-comment", new(File, row.Line), "this line begins with # and is not read", "change its first cell if it is a row");
        }
    }

    private void TellLeftOut(FindingList findings)
    {
        if (leftOut.Count == 0)
        {
            return;
        }

        var parts = leftOut.GroupBy(row => row.Why).Select(group =>
            $"{Counted.Rows([.. group.Select(row => row.Row)])} ({group.Key}: {string.Join(", ", group.Take(3).Select(row => Counted.Start(row.Text)))}{(group.Count() > 3 ? " …" : "")})");
        findings.Note("rows-left-out", new(File, leftOut[0].Row), $"not read: {string.Join("; ", parts)}", "");
    }

    private static string TextOf(RawRow row) => string.Join(" ", row.Cells.Where(cell => !cell.IsEmpty).Take(6).Select(cell => cell.Text.Length > 60 ? cell.Text[..60] : cell.Text));
}
