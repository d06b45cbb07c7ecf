using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Parts;

/// <summary>Reads the size of a part that has no model and is no section.</summary>
internal static class PartSizeCells
{
    /// <summary>What the one text of a size says; empty without such a text.</summary>
    public static SizeReading TextOf(CsvRow row, LengthUnit unit)
    {
        const string column = PartColumns.Size;
        return row.Has(column) && row.MarkOf(column) is { } mark ? SizeText.Read(row.InUnitOf(row.Text(column), column), row.UnitOf(column), mark) : new([], "", "");
    }

    /// <summary>From the columns of single sizes, or from one text; null after a finding.</summary>
    public static PartSize? Read(CsvRow row, SizeOrder order, Forms forms)
    {
        if (!row.Has(PartColumns.Size))
        {
            var round = row.Has("diameter");
            var length = row.RequiredSize("length");
            var (width, thickness) = round ? Round(row) : (row.RequiredSize("width"), row.RequiredSize("thickness"));
            return row.Failed ? null : new(round, length, width, thickness);
        }

        if (row.MarkOf(PartColumns.Size) is null)
        {
            row.Fail(); // which mark it is was asked for the whole column
            return null;
        }

        var reading = TextOf(row, row.UnitOf(PartColumns.Size));
        if (reading.Error.Length > 0)
        {
            row.Unreadable(PartColumns.Size, "size-unreadable", reading.Error, reading.Hint);
            return null;
        }

        var sides = reading.Items.All(item => row.Sound(PartColumns.Size, item.Length));
        if (!sides || order.Read(row, reading.Items, forms == Forms.RoundBar ? true : null) is not { } size)
        {
            return null;
        }

        foreach (var (column, here) in new (string, Length?)[] { ("length", size.Length), ("width", size.Round ? null : size.Width), ("thickness", size.Round ? null : size.Thickness), ("diameter", size.Round ? size.Width : null) })
        {
            if (row.Has(column) && here is { } known && row.Size(column) is { } other && other != known)
            {
                row.Error(column, "size-twice", $"{column} is {row.Text(column)}, but the size {row.Text(PartColumns.Size)} says otherwise", "correct one of them, or leave one empty");
            }
        }

        return size with { Thickness = size.Thickness ?? row.Size("thickness") };
    }

    private static (Length Width, Length Thickness) Round(CsvRow row)
    {
        foreach (var column in (string[])["width", "thickness"])
        {
            if (row.Has(column))
            {
                row.Error(column, "size-not-of-form", $"the part has a diameter and a {column}", $"leave '{column}' empty, or 'diameter' if it is flat");
            }
        }

        var diameter = row.RequiredSize("diameter");
        return (diameter, diameter);
    }
}
