using System.Collections.Immutable;
using System.Text;
using Nest.Data.Csv;
using Nest.Data.Tables;

namespace Nest.Data.Parts;

/// <summary>A row of a parts list: the line of the text where it begins, and its cells as written, without quotes.</summary>
public sealed record PartsTextRow(int Line, ImmutableArray<string> Cells)
{
    /// <summary>Stays with the row through every change of the list, as its line does not; no other row of the list has it.</summary>
    public int Key { get; init; }

    /// <param name="place">Number of the cell, from 1.</param>
    public string At(int place) => place >= 1 && place <= Cells.Length ? Cells[place - 1] : "";
}

/// <summary>A parts list that a person wrote as text, of which single rows are changed: every other byte stays as it is – comments, blank lines, titles, totals,
/// quotes, line ends.</summary>
/// <remarks>A change gives a new value, so that an earlier one is an undo. Each reads the text anew: O(length of the text).</remarks>
public sealed class PartsText
{
    private readonly string text;
    private readonly char separator;
    private readonly bool marked;
    private readonly TableChoices choices;
    private readonly Dictionary<int, (int Start, int End)> spans = [];

    // The next key that no row has had.
    private readonly int unused;

    /// <param name="keys">Of the rows in their order. Where there are more or fewer rows than that, each gets a new one.</param>
    private PartsText(string text, char separator, bool marked, string file, TableChoices choices, IReadOnlyCollection<int> keys, int unused)
    {
        (this.text, this.separator, this.marked, this.choices, File) = (text, separator, marked, choices, file);
        var findings = new FindingList();
        var table = CsvTable.Of(TableSource.Read(text, file, row => Score(row, choices), findings), PartsReader.Columns, choices, findings);
        var reader = new SeparatedText(text, separator);
        var all = new Dictionary<int, RawRow>();
        for (var start = 0; reader.Next() is { } row; start = reader.At)
        {
            spans[row.Line] = (start, reader.At);
            all[row.Line] = row;
        }

        HeadLine = table?.HeadLine ?? 0;
        var rows = table?.Rows ?? [];
        var known = keys.Count == rows.Count;
        this.unused = known ? unused : unused + rows.Count;
        Rows = [.. rows.Zip(known ? keys : Enumerable.Range(unused, rows.Count), (row, key) => new PartsTextRow(row.Line, [.. row.Cells.Select(cell => cell.Text ?? "")]) { Key = key })];
        Columns = table is null ? [] : [.. all[HeadLine].Cells.Select((cell, at) => (at + 1, cell.Text ?? "", Meaning(table, at + 1))).Where(column => column.Item2.Length > 0)];
    }

    /// <summary>What is said of the table.</summary>
    public TableChoices Choices => choices;

    /// <summary>Name of the file, as findings have it.</summary>
    public string File { get; }

    public int HeadLine { get; }

    /// <summary>The rows that are read as parts, in the order of the file.</summary>
    public ImmutableArray<PartsTextRow> Rows { get; }

    /// <summary>The columns with a head: number of the cell from 1, head as written, our name; null: it is not read.</summary>
    public ImmutableArray<(int Place, string Head, string? Meaning)> Columns { get; }

    /// <summary>Reads a list; null where it is no text (a workbook) or has no head.</summary>
    /// <param name="choices">What is said of the table, as <see cref="TableUnderstanding.Choices"/> has it.</param>
    public static PartsText? Read(byte[] bytes, string file, TableChoices choices)
    {
        if (bytes is [0x50, 0x4B, ..] or [0xD0, 0xCF, ..] || TextDecoder.Decode(bytes, out _) is not var (decoded, _))
        {
            return null;
        }

        // A line that only names the separator stays in the text: it is a comment of the same length.
        var (separator, _) = TableSource.SeparatorOf(decoded, row => Score(row, choices));
        var read = new PartsText(decoded, separator, bytes is [0xEF, 0xBB, 0xBF, ..], file, choices, [], 1);
        return read.HeadLine > 0 && read.Columns.Any(column => column.Meaning is not null) ? read : null;
    }

    /// <summary>The list as UTF-8, with the mark that it had.</summary>
    public byte[] Bytes() => marked ? [.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(text)] : Encoding.UTF8.GetBytes(text);

    /// <summary>The list with another text in one cell.</summary>
    /// <param name="line">Line of the row.</param>
    /// <param name="place">Number of the cell, from 1.</param>
    public PartsText With(int line, int place, string cell)
    {
        var row = Rows.First(one => one.Line == line);
        var cells = row.Cells.ToList();
        while (cells.Count < place)
        {
            cells.Add("");
        }

        cells[place - 1] = cell;
        return Replaced(line, Written(cells));
    }

    /// <summary>The list with a row more, behind another one.</summary>
    /// <param name="after">Line of the row, or 0: behind the last one.</param>
    public PartsText Added(IReadOnlyList<string> cells, int after = 0)
    {
        var (_, end) = spans[after > 0 ? after : Rows.IsEmpty ? HeadLine : Rows[^1].Line];
        var broken = end == 0 || text[end - 1] is not ('\n' or '\r');
        var at = after > 0 ? Rows.TakeWhile(row => row.Line != after).Count() + 1 : Rows.Length;
        int[] keys = [.. Keys.Take(at), unused, .. Keys.Skip(at)];
        return Of(text[..end] + (broken ? LineEnd : "") + Written(cells) + (broken ? "" : LineEnd) + text[end..], keys, unused + 1);
    }

    /// <summary>The list without a row.</summary>
    public PartsText Without(int line)
    {
        var (start, end) = spans[line];
        return Of(text[..start] + text[end..], KeysWithout(line), unused);
    }

    /// <summary>The list with rows left blank, so that every other row keeps its line.</summary>
    public PartsText Blanked(IReadOnlyCollection<int> lines)
    {
        var blank = new StringBuilder(text);
        foreach (var (start, end) in lines.Where(spans.ContainsKey).Select(line => spans[line]))
        {
            for (var at = start; at < end; at++)
            {
                blank[at] = blank[at] is '\n' or '\r' ? blank[at] : ' ';
            }
        }

        return Of(blank.ToString(), [.. Rows.Where(row => !lines.Contains(row.Line)).Select(row => row.Key)], unused);
    }

    /// <summary>Number of the cell of a column, from 1; 0: there is no such column.</summary>
    public int Place(string meaning) => Columns.FirstOrDefault(column => column.Meaning == meaning).Place;

    private string LineEnd => text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";

    private IEnumerable<int> Keys => Rows.Select(row => row.Key);

    private int[] KeysWithout(int line) => [.. Rows.Where(row => row.Line != line).Select(row => row.Key)];

    private PartsText Of(string changed, IReadOnlyCollection<int> keys, int next) => new(changed, separator, marked, File, choices, keys, next);

    private PartsText Replaced(int line, string row)
    {
        var (start, end) = spans[line];
        var body = end;
        while (body > start && text[body - 1] is '\n' or '\r')
        {
            body--;
        }

        // A row whose cells are all emptied is none any more; the others are the same as before.
        var changed = text[..start] + row + text[body..];
        return Of(changed, [.. Keys], unused) is var next && next.Rows.Length == Rows.Length ? next : Of(changed, KeysWithout(line), unused);
    }

    private string Written(IEnumerable<string> cells) => string.Join(separator, cells.Select((cell, at) => Quoted(cell, at == 0)));

    private string Quoted(string cell, bool first)
    {
        var plain = cell.ReplaceLineEndings(" ").Trim();
        // A row that begins with # would be a comment.
        plain = first ? plain.TrimStart('#').TrimStart() : plain;
        return plain.Contains(separator) || plain.StartsWith('"') ? $"\"{plain.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : plain;
    }

    private static int Score(RawRow row, TableChoices choices) => HeadFinder.Score(row, PartsReader.Columns, choices);

    private static string? Meaning(CsvTable table, int place) => PartsReader.Columns.FirstOrDefault(column => table.Place(column.Name) == place)?.Name;
}
