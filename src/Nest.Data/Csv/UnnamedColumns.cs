using Nest.Core.Jobs;
using Nest.Data.Tables;

namespace Nest.Data.Csv;

/// <summary>Columns that are not known by their head: some are plain from what they hold, some look like one that is wanted; the rest is told.</summary>
internal sealed class UnnamedColumns(TableHead head, IReadOnlyList<(int Line, RawCell[] Cells)> rows, FindingList findings)
{
    private readonly IReadOnlyList<Column> columns = head.Columns;

    /// <summary>Looks at what the columns hold; what is found goes into the head.</summary>
    public void Look()
    {
        var unread = head.Unread();
        foreach (var at in unread.ToList())
        {
            var where = new SourcePosition(head.File, head.Line, at + 1);
            if (head.IsOutranked(at) || !columns.Any(column => column.Looks is not null && !head.Has(column.Name)) || Sample(at) is not { Count: > 0 } cells)
            {
                continue;
            }

            var like = columns.FirstOrDefault(column => column.Looks is { } looks && !head.Has(column.Name) && cells.TrueForAll(cell => looks(cell)));
            if (like is { Required: false })
            {
                head.Read(at, like, $"every cell in it is a word for {like.Name}");
                unread.Remove(at);
                findings.Doubt(
                    "column-by-contents", where, $"the column '{head.At(at)}' is read as '{like.Name}', as it holds {Examples(cells)}",
                    $"--columns \"{head.At(at)} = none\" leaves it out");
            }
        }

        foreach (var column in columns.Where(head.Lacks))
        {
            Missing(column, unread);
        }

        TellUnread(unread);
    }

    private void Missing(Column column, List<int> unread)
    {
        var like = unread.FirstOrDefault(at => column.Looks is { } looks && Sample(at) is { Count: > 0 } cells && cells.TrueForAll(cell => looks(cell)), -1);
        if (like < 0)
        {
            like = unread.FirstOrDefault(at => Near.Names(ColumnNames.Find(head.At(at), columns, head.Choices).Name, [column.Name, .. column.Synonyms]).Count > 0, -1);
        }

        var also = column.Synonyms.Length == 0 ? "" : $" (also read: {string.Join(", ", column.Synonyms.Take(6))})";
        findings.Error(
            "column-missing", new(head.File, head.Line), $"the column '{column.Name}' is missing",
            like >= 0 && unread.Remove(like) ? $"is it '{head.At(like)}'? Then say --columns \"{head.At(like)} = {column.Name}\"" : $"add it to the head{also}, or name the column that it is: --columns \"YOUR HEAD = {column.Name}\"");
    }

    private void TellUnread(List<int> unread)
    {
        var plain = new List<string>();
        foreach (var at in unread)
        {
            // A name that is one slip of the pen away from a column that the table has not got is a slip of the pen.
            var name = ColumnNames.Find(head.At(at), columns, head.Choices).Name;
            if (columns.FirstOrDefault(column => column.Was.Any(old => Words.Fold(old) == Words.Fold(name))) is { } renamed)
            {
                findings.Error(
                    "column-renamed", new(head.File, head.Line, at + 1), $"the column '{head.At(at)}' is called '{renamed.Name}' now",
                    $"write '{renamed.Name}' in the head; the cells keep their meaning");
                continue;
            }

            var slip = columns.FirstOrDefault(column => !head.Has(column.Name) && Near.IsSlip(name, column.Name));
            if (slip is not null)
            {
                findings.Error("column-unknown", new(head.File, head.Line, at + 1), $"there is no column '{head.At(at)}'", $"did you mean '{slip.Name}'? Else say --columns \"{head.At(at)} = none\"");
            }
            else
            {
                plain.Add(Counted.Start(head.At(at), 30));
            }
        }

        if (plain.Count > 0)
        {
            var where = new SourcePosition(head.File, head.Line, unread.Count == 1 ? unread[0] + 1 : 0);
            findings.Note(
                "column-ignored", where, $"not read: {(plain.Count == 1 ? "column" : "columns")} {string.Join(", ", plain.Take(8))}{(plain.Count > 8 ? $" and {plain.Count - 8} more" : "")}",
                "--columns \"HEAD = column\" reads one");
        }
    }

    /// <summary>Filled cells of a column, at most two hundred.</summary>
    private List<string> Sample(int at) => [.. rows.Where(row => at < row.Cells.Length && !row.Cells[at].IsEmpty).Take(200).Select(row => row.Cells[at].Text)];

    private static string Examples(List<string> cells) => string.Join(", ", cells.Distinct(StringComparer.OrdinalIgnoreCase).Take(3).Select(cell => Counted.Start(cell, 20)));
}
