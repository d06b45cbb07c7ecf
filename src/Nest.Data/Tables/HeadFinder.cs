using Nest.Data.Csv;

namespace Nest.Data.Tables;

/// <summary>Finds the head of a table: the row in which most columns are known.</summary>
internal static class HeadFinder
{
    /// <summary>Rows that may stand above a head.</summary>
    public const int MostAbove = 60;

    /// <summary>How many of the columns a row names.</summary>
    public static int Score(RawRow row, IReadOnlyList<Column> columns, TableChoices choices)
    {
        if (row.Cells.Length == 0 || row.IsComment)
        {
            return 0;
        }

        var seen = new HashSet<Column>();
        foreach (var cell in row.Cells)
        {
            if (cell.Kind == CellKind.Text && cell.Text.Length is > 0 and <= 60 && ColumnNames.Find(cell.Text, columns, choices).Column is { } column)
            {
                seen.Add(column);
            }
        }

        return seen.Count;
    }

    /// <summary>Number of the head's row in the table; -1: the table is empty.</summary>
    public static int Find(RawTable table, IReadOnlyList<Column> columns, TableChoices choices)
    {
        var (best, most, first, looked) = (-1, 0, -1, 0);
        for (var at = 0; at < table.Rows.Count && looked < MostAbove; at++)
        {
            var row = table.Rows[at];
            if (row.IsEmpty || row.IsComment)
            {
                continue;
            }

            looked++;
            first = first < 0 ? at : first;
            var score = Score(row, columns, choices);
            if (score > most)
            {
                (best, most) = (at, score);
            }
        }

        // One known word alone may stand in a title.
        return most >= 2 ? best : first;
    }
}
