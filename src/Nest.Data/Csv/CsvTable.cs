using System.Globalization;
using System.Text;
using CsvHelper;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Data.Csv;

/// <summary>A table read from CSV: its columns by name, its rows as text.</summary>
/// <remarks>The first line that is neither empty nor a comment (<c>#</c>) is the head. Comma, semicolon, tab and | are detected as
/// separators. A head may name the unit of its column: <c>length (mm)</c>, <c>width [in]</c>. Position of a cell: line of the file
/// where its row begins, number of the cell in the row. An inch mark in a cell that is not quoted is text, as <c>1/2"</c>.</remarks>
internal sealed class CsvTable
{
    private readonly Dictionary<string, int> places = new(StringComparer.Ordinal);
    private readonly Dictionary<string, LengthUnit> units = new(StringComparer.Ordinal);

    private CsvTable(string file) => File = file;

    public string File { get; }

    public List<(int Line, string[] Cells)> Rows { get; } = [];

    /// <summary>Line of the head.</summary>
    public int HeadLine { get; private set; }

    public bool Has(string column) => places.ContainsKey(column);

    /// <summary>Number of the column's cell in a row, from 1; 0 when the table has no such column.</summary>
    public int Place(string column) => places.TryGetValue(column, out var place) ? place + 1 : 0;

    /// <summary>Unit that the column's head names.</summary>
    public LengthUnit? UnitOf(string column) => units.TryGetValue(column, out var unit) ? unit : null;

    public bool NamesInches => units.ContainsValue(LengthUnit.Inch);

    /// <summary>The table of rows that were read from elsewhere (a workbook); row numbers count from 1.</summary>
    public static CsvTable? Of(IEnumerable<string[]> rows, string file, IReadOnlyList<Column> columns, FindingList findings)
    {
        var table = new CsvTable(file);
        var before = findings.Errors;
        string[]? head = null;
        var line = 0;
        foreach (var cells in rows)
        {
            line++;
            if (cells.All(cell => cell.Length == 0) || cells[0].StartsWith('#'))
            {
                continue;
            }

            if (head is null)
            {
                head = [.. cells.Reverse().SkipWhile(cell => cell.Length == 0).Reverse()];
                table.HeadLine = line;
                table.ReadHead(head, columns, findings);
            }
            else
            {
                table.AddRow(line, cells, head, findings);
            }
        }

        return table.Checked(head, before, columns, findings);
    }

    private CsvTable? Checked(string[]? head, int before, IReadOnlyList<Column> columns, FindingList findings)
    {
        if (head is null)
        {
            findings.Error("csv-no-head", new(File), "the table has no head", $"begin it with a line that names the columns: {Names(columns)}");
        }

        return head is null || (findings.Errors > before && columns.Any(column => column.Required && !Has(column.Name))) ? null : this;
    }

    /// <summary>Reads the table; null after findings that leave nothing to go on with.</summary>
    public static CsvTable? Read(string text, string file, IReadOnlyList<Column> columns, FindingList findings)
    {
        var table = new CsvTable(file);
        char? hinted = null;
        if (text.StartsWith("sep=", StringComparison.OrdinalIgnoreCase) && text.Length > 4)
        {
            // Some spreadsheets name the separator in a line of its own; as a comment it keeps the line numbers right.
            hinted = text[4];
            text = "#" + text[1..];
        }

        var before = findings.Errors;
        string[]? head = null;
        var malformed = new List<CsvMalformedRecord>();
        var options = CsvReaderOptions.Default with
        {
            HasHeader = false,
            Separator = hinted is { } given && ",;\t|".Contains(given) ? given : Separator(text),
            TrimWhitespace = true,
            TrackLineNumbers = true,
            SkipEmptyLines = true,
            FormatProvider = CultureInfo.InvariantCulture,
            OnMalformedRecord = malformed.Add,
        };
        try
        {
            using var reader = CsvReader.Create(Encoding.UTF8.GetBytes(text), options);
            while (reader.Read())
            {
                var cells = new string[reader.FieldCount];
                for (var i = 0; i < cells.Length; i++)
                {
                    cells[i] = reader.GetString(i).Trim();
                }

                var line = (int)reader.LineNumber;
                if (cells.All(cell => cell.Length == 0))
                {
                    continue;
                }

                if (cells[0].StartsWith('#'))
                {
                    table.NoteComment(line, cells, head, findings);
                }
                else if (head is null)
                {
                    head = cells;
                    table.HeadLine = line;
                    table.ReadHead(cells, columns, findings);
                }
                else
                {
                    table.AddRow(line, cells, head, findings);
                }
            }
        }
        catch (CsvFormatException problem)
        {
            findings.Error("csv-malformed", new(file, (int)problem.LineNumber), "this row cannot be read as CSV", "check its quotes");
        }

        foreach (var record in malformed)
        {
            table.Report(record, findings);
        }

        return table.Checked(head, before, columns, findings);
    }

    private static string Names(IEnumerable<Column> columns) => string.Join(", ", columns.Where(column => column.Required).Select(column => column.Name));

    /// <summary>The candidate that the head has most of, outside quotes; rows with decimal commas or lists must not decide.</summary>
    private static char Separator(string text)
    {
        var head = text.Split('\n').FirstOrDefault(line => line.Trim() is { Length: > 0 } body && !body.TrimStart('"').StartsWith('#')) ?? "";
        var quoted = false;
        Span<int> counts = stackalloc int[4];
        const string candidates = ",;\t|";
        foreach (var c in head)
        {
            quoted ^= c == '"';
            var at = candidates.IndexOf(c);
            if (!quoted && at >= 0)
            {
                counts[at]++;
            }
        }

        var best = 0;
        for (var i = 1; i < counts.Length; i++)
        {
            best = counts[i] > counts[best] ? i : best;
        }

        return candidates[best];
    }

    private void NoteComment(int line, string[] cells, string[]? head, FindingList findings)
    {
        // A part whose name begins with # would vanish without a word.
        if (head is not null && cells.Length == head.Length && cells.Length > 2 && cells.Count(cell => cell.Length > 0) > 2)
        {
            findings.Note("csv-comment", new(File, line), "this line begins with # and is not read", "change its first cell if it is a row");
        }
    }

    private void ReadHead(string[] cells, IReadOnlyList<Column> columns, FindingList findings)
    {
        for (var i = 0; i < cells.Length; i++)
        {
            var (name, unit) = SplitUnit(cells[i]);
            var where = new SourcePosition(File, HeadLine, i + 1);
            var folded = Words.Fold(name);
            if (folded.Length == 0)
            {
                continue;
            }

            if (columns.FirstOrDefault(column => column.Was.Any(old => Words.Fold(old) == folded)) is { } renamed)
            {
                findings.Error(
                    "column-renamed", where, $"the column '{cells[i]}' is called '{renamed.Name}' now",
                    $"write '{renamed.Name}' in the head; the cells keep their meaning");
                continue;
            }

            if (columns.FirstOrDefault(column => column.Answers(folded)) is not { } column)
            {
                var near = Near.Names(name, columns.Select(known => known.Name));
                if (near.Count > 0)
                {
                    findings.Error("column-unknown", where, $"there is no column '{cells[i]}'", Near.Hint(name, columns.Select(known => known.Name)));
                }
                else
                {
                    findings.Note("column-ignored", where, $"the column '{cells[i]}' is not read", $"known columns: {string.Join(", ", columns.Select(known => known.Name))}");
                }

                continue;
            }

            if (!places.TryAdd(column.Name, i))
            {
                findings.Error("column-twice", where, $"the column '{column.Name}' is there twice, also in column {places[column.Name] + 1}", "leave one of them out");
                continue;
            }

            if (unit is { } given)
            {
                units[column.Name] = given;
            }
        }

        foreach (var column in columns.Where(column => column.Required && !places.ContainsKey(column.Name)))
        {
            var also = column.Synonyms.Length == 0 ? "" : $" (also read: {string.Join(", ", column.Synonyms)})";
            findings.Error("column-missing", new(File, HeadLine), $"the column '{column.Name}' is missing", $"add it to the head{also}");
        }
    }

    private static (string Name, LengthUnit? Unit) SplitUnit(string head)
    {
        var open = head.LastIndexOfAny(['(', '[']);
        if (open < 0 || head[^1] is not (')' or ']'))
        {
            return (head, null);
        }

        return head[(open + 1)..^1].Trim().ToLowerInvariant() switch
        {
            "mm" => (head[..open], LengthUnit.Millimetre),
            "in" or "inch" or "inches" or "\"" => (head[..open], LengthUnit.Inch),
            _ => (head, null),
        };
    }

    private void AddRow(int line, string[] cells, string[] head, FindingList findings)
    {
        var used = cells.Length;
        while (used > head.Length && cells[used - 1].Length == 0)
        {
            used--;
        }

        if (used > head.Length)
        {
            findings.Error(
                "row-too-long", new(File, line, head.Length + 1), $"this row has {used} cells, but the head has {head.Length}",
                "put quotes around a cell that has the separator in it, or declare decimal commas and separate by semicolons");
            return;
        }

        Rows.Add((line, cells));
    }

    private void Report(CsvMalformedRecord record, FindingList findings)
    {
        var where = new SourcePosition(File, (int)record.LineNumber);
        switch (record.Reason)
        {
            case CsvMalformedReason.UnterminatedQuote:
                findings.Error("csv-quote", where, "a quoted cell begins here and never ends", "close the quote, or double it if it is an inch mark at the start of the cell");
                break;
            case CsvMalformedReason.TextAfterClosingQuote:
                findings.Error("csv-quote", where, "there is text behind a closing quote", "write a quote inside a quoted cell twice, as \"4' 2\"\"\"");
                break;
            default:
                break; // an inch mark inside a cell that is not quoted is just text
        }
    }
}
