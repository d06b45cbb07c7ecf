using System.Collections.Frozen;
using Nest.Core.Jobs;
using Nest.Data.Tables;

namespace Nest.Data.Csv;

/// <summary>The decimal mark of every column with numbers: as the user says, else from the column, else from all of them.</summary>
internal sealed class ColumnMarks
{
    private readonly TableHead head;
    private readonly FindingList findings;
    // Every number asks for it.
    private readonly FrozenDictionary<string, char> marks;

    public ColumnMarks(TableHead head, IReadOnlyList<(int Line, RawCell[] Cells)> rows, FindingList findings)
    {
        (this.head, this.findings) = (head, findings);
        marks = Find(rows).ToFrozenDictionary(StringComparer.Ordinal);
    }

    /// <summary>Decimal mark of the column's texts; '\0' where it stays open and the user was asked.</summary>
    public char Of(string column) => marks.TryGetValue(column, out var mark) ? mark : '.';

    private Dictionary<string, char> Find(IReadOnlyList<(int Line, RawCell[] Cells)> rows)
    {
        var numbers = head.Columns.Where(column => column.Kind != ColumnKind.Text && head.Has(column.Name)).ToList();
        if (head.Choices.DecimalMark is { } said)
        {
            return numbers.Select(column => column.Name).Distinct(StringComparer.Ordinal).ToDictionary(name => name, _ => said, StringComparer.Ordinal);
        }

        var found = new Dictionary<Column, DecimalMarks>();
        foreach (var column in numbers)
        {
            var at = head.Place(column.Name) - 1;
            var evidence = found[column] = new();
            foreach (var (line, cells) in rows)
            {
                if (at < cells.Length && cells[at].Kind == CellKind.Text)
                {
                    evidence.Add(cells[at].Text, line);
                }
            }
        }

        var commas = found.Values.Any(one => one.Comma is not null);
        var points = found.Values.Any(one => one.Point is not null);
        return found.ToDictionary(one => one.Key.Name, one => MarkOf(one.Key, one.Value, commas, points), StringComparer.Ordinal);
    }

    private char MarkOf(Column column, DecimalMarks evidence, bool commas, bool points)
    {
        if (evidence.Comma is var (commaRow, comma) && evidence.Point is var (pointRow, point))
        {
            findings.Error(
                "decimal-mixed", new(head.File, Math.Max(commaRow, pointRow), head.Place(column.Name)), $"{column.Name} has {comma} in row {commaRow}, but {point} in row {pointRow}",
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
                    "decimal-by-others", new(head.File, row, head.Place(column.Name)), $"{column.Name} {number} is read as {DecimalChoice(number, commas ? ',' : '.')}, as other numbers of the table have a decimal {(commas ? "comma" : "point")}",
                    $"--decimal {(commas ? "point" : "comma")} reads it the other way");
            }

            return commas ? ',' : '.';
        }

        if (open is var (openRow, text))
        {
            findings.Error(
                "decimal-open", new(head.File, openRow, head.Place(column.Name)), $"{column.Name} {text} may be {DecimalChoice(text, text.Contains(',') ? ',' : '.')} or {DecimalChoice(text, text.Contains(',') ? '.' : ',')}",
                $"--decimal comma reads {DecimalChoice(text, ',')}, --decimal point reads {DecimalChoice(text, '.')}");
            return '\0';
        }

        return evidence.OpenPoint is not null ? '.' : commas ? ',' : '.';
    }

    private static string DecimalChoice(string number, char mark) => DecimalMarks.WithoutGroups(number, mark).Replace(',', '.');
}
