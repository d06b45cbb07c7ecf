using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Data.Csv;

/// <summary>How cells are read: the shop's unit and the file's decimal mark.</summary>
internal readonly record struct Reads(LengthUnit Unit, char DecimalMark);

/// <summary>One row with typed access; what is wrong goes to the findings with its position.</summary>
internal sealed class CsvRow(CsvTable table, int line, string[] cells, Reads reads, FindingList findings)
{
    /// <summary>Longest size that is read: see <see cref="StockShape.Longest"/>.</summary>
    public static readonly Length LongestSize = StockShape.Longest;

    public bool Failed { get; private set; }

    public SourcePosition Where => new(table.File, line);

    public SourcePosition At(string column) => new(table.File, line, table.Place(column));

    public bool Has(string column) => Text(column).Length > 0;

    /// <summary>The cell's text; empty when the column or the cell is missing.</summary>
    public string Text(string column)
    {
        var place = table.Place(column);
        return place == 0 || place > cells.Length ? "" : cells[place - 1];
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

    /// <summary>The row failed for something that was told elsewhere.</summary>
    public void Fail() => Failed = true;

    public void Note(string column, string rule, string message, string advice) => findings.Note(rule, At(column), message, advice);

    /// <summary>A size above zero; null when the cell is empty or wrong.</summary>
    public Length? Size(string column) => Measure(column, zeroIsLegal: false);

    /// <summary>A length of zero or more.</summary>
    public Length? Distance(string column) => Measure(column, zeroIsLegal: true);

    public Length RequiredSize(string column) => Required(column).Length == 0 ? Length.Zero : Size(column) ?? Length.Zero;

    public decimal? Number(string column, decimal least, decimal most)
    {
        if (!Has(column))
        {
            return null;
        }

        var reading = NumberText.Read(Text(column), reads.DecimalMark);
        if (reading.Value is not { } value)
        {
            Error(column, "number-unreadable", $"{column}: {reading.Error}", reading.Hint);
            return null;
        }

        if (value < least || value > most)
        {
            Error(column, "number-out-of-range", $"{column} is {Text(column)}", Range(least, most));
            return null;
        }

        return value;
    }

    public int? Whole(string column, int least, int most)
    {
        if (Number(column, least, most) is not { } value)
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
    public Reading<Length> Read(string text, string column) => LengthText.Read(text, table.UnitOf(column) ?? reads.Unit, reads.DecimalMark);

    public char DecimalMark => reads.DecimalMark;

    internal static string Range(decimal least, decimal most) =>
        $"write a number from {least.ToString(CultureInfo.InvariantCulture)} to {most.ToString(CultureInfo.InvariantCulture)}";

    private Length? Measure(string column, bool zeroIsLegal)
    {
        if (!Has(column))
        {
            return null;
        }

        var reading = Read(Text(column), column);
        if (reading.Value is not { } length)
        {
            Error(column, "length-unreadable", $"{column}: {reading.Error}", reading.Hint);
            return null;
        }

        if (length < Length.Zero || (length == Length.Zero && !zeroIsLegal))
        {
            Error(column, "length-not-positive", $"{column} is {Text(column)}", zeroIsLegal ? "write zero or more" : "write a length above zero");
            return null;
        }

        if (length > LongestSize)
        {
            Error(column, "length-too-long", $"{column} is {Text(column)}, longer than any stock (30 m)", "check the number and its unit");
            return null;
        }

        return length;
    }
}
