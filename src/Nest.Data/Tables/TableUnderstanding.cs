using System.Collections.Immutable;
using Nest.Core.Quantities;

namespace Nest.Data.Tables;

/// <summary>How a table was understood: to be shown before anything is planned from it.</summary>
public sealed record TableUnderstanding
{
    public required string File { get; init; }

    /// <summary>What the file is, for people.</summary>
    public required string Kind { get; init; }

    public string? Sheet { get; init; }

    /// <summary>All sheets of the workbook.</summary>
    public ImmutableArray<string> Sheets { get; init; } = [];

    /// <summary>Row of the head.</summary>
    public required int HeadRow { get; init; }

    /// <summary>Every column with a head, in the order of the file.</summary>
    public required ImmutableArray<UnderstoodColumn> Columns { get; init; }

    /// <summary>Rows that hold something and were not read.</summary>
    public ImmutableArray<LeftOutRow> LeftOut { get; init; } = [];

    /// <summary>Rows that were read.</summary>
    public int RowsRead { get; init; }

    /// <summary>Unit of numbers that have none of their own; the columns tell those of heads.</summary>
    public LengthUnit Unit { get; init; }

    /// <summary>What was said of the table in place of what would be found out.</summary>
    public TableChoices Choices { get; init; } = TableChoices.None;

    /// <summary>Why that unit: <c>the head of 'Size (in)' names it</c>.</summary>
    public string UnitReason { get; init; } = "";
}

/// <summary>A column of a table.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Head">As written.</param>
/// <param name="Meaning">Our name for it; null: it is not read.</param>
/// <param name="Unit">Unit that its head names: <c>mm</c>, <c>in</c>, <c>cm</c>, <c>m</c>; null: none.</param>
/// <param name="DecimalMark">Mark of the numbers in its texts.</param>
/// <param name="Reason">Why it is read so, where that is not plain from the head; else empty.</param>
public sealed record UnderstoodColumn(int Number, string Head, string? Meaning, string? Unit, char DecimalMark, string Reason);

/// <summary>A row that was not read.</summary>
/// <param name="Why"><c>above the head</c>, <c>total</c>, <c>note</c>, <c>units</c>, <c>head again</c>, <c>no price</c>.</param>
/// <param name="Text">Its beginning.</param>
public sealed record LeftOutRow(int Row, string Why, string Text);
