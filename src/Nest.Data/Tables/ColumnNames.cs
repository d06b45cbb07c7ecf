using System.Text.RegularExpressions;
using Nest.Data.Csv;

namespace Nest.Data.Tables;

/// <summary>What a head means: which column, and which unit it names.</summary>
internal static partial class ColumnNames
{
    /// <param name="Unit"><c>mm</c>, <c>cm</c>, <c>m</c> or <c>in</c>; null: none.</param>
    /// <param name="Chosen">What the user said of the head; null: nothing.</param>
    public readonly record struct Found(Column? Column, string Name, string? Unit, string? Chosen);

    public static Found Find(string head, IReadOnlyList<Column> columns, TableChoices choices)
    {
        // Programs join the words of a head with an underscore: length_mm.
        var text = string.Join(' ', head.Replace('_', ' ').Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        var (name, unit) = SplitUnit(text);
        if (choices.NamesColumns && (choices.ColumnFor(Words.Fold(text)) ?? choices.ColumnFor(Words.Fold(name))) is { } chosen)
        {
            var wanted = Words.Fold(chosen);
            var named = columns.FirstOrDefault(column => column.Answers(wanted));
            if (named is not null || wanted is "none" or "")
            {
                return new(named, name, unit, chosen);
            }

            // What is said of a column that this kind of table has not got is said of another table.
        }

        var folded = Words.Fold(name);
        if (folded.Length == 0)
        {
            return new(null, name, unit, null);
        }

        var found = columns.FirstOrDefault(column => column.Answers(folded));
        if (found is null && unit is not null)
        {
            // "kg" or "Ø in" may be all of the name.
            var whole = Words.Fold(text);
            found = columns.FirstOrDefault(column => column.Answers(whole));
        }

        if (found is null && name.LastIndexOfAny(['(', '[']) is > 0 and var open && name[^1] is ')' or ']')
        {
            // "Size (T x W x L)", "Qty (per set)": what stands in brackets explains.
            var before = Words.Fold(name[..open]);
            found = before.Length == 0 ? null : columns.FirstOrDefault(column => column.Answers(before));
        }

        return new(found, name, unit, null);
    }

    /// <summary>Takes a unit off the end of a head: <c>length (mm)</c>, <c>width [in]</c>, <c>Länge in mm</c>, <c>L, mm</c>, <c>T "</c>.</summary>
    internal static (string Name, string? Unit) SplitUnit(string head)
    {
        var match = UnitAtEnd().Match(head);
        if (!match.Success || match.Groups["name"].Value.Trim().Length == 0)
        {
            return (head, null);
        }

        var unit = UnitOf(match.Groups["unit"].Value);
        return unit is null ? (head, null) : (match.Groups["name"].Value.TrimEnd(' ', ',', '/', ':', '-'), unit);
    }

    /// <summary>A word for a unit of length: <c>mm</c>, <c>cm</c>, <c>m</c> or <c>in</c>; null: none.</summary>
    public static string? UnitOf(string word) => word.Trim(' ', '.', '(', ')', '[', ']').ToLowerInvariant() switch
    {
        "mm" or "millimeter" or "millimetre" or "millimeters" or "millimetres" or "milímetros" or "milimetros" or "millimètres" => "mm",
        "cm" or "centimeter" or "centimetre" or "zentimeter" => "cm",
        "m" or "metre" or "meter" or "mètre" => "m",
        "in" or "inch" or "inches" or "ins" or "\"" or "''" or "”" or "″" or "zoll" or "pouce" or "pouces" or "pulgada" or "pulgadas" => "in",
        _ => null,
    };

    [GeneratedRegex(
        """^(?<name>.*?)(?:\s*[\(\[]\s*(?:in\s+)?(?<unit>[\p{L}"'”″]+)\.?\s*[\)\]]|(?:[\s,/:]+in|[\s,/:-])\s*(?<unit>mm|cm|inch(?:es)?|zoll|pouces?|pulgadas?|in|["”″])\.?)\s*$""",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex UnitAtEnd();
}
