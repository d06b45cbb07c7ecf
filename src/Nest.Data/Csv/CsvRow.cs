using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Texts;
using Nest.Data.Tables;

namespace Nest.Data.Csv;

/// <summary>How cells are read: the unit of bare numbers, and the decimal mark of the file where the job names one.</summary>
/// <param name="DecimalMark">Null: found from the numbers.</param>
internal readonly record struct Reads(LengthUnit Unit, char? DecimalMark);

/// <summary>One row with typed access; what is wrong goes to the findings with its position.</summary>
internal sealed class CsvRow(CsvTable table, int line, RawCell[] cells, Reads reads, FindingList findings)
{
    /// <summary>Longest size that is read: see <see cref="StockShape.Longest"/>.</summary>
    public static readonly Length LongestSize = StockShape.Longest;

    public bool Failed { get; private set; }

    /// <summary>The row cannot be read, for a reason that is told elsewhere.</summary>
    public void Fail() => Failed = true;

    public SourcePosition Where => new(table.File, line);

    public SourcePosition At(string column) => new(table.File, line, table.Place(column));

    public bool Has(string column) => Text(column).Length > 0;

    /// <summary>The cell's text; empty when the column or the cell is missing.</summary>
    public string Text(string column)
    {
        var text = Cell(column).Text ?? "";
        return text.Contains('\'') ? SafeCell.Bare(text) : text;
    }

    /// <summary>A name: on one line, printable, not longer than any label holds.</summary>
    public string Name(string column)
    {
        var text = Printable(column);
        if (text.Length > TableLimits.Name)
        {
            Error(column, "name-too-long", $"{column} has {text.Length} characters, at most {TableLimits.Name} are read", "shorten it, and put the rest into a note");
            return text[..TableLimits.Name];
        }

        return text;
    }

    /// <summary>A remark.</summary>
    public string Remark(string column)
    {
        var text = Printable(column);
        if (text.Length > TableLimits.Note)
        {
            Error(column, "note-too-long", $"{column} has {text.Length} characters, at most {TableLimits.Note} are read", "shorten it");
            return text[..TableLimits.Note];
        }

        return text;
    }

    /// <summary>The text on one line; characters that no paper shows, or that turn the writing round, are refused.</summary>
    private string Printable(string column)
    {
        var text = Text(column);
        if (text.AsSpan().ContainsAny('\n', '\r', '\t'))
        {
            text = string.Join(' ', text.Split((char[])['\n', '\r', '\t'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
        }

        foreach (var c in text)
        {
            if (char.IsControl(c) || c is >= '\u202A' and <= '\u202E' or >= '\u2066' and <= '\u2069')
            {
                Error(column, "name-unprintable", $"{column} has a character that cannot be printed (U+{(int)c:X4})", "type it again without it");
                return text;
            }
        }

        return text;
    }

    private RawCell Cell(string column)
    {
        var place = table.Place(column);
        return place == 0 || place > cells.Length ? default : cells[place - 1];
    }

    public string Required(string column)
    {
        var text = Text(column);
        if (text.Length == 0)
        {
            Error(column, "cell-missing", $"{column} is missing", $"fill in the column '{column}'");
        }

        return text;
    }

    public void Error(string column, string rule, string message, string advice)
    {
        Failed = true;
        findings.Error(rule, At(column), message, advice);
    }

    /// <summary>Material where the row names none; null: it must.</summary>
    public string? DefaultMaterial => table.Choices.Material;

    /// <summary>What the user said of a name of a material; null: nothing.</summary>
    public string? MaterialFor(string name) => table.Choices.MaterialFor(name);

    /// <summary>The row is read, with a doubt that the user should look at.</summary>
    public void Doubt(string column, string rule, string message, string advice) => findings.Doubt(rule, At(column), message, advice);

    public void Note(string column, string rule, string message, string advice) => findings.Note(rule, At(column), message, advice);

    /// <summary>A size above zero; null when the cell is empty or wrong.</summary>
    public Length? Size(string column) => Measure(column, zeroIsLegal: false);

    /// <summary>A length of zero or more.</summary>
    public Length? Distance(string column) => Measure(column, zeroIsLegal: true);

    public Length RequiredSize(string column) => Required(column).Length == 0 ? Length.Zero : Size(column) ?? Length.Zero;

    public decimal? Number(string column, decimal least, decimal most) => Number(column, least, most, counted: false);

    private decimal? Number(string column, decimal least, decimal most, bool counted)
    {
        if (!Has(column))
        {
            return null;
        }

        if (MarkOf(column) is not { } mark)
        {
            Fail(); // which mark it is was asked for the whole column
            return null;
        }

        var text = DecimalMarks.WithoutGroups(counted ? WithoutPieces(Text(column)) : Text(column), mark);
        var reading = NumberText.Read(text, mark);
        if (reading.Value is not { } value)
        {
            Unreadable(column, "number-unreadable", reading.Error, reading.Hint);
            return null;
        }

        if (value < least || value > most)
        {
            Error(column, "number-out-of-range", $"{column} is {Text(column)}", Range(least, most));
            return null;
        }

        return value;
    }

    /// <summary>4 for <c>4 pcs</c>.</summary>
    private static string WithoutPieces(string text)
    {
        var end = text.Length;
        while (end > 0 && (char.IsLetter(text[end - 1]) || text[end - 1] == '.'))
        {
            end--;
        }

        return end > 0 && end < text.Length && text[end..].ToLowerInvariant().TrimEnd('.') is "pcs" or "pc" or "pieces" or "piece" or "ea" or "each" or "off" or "st" or "stk" or "stück" or "pce" or "pces" or "pzas" or "x"
            ? text[..end].TrimEnd()
            : text;
    }

    public int? Whole(string column, int least, int most)
    {
        if (Number(column, least, most, counted: true) is not { } value)
        {
            return null;
        }

        if (value != decimal.Truncate(value))
        {
            Error(column, "number-not-whole", $"{column} is {Text(column)}", "write a whole number");
            return null;
        }

        return (int)value;
    }

    public bool? YesNo(string column) => Word(column, Words.YesNo, "yes or no");

    /// <summary>A word of a fixed set.</summary>
    public T? Word<T>(string column, Func<string, T?> meaning, string words)
        where T : struct
    {
        var text = Text(column);
        if (text.Length == 0)
        {
            return null;
        }

        var value = meaning(text);
        if (value is null)
        {
            Error(column, "word-unknown", $"{column} is '{text}'", $"write {words}");
        }

        return value;
    }

    /// <summary>A length in a text that is part of a cell, read as the cell would be.</summary>
    public Reading<Length> Read(string text, string column) =>
        LengthText.Read(InUnitOf(text, column), UnitOf(column), MarkOf(column) ?? '.');

    /// <summary>Unit of bare numbers of the column.</summary>
    public LengthUnit UnitOf(string column) => table.UnitOf(column) switch
    {
        "in" => LengthUnit.Inch,
        null => reads.Unit,
        _ => LengthUnit.Millimetre,
    };

    /// <summary>The text without groups of thousands; bare numbers of a column in centimetres or metres say so.</summary>
    public string InUnitOf(string text, string column)
    {
        var plain = MarkOf(column) is { } mark ? DecimalMarks.WithoutGroups(text, mark) : text;
        return table.UnitOf(column) is "cm" or "m" && plain.Length > 0 && char.IsAsciiDigit(plain[^1]) ? $"{plain} {table.UnitOf(column)}" : plain;
    }

    /// <summary>Decimal mark of the cell; null where it stays open for the column.</summary>
    public char? MarkOf(string column) => Cell(column).Kind == CellKind.Number ? '.' : table.MarkOf(column) is not '\0' and var mark ? mark : null;

    /// <summary>Reports a cell that cannot be read as what it should be.</summary>
    public void Unreadable(string column, string rule, string error, string hint)
    {
        if (Cell(column).Kind == CellKind.Date || LooksLikeDay(Text(column)))
        {
            Error(column, rule, $"{column} is a date, {Text(column)}", "a spreadsheet took a fraction such as 1/2 for a date: set the cell to text and type it again");
        }
        else
        {
            Error(column, rule, $"{column}: {error}", hint);
        }
    }

    // 2-Jan, 02. Jan, Jan 2, 1/2/2026, 2026-01-02
    private static bool LooksLikeDay(string text) => text.Length is >= 5 and <= 12
        && DateTime.TryParseExact(
            text, ["d-MMM", "d. MMM", "dd. MMM", "d MMM", "MMM d", "MMM-d", "d/M/yyyy", "M/d/yyyy", "yyyy-MM-dd", "d.M.yyyy", "dd.MM.yyyy", "d-MMM-yy"],
            CultureInfo.InvariantCulture, DateTimeStyles.AllowWhiteSpaces, out _);

    internal static string Range(decimal least, decimal most) =>
        $"write a number from {least.ToString(CultureInfo.InvariantCulture)} to {most.ToString(CultureInfo.InvariantCulture)}";

    private Length? Measure(string column, bool zeroIsLegal)
    {
        if (!Has(column))
        {
            return null;
        }

        if (MarkOf(column) is null)
        {
            Fail(); // which mark it is was asked for the whole column
            return null;
        }

        var reading = Read(Text(column), column);
        if (reading.Value is not { } length)
        {
            Unreadable(column, "length-unreadable", reading.Error, reading.Hint);
            return null;
        }

        return Sound(column, length, zeroIsLegal) ? length : null;
    }

    /// <summary>Whether a length may be a size; else a finding.</summary>
    public bool Sound(string column, Length length, bool zeroIsLegal = false)
    {
        if (length < Length.Zero || (length == Length.Zero && !zeroIsLegal))
        {
            Error(column, "length-not-positive", $"{column} is {Text(column)}", zeroIsLegal ? "write zero or more" : "write a length above zero");
            return false;
        }

        if (length > LongestSize)
        {
            Error(column, "length-too-long", $"{column} is {Text(column)}, longer than any stock (30 m)", "check the number and its unit");
            return false;
        }

        return true;
    }
}
