using System.Collections.Frozen;
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
    private readonly IReadOnlyList<Column> columns;
    private readonly TableChoices choices;
    private readonly Dictionary<string, int> places = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> units = new(StringComparer.Ordinal);
    private readonly Dictionary<string, char> marks = new(StringComparer.Ordinal);
    private readonly Dictionary<int, string> reasons = [];
    private readonly HashSet<int> outranked = [];
    private readonly List<LeftOutRow> leftOut = [];
    // Every cell asks these; all columns are known by then.
    private FrozenDictionary<string, int>? placesKnown;
    private FrozenDictionary<string, char>? marksKnown;
    private RawRow head;

    private CsvTable(RawTable raw, IReadOnlyList<Column> columns, TableChoices choices) => (this.raw, this.columns, this.choices) = (raw, columns, choices);

    public string File => raw.File;

    public List<(int Line, RawCell[] Cells)> Rows { get; } = [];

    /// <summary>Row of the head.</summary>
    public int HeadLine => head.Line;

    /// <summary>Unit that a line above or below the table names for all of it, and that line.</summary>
    public (string Unit, string Line)? SheetUnit { get; private set; }

    /// <summary>Totals that stand under the table: row, column, text.</summary>
    public List<(int Row, string Column, string Text)> Totals { get; } = [];

    public TableChoices Choices => choices;

    public bool Has(string column) => places.ContainsKey(column);

    private bool Lacks(Column column) => column.Required && !Has(column.Name) && !(column.Unless is { } other && Has(other));

    /// <summary>Number of the column's cell in a row, from 1; 0 when the table has no such column.</summary>
    public int Place(string column) =>
        (placesKnown is { } known ? known.TryGetValue(column, out var place) : places.TryGetValue(column, out place)) ? place + 1 : 0;

    /// <summary>Unit that the column's head names, or the line of units under it: <c>mm</c>, <c>cm</c>, <c>m</c>, <c>in</c>.</summary>
    public string? UnitOf(string column) => units.GetValueOrDefault(column);

    /// <summary>The head as it is written.</summary>
    public string HeadOf(string column) => places.TryGetValue(column, out var place) ? head.At(place) : column;

    /// <summary>Decimal mark of the column's texts; '\0' where it stays open and the user was asked.</summary>
    public char MarkOf(string column) =>
        (marksKnown is { } known ? known.TryGetValue(column, out var mark) : marks.TryGetValue(column, out mark)) ? mark : '.';

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

        var table = new CsvTable(raw, columns, choices);
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

        table.head = raw.Rows[at];
        table.ReadHead(findings);
        table.ReadRows(at, findings);
        table.LookAtContents(findings);
        table.FindMarks(findings);
        (table.placesKnown, table.marksKnown) = (table.places.ToFrozenDictionary(StringComparer.Ordinal), table.marks.ToFrozenDictionary(StringComparer.Ordinal));
        table.TellLeftOut(findings);
        return findings.Errors > before && columns.Any(table.Lacks) ? null : table;
    }

    /// <summary>How it was understood; the unit is the reader's to say.</summary>
    public TableUnderstanding Understanding(LengthUnit unit, string reason) => new()
    {
        File = File,
        Kind = raw.Kind,
        Sheet = raw.Sheet,
        Sheets = [.. raw.Sheets],
        HeadRow = HeadLine,
        Columns = [.. Enumerable.Range(0, head.Cells.Length).Where(at => head.At(at).Length > 0).Select(Understood)],
        LeftOut = [.. leftOut],
        RowsRead = Rows.Count,
        Unit = unit,
        UnitReason = reason,
        Choices = choices,
    };

    /// <summary>Notes a row that the reader itself leaves out.</summary>
    public void LeaveOut(int line, string why, string text) => leftOut.Add(new(line, why, text));

    private UnderstoodColumn Understood(int at)
    {
        var meaning = places.FirstOrDefault(pair => pair.Value == at).Key;
        return new(at + 1, head.At(at), meaning, meaning is null ? null : UnitOf(meaning), meaning is null ? '.' : MarkOf(meaning), reasons.GetValueOrDefault(at, ""));
    }

    private static string Required(IEnumerable<Column> columns) => string.Join(", ", columns.Where(column => column.Required).Select(column => column.Name));

    private void ReadHead(FindingList findings)
    {
        for (var i = 0; i < head.Cells.Length; i++)
        {
            if (head.At(i).Length == 0)
            {
                continue;
            }

            var where = new SourcePosition(File, HeadLine, i + 1);
            var found = ColumnNames.Find(head.At(i), columns, choices);
            if (found.Column is not { } column)
            {
                if (found.Chosen is not null)
                {
                    reasons[i] = "left out as asked";
                }

                continue;
            }

            if (places.TryGetValue(column.Name, out var first))
            {
                if (found.Chosen is null && ColumnNames.Find(head.At(first), columns, choices).Chosen is not null)
                {
                    continue; // the user chose the other one
                }

                if (column.Ranked && found.Chosen is null)
                {
                    // Part number, name and description in one list: the one that names best is read, the others are not.
                    var (here, there) = (column.Rank(Words.Fold(found.Name)), column.Rank(Words.Fold(ColumnNames.Find(head.At(first), columns, choices).Name)));
                    places[column.Name] = here < there ? i : first;
                    if (here != there)
                    {
                        outranked.Add(here < there ? first : i);
                        continue;
                    }
                }

                reasons[i] = "there twice";
                findings.Error(
                    "column-twice", where, $"the column '{column.Name}' is there twice, also in column {first + 1}",
                    $"leave one of them out, or say which with --columns \"{head.At(i)} = none\"");
                continue;
            }

            places[column.Name] = i;
            if (found.Chosen is not null)
            {
                reasons[i] = "as asked";
            }

            if (found.Unit is { } unit && column.Kind is ColumnKind.Length or ColumnKind.Size)
            {
                units[column.Name] = unit;
            }
        }
    }

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

        var width = head.Cells.Length;
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
                TakeUnits(row);
                leftOut.Add(new(row.Line, "units", TextOf(row)));
            }
            else if (RowKind.Of(row, head, this, columns) is { } why)
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

    private void TakeUnits(RawRow row)
    {
        foreach (var column in columns.Where(column => column.Kind is ColumnKind.Length or ColumnKind.Size && Has(column.Name)))
        {
            if (ColumnNames.UnitOf(row.At(Place(column.Name) - 1)) is { } unit)
            {
                units.TryAdd(column.Name, unit);
            }
        }
    }

    private void TakeTotals(RawRow row, string why)
    {
        if (why != RowKind.Total)
        {
            return;
        }

        foreach (var column in columns.Where(column => column.Kind == ColumnKind.Whole && Has(column.Name)))
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
        if (row.Cells.Length == head.Cells.Length && row.Cells.Length > 2 && row.Cells.Count(cell => !cell.IsEmpty) > 2)
        {
            findings.Note("csv-comment", new(File, row.Line), "this line begins with # and is not read", "change its first cell if it is a row");
        }
    }

    /// <summary>Columns that are not known by their head: some are plain from what they hold, some look like one that is wanted.</summary>
    private void LookAtContents(FindingList findings)
    {
        var unread = Enumerable.Range(0, head.Cells.Length).Where(at => head.At(at).Length > 0 && !places.ContainsValue(at) && !reasons.ContainsKey(at)).ToList();
        foreach (var at in unread.ToList())
        {
            var where = new SourcePosition(File, HeadLine, at + 1);
            if (outranked.Contains(at) || !columns.Any(column => column.Looks is not null && !Has(column.Name)) || Sample(at) is not { Count: > 0 } cells)
            {
                continue;
            }

            var like = columns.FirstOrDefault(column => column.Looks is { } looks && !Has(column.Name) && cells.TrueForAll(cell => looks(cell)));
            if (like is { Required: false })
            {
                places[like.Name] = at;
                reasons[at] = $"every cell in it is a word for {like.Name}";
                unread.Remove(at);
                findings.Doubt(
                    "column-by-contents", where, $"the column '{head.At(at)}' is read as '{like.Name}', as it holds {Examples(cells)}",
                    $"--columns \"{head.At(at)} = none\" leaves it out");
            }
        }

        foreach (var column in columns.Where(Lacks))
        {
            Missing(column, unread, findings);
        }

        TellUnread(unread, findings);
    }

    private void Missing(Column column, List<int> unread, FindingList findings)
    {
        var like = unread.FirstOrDefault(at => column.Looks is { } looks && Sample(at) is { Count: > 0 } cells && cells.TrueForAll(cell => looks(cell)), -1);
        if (like < 0)
        {
            like = unread.FirstOrDefault(at => Near.Names(ColumnNames.Find(head.At(at), columns, choices).Name, [column.Name, .. column.Synonyms]).Count > 0, -1);
        }

        var also = column.Synonyms.Length == 0 ? "" : $" (also read: {string.Join(", ", column.Synonyms.Take(6))})";
        findings.Error(
            "column-missing", new(File, HeadLine), $"the column '{column.Name}' is missing",
            like >= 0 && unread.Remove(like) ? $"is it '{head.At(like)}'? Then say --columns \"{head.At(like)} = {column.Name}\"" : $"add it to the head{also}, or name the column that it is: --columns \"YOUR HEAD = {column.Name}\"");
    }

    private void TellUnread(List<int> unread, FindingList findings)
    {
        var plain = new List<string>();
        foreach (var at in unread)
        {
            // A name that is one slip of the pen away from a column that the table has not got is a slip of the pen.
            var name = ColumnNames.Find(head.At(at), columns, choices).Name;
            if (columns.FirstOrDefault(column => column.Was.Any(old => Words.Fold(old) == Words.Fold(name))) is { } renamed)
            {
                findings.Error(
                    "column-renamed", new(File, HeadLine, at + 1), $"the column '{head.At(at)}' is called '{renamed.Name}' now",
                    $"write '{renamed.Name}' in the head; the cells keep their meaning");
                continue;
            }

            var slip = columns.FirstOrDefault(column => !Has(column.Name) && Near.IsSlip(name, column.Name));
            if (slip is not null)
            {
                findings.Error("column-unknown", new(File, HeadLine, at + 1), $"there is no column '{head.At(at)}'", $"did you mean '{slip.Name}'? Else say --columns \"{head.At(at)} = none\"");
            }
            else
            {
                plain.Add(Counted.Start(head.At(at), 30));
            }
        }

        if (plain.Count > 0)
        {
            var where = new SourcePosition(File, HeadLine, unread.Count == 1 ? unread[0] + 1 : 0);
            findings.Note(
                "column-ignored", where, $"not read: {(plain.Count == 1 ? "column" : "columns")} {string.Join(", ", plain.Take(8))}{(plain.Count > 8 ? $" and {plain.Count - 8} more" : "")}",
                "--columns \"HEAD = column\" reads one");
        }
    }

    /// <summary>Filled cells of a column, at most two hundred.</summary>
    private List<string> Sample(int at) => [.. Rows.Where(row => at < row.Cells.Length && !row.Cells[at].IsEmpty).Take(200).Select(row => row.Cells[at].Text)];

    private static string Examples(List<string> cells) => string.Join(", ", cells.Distinct(StringComparer.OrdinalIgnoreCase).Take(3).Select(cell => Counted.Start(cell, 20)));

    /// <summary>The decimal mark of every column with numbers: as the user says, else from the column, else from all of them.</summary>
    private void FindMarks(FindingList findings)
    {
        var numbers = columns.Where(column => column.Kind != ColumnKind.Text && Has(column.Name)).ToList();
        if (choices.DecimalMark is { } said)
        {
            numbers.ForEach(column => marks[column.Name] = said);
            return;
        }

        var found = new Dictionary<Column, DecimalMarks>();
        foreach (var column in numbers)
        {
            var at = Place(column.Name) - 1;
            var evidence = found[column] = new();
            foreach (var (line, cells) in Rows)
            {
                if (at < cells.Length && cells[at].Kind == CellKind.Text)
                {
                    evidence.Add(cells[at].Text, line);
                }
            }
        }

        var commas = found.Values.Any(one => one.Comma is not null);
        var points = found.Values.Any(one => one.Point is not null);
        foreach (var (column, evidence) in found)
        {
            marks[column.Name] = MarkOf(column, evidence, commas, points, findings);
        }
    }

    private char MarkOf(Column column, DecimalMarks evidence, bool commas, bool points, FindingList findings)
    {
        if (evidence.Comma is var (commaRow, comma) && evidence.Point is var (pointRow, point))
        {
            findings.Error(
                "decimal-mixed", new(File, Math.Max(commaRow, pointRow), Place(column.Name)), $"{column.Name} has {comma} in row {commaRow}, but {point} in row {pointRow}",
                "write all numbers with one decimal mark");
            return '\0';
        }

        if (evidence.Comma is not null || evidence.Point is not null)
        {
            return evidence.Comma is not null ? ',' : '.';
        }

        // A point before three digits is a decimal one in a length (1.250 in), but nobody writes a number of pieces so.
        var open = evidence.OpenComma ?? (column.Kind == ColumnKind.Whole ? evidence.OpenPoint : null);
        if (commas != points)
        {
            if (open is var (row, number))
            {
                findings.Doubt(
                    "decimal-by-others", new(File, row, Place(column.Name)), $"{column.Name} {number} is read as {DecimalChoice(number, commas ? ',' : '.')}, as other numbers of the table have a decimal {(commas ? "comma" : "point")}",
                    $"--decimal {(commas ? "point" : "comma")} reads it the other way");
            }

            return commas ? ',' : '.';
        }

        if (open is var (openRow, text))
        {
            findings.Error(
                "decimal-open", new(File, openRow, Place(column.Name)), $"{column.Name} {text} may be {DecimalChoice(text, text.Contains(',') ? ',' : '.')} or {DecimalChoice(text, text.Contains(',') ? '.' : ',')}",
                $"--decimal comma reads {DecimalChoice(text, ',')}, --decimal point reads {DecimalChoice(text, '.')}");
            return '\0';
        }

        return evidence.OpenPoint is not null ? '.' : commas ? ',' : '.';
    }

    private static string DecimalChoice(string number, char mark) => DecimalMarks.WithoutGroups(number, mark).Replace(',', '.');

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
