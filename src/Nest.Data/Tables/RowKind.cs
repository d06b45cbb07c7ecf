using Nest.Data.Csv;

namespace Nest.Data.Tables;

/// <summary>Tells rows of a table from what else stands under a head.</summary>
internal static class RowKind
{
    public const string Total = "total";

    private static readonly HashSet<string> TotalWords = new(StringComparer.Ordinal)
    {
        "total", "totals", "totalqty", "totalquantity", "totalpieces", "totalparts", "totalpcs", "grandtotal", "subtotal", "sum", "overall", "summe", "gesamt", "gesamtsumme", "zwischensumme",
        "insgesamt", "gesamtstuckzahl", "somme", "totalgeneral", "totalgeneral", "soustotal", "suma", "totales", "total", "totalgeneral", "totalpiezas", "totalpieces",
    };

    /// <summary>Why the row is not one of the table; null: it is one.</summary>
    public static string? Of(RawRow row, TableHead head)
    {
        var filled = 0;
        foreach (var cell in row.Cells)
        {
            filled += cell.IsEmpty ? 0 : 1;
        }

        if (filled > 2 && filled >= head.Width / 2 && SameTexts(row, head.Row))
        {
            return "head again";
        }

        var (keys, sizes) = (0, 0);
        var wide = 0;
        foreach (var column in head.Columns)
        {
            if (!column.Key || !head.Has(column.Name))
            {
                continue;
            }

            wide++;
            if (row.At(head.Place(column.Name) - 1).Length > 0)
            {
                keys++;
                sizes += column.Kind is ColumnKind.Length or ColumnKind.Size || column.Name == "material" ? 1 : 0;
            }
        }

        if (sizes == 0 && row.Cells.Any(cell => IsTotal(cell.Text)))
        {
            return Total;
        }

        // A single filled cell is a remark, or the head of a group.
        return wide > 2 && (keys == 0 || filled == 1) ? "note" : null;
    }

    private static bool IsTotal(string text)
    {
        if (text.Length is 0 or > 60)
        {
            return false;
        }

        var end = text.IndexOfAny([':', '(', '=', '–']);
        return TotalWords.Contains(Words.Fold(end > 0 ? text[..end] : text)) || text is "Σ" or "∑";
    }

    private static bool SameTexts(RawRow row, RawRow head)
    {
        for (var i = 0; i < Math.Max(row.Cells.Length, head.Cells.Length); i++)
        {
            if (!string.Equals(row.At(i), head.At(i), StringComparison.OrdinalIgnoreCase))
            {
                return false;
            }
        }

        return true;
    }
}
