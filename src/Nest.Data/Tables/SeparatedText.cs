using System.Text;

namespace Nest.Data.Tables;

/// <summary>Splits text into rows and cells at a separator, O(n).</summary>
/// <remarks>RFC 4180 with what people write: a quote begins a quoted cell only at the cell's start, so <c>5/8"</c> is plain text; blanks
/// around cells don't count; lines end with LF, CR LF or CR. A row's line is that of its first character.</remarks>
internal sealed class SeparatedText(string text, char separator)
{
    private readonly StringBuilder quoted = new();
    private readonly List<RawCell> cells = [];
    private readonly TextKeeper keeper = new();
    private int at;
    private int line = 1;

    /// <summary>What is wrong, by row: rule, message, advice.</summary>
    public List<(int Row, string Rule, string Message, string Advice)> Faults { get; } = [];

    /// <param name="mostRows">Reading stops after so many rows.</param>
    public List<RawRow> Rows(int mostRows)
    {
        var rows = new List<RawRow>();
        while (rows.Count < mostRows && Next() is { } row)
        {
            rows.Add(row);
        }

        return rows;
    }

    /// <summary>Where the next row begins in the text.</summary>
    public int At => at;

    /// <summary>The next row; null at the end.</summary>
    public RawRow? Next()
    {
        if (at >= text.Length)
        {
            return null;
        }

        cells.Clear();
        var first = line;
        Row(cells, first);
        return new(first, [.. cells]);
    }

    /// <summary>Whether text is left.</summary>
    public bool More => at < text.Length;

    private void Row(List<RawCell> into, int row)
    {
        while (true)
        {
            SkipBlanks();
            var cell = at < text.Length && text[at] == '"' ? Quoted(row) : Plain();
            if (into.Count < TableLimits.Columns)
            {
                if (cell.Length > TableLimits.CellText)
                {
                    Fault(row, "cell-too-long", $"a cell has {cell.Length} characters, at most {TableLimits.CellText} are read", "shorten it, or look for a quote that is not closed");
                    cell = "";
                }

                into.Add(new(cell));
            }
            else if (into.Count == TableLimits.Columns && cell.Length > 0)
            {
                Fault(row, "row-too-wide", $"the row has more than {TableLimits.Columns} cells", "save only the table, or check the separator");
                into.Add(new(""));
            }

            if (at >= text.Length)
            {
                return;
            }

            if (text[at] == separator)
            {
                at++;
                if (at >= text.Length)
                {
                    into.Add(new(""));
                }

                continue;
            }

            EndLine();
            return;
        }
    }

    private void EndLine()
    {
        at += text[at] == '\r' && at + 1 < text.Length && text[at + 1] == '\n' ? 2 : 1;
        line++;
    }

    private void SkipBlanks()
    {
        while (at < text.Length && text[at] is ' ' or '\t' or '\u00A0' && text[at] != separator)
        {
            at++;
        }
    }

    private string Plain()
    {
        var end = text.AsSpan(at).IndexOfAny(separator, '\n', '\r');
        var cell = end < 0 ? text.AsSpan(at) : text.AsSpan(at, end);
        at += cell.Length;
        return keeper.Of(cell.Trim());
    }

    private string Quoted(int row)
    {
        quoted.Clear();
        at++;
        while (true)
        {
            var rest = text.AsSpan(at);
            var end = rest.IndexOf('"');
            if (end < 0)
            {
                Fault(row, "csv-quote", "a quoted cell begins here and never ends", "close the quote, or double it if it is an inch mark at the start of the cell");
                at = text.Length;
                return "";
            }

            Add(rest[..end]);
            at += end + 1;
            if (at < text.Length && text[at] == '"')
            {
                quoted.Append('"');
                at++;
                continue;
            }

            break;
        }

        var after = Plain();
        if (after.Length > 0)
        {
            Fault(row, "csv-quote", "there is text behind a closing quote", "write a quote inside a quoted cell twice, as \"4' 2\"\"\"");
        }

        return quoted.ToString().Trim();

        void Add(ReadOnlySpan<char> part)
        {
            line += part.Count('\n') + LoneReturns(part);
            quoted.Append(part[..Math.Min(part.Length, Math.Max(0, TableLimits.CellText + 1 - quoted.Length))]);
        }
    }

    private static int LoneReturns(ReadOnlySpan<char> part)
    {
        var count = 0;
        for (var i = 0; i < part.Length; i++)
        {
            count += part[i] == '\r' && (i + 1 == part.Length || part[i + 1] != '\n') ? 1 : 0;
        }

        return count;
    }

    private void Fault(int row, string rule, string message, string advice)
    {
        // One fault of a kind for a row says all.
        if (Faults.Count < 1000 && (Faults.Count == 0 || Faults[^1].Row != row || Faults[^1].Rule != rule))
        {
            Faults.Add((row, rule, message, advice));
        }
    }
}
