using System.Buffers;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Tables;

/// <summary>The unit of bare numbers in a table, and why.</summary>
/// <param name="Assumed">Nothing says so.</param>
internal readonly record struct FoundUnit(LengthUnit Unit, string Reason, bool Assumed = false)
{
    /// <summary>Of the heads, the sheet, the user, the job, the cells, in this order; else millimetres.</summary>
    /// <param name="job">Unit of the job; null: it names none.</param>
    public static FoundUnit Of(CsvTable table, IEnumerable<string> sizes, LengthUnit? job)
    {
        var columns = sizes.Where(table.Has).ToList();
        if (table.Choices.Unit is { } said)
        {
            return new(said, "as asked");
        }

        foreach (var unit in (string[])["in", "mm", "cm", "m"])
        {
            // One head in inches makes it a list in inches; the other columns' bare numbers follow it.
            if (columns.Find(column => table.UnitOf(column) == unit) is { } column)
            {
                return new(UnitOf(unit), $"the head '{table.HeadOf(column)}' says {unit}");
            }
        }

        if (table.SheetUnit is var (sheet, line))
        {
            return new(UnitOf(sheet), $"the line {Counted.Start(line)} says so");
        }

        if (job is { } given)
        {
            return new(given, "the job says so");
        }

        var (inches, millimetres, fractions) = Cells(table, columns);
        return inches is not null && millimetres is null ? new(LengthUnit.Inch, $"cells such as {inches} are in inches")
            : millimetres is not null && inches is null ? new(LengthUnit.Millimetre, $"cells such as {millimetres} are in millimetres")
            : fractions is not null && millimetres is null ? new(LengthUnit.Inch, $"there are fractions such as {fractions}")
            : new(LengthUnit.Millimetre, "nothing says which unit", Assumed: true);
    }

    private static readonly SearchValues<char> Fractions = SearchValues.Create("/½¼¾⅛⅜⅝⅞⁄");

    /// <summary>A stroke between digits: <c>19 A/F</c> has none.</summary>
    private static bool HasFraction(string text)
    {
        for (var at = text.AsSpan().IndexOfAny(Fractions); at >= 0; at = text.IndexOfAny(['/', '⁄'], at + 1))
        {
            if (text[at] is not ('/' or '⁄') || (at > 0 && at + 1 < text.Length && char.IsAsciiDigit(text[at - 1]) && char.IsAsciiDigit(text[at + 1])))
            {
                return true;
            }
        }

        return false;
    }

    private static LengthUnit UnitOf(string unit) => unit == "in" ? LengthUnit.Inch : LengthUnit.Millimetre;

    private static (string? Inches, string? Millimetres, string? Fractions) Cells(CsvTable table, List<string> columns)
    {
        string? inches = null, millimetres = null, fractions = null;
        foreach (var column in columns)
        {
            var at = table.Place(column) - 1;
            foreach (var (_, cells) in table.Rows.Take(2000))
            {
                if (at >= cells.Length || cells[at].IsEmpty || cells[at].Kind != CellKind.Text)
                {
                    continue;
                }

                var text = cells[at].Text;
                inches ??= text.AsSpan().ContainsAny("\"”″'′") || EndsWith(text, "in") || EndsWith(text, "inch") || EndsWith(text, "ft") ? text : null;
                millimetres ??= EndsWith(text, "mm") || EndsWith(text, "cm") ? text : null;
                fractions ??= HasFraction(text) ? text : null;
            }
        }

        return (inches, millimetres, fractions);
    }

    private static bool EndsWith(string text, string unit) => text.TrimEnd('.').EndsWith(unit, StringComparison.OrdinalIgnoreCase)
        && text.Length > unit.Length + 1 && text.TrimEnd('.')[..^unit.Length].TrimEnd() is { Length: > 0 } before && char.IsAsciiDigit(before[^1]);
}
