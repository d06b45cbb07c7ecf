using System.Text.RegularExpressions;

namespace Nest.Data.Tables;

/// <summary>Looks for a line that says which unit a whole sheet is in: <c>All dimensions in inches</c>, <c>Maße in mm</c>, <c>Units: in</c>.</summary>
internal static partial class UnitWords
{
    /// <summary><c>mm</c>, <c>cm</c> or <c>in</c>; null: the line says none.</summary>
    public static string? In(string line)
    {
        if (line.Length > 400)
        {
            return null;
        }

        var match = Sentence().Match(line);
        return match.Success ? ColumnNames.UnitOf(match.Groups["unit"].Value) : null;
    }

    /// <summary>Whether a row under a head holds only units, and a unit of length among them.</summary>
    public static bool IsRow(RawRow row)
    {
        var length = false;
        foreach (var cell in row.Cells)
        {
            if (cell.IsEmpty)
            {
                continue;
            }

            var unit = ColumnNames.UnitOf(cell.Text);
            length |= unit is not null;
            if (unit is null && Words.Fold(cell.Text) is not ("pcs" or "pc" or "kg" or "lb" or "lbs" or "stk" or "ea" or "nr" or "no" or "g" or "eur" or "usd" or "text"))
            {
                return false;
            }
        }

        return length;
    }

    [GeneratedRegex(
        """\b(?:dimensions?|sizes?|measure(?:ment)?s?|lengths?|units?|ma(?:ß|ss)e|abmessungen|angaben|einheit(?:en)?|cotes|unités?|mesures|medidas|dimensiones|unidad(?:es)?|cotas)\b[^.;]{0,30}?(?:\b(?:in|en|are)\s+|[:=(\[]\s*)(?<unit>mm|millimet(?:er|re)s?|cm|inch(?:es)?|in|zoll|pouces?|pulgadas?|")(?=$|[\s.,;)\]!])""",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Sentence();
}
