using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Tables;

namespace Nest.Data.Stocks;

/// <summary>The sizes of a stock row by its form: which cells must be filled, which must not, and what they mean.</summary>
internal readonly record struct SizeCells(Length Length, Length Width, Length Thickness)
{
    /// <summary>Form as the sizes tell it, where the cell said only tube.</summary>
    public Form Form { get; init; }

    /// <summary>Of a section.</summary>
    public SectionDetail? Detail { get; init; }

    /// <summary>Area from the listed mass per metre.</summary>
    public Area? Listed { get; init; }

    /// <summary>Of a row of stock or of the rack, with what its section is; null after a finding.</summary>
    /// <param name="material">For a mass per metre.</param>
    /// <param name="massIsTold">Whether another column tells the metal of a profile.</param>
    public static SizeCells? ReadAny(CsvRow row, Form form, Material? material, bool massIsTold = false)
    {
        if (!form.IsSection())
        {
            foreach (var column in SectionMass.Columns.Concat(SectionCells.Columns).Where(column => row.Has(column.Name)))
            {
                row.Error(column.Name, "size-not-of-form", $"a {form.Word()} has no {column.Name}", "leave it empty, or give the form of the section");
            }

            return row.Failed ? null : Read(row, form) is { } solid ? solid with { Form = form } : null;
        }

        SectionText.Named? named = row.Has(StockColumns.Size) ? SectionText.Find(row.Text(StockColumns.Size), letters: true) : null;
        if (named is { Form: { } other } && other != form && !Words.IsPlainTube(row.Text("form")))
        {
            row.Error(StockColumns.Size, "size-not-of-form", $"the size {row.Text(StockColumns.Size)} is of a {other.Word()}, the form is {form.Word()}", "correct one of them");
            return null;
        }

        if (SectionCells.Read(row, named?.Form ?? form, named?.Form is null && Words.IsPlainTube(row.Text("form")), StockColumns.Size, named, profileSized: true) is not { } read)
        {
            return null;
        }

        var listed = SectionMass.Read(row, read.Form, material, massIsTold);
        if (!row.Failed && listed > read.Width * read.Thickness)
        {
            row.Error(SectionMass.ColumnOf(row), "section-mass", "the mass per metre is more than a solid bar of these outer sizes has", "check the mass, its unit and the sizes");
        }

        return row.Failed ? null : new(read.Length, read.Width, read.Thickness) { Form = read.Form, Detail = read.Detail, Listed = listed };
    }

    /// <summary>Null after a finding.</summary>
    public static SizeCells? Read(CsvRow row, Form form)
    {
        if (row.Has(StockColumns.Size))
        {
            return OneText(row, form);
        }

        var length = row.RequiredSize("length");
        switch (form)
        {
            case Form.RoundBar:
                Unused(row, "width", "a round bar has a diameter", "diameter");
                Unused(row, "thickness", "a round bar has a diameter", "diameter");
                var diameter = row.RequiredSize("diameter");
                return row.Failed ? null : new(length, diameter, diameter);
            case Form.SquareBar:
                Unused(row, "diameter", "a square bar has a side", "width");
                var side = row.Has("width") ? row.RequiredSize("width") : row.RequiredSize("thickness");
                if (row.Has("width") && row.Has("thickness") && row.Size("thickness") is { } other && other != side)
                {
                    row.Error("thickness", "bar-not-square", "width and thickness of a square bar differ", "make them equal, or write flat bar");
                }

                return row.Failed ? null : new(length, side, side);
            default:
                Unused(row, "diameter", $"a {form.Word()} has width and thickness", "width");
                return row.Failed ? null : Checked(row, form, length, row.RequiredSize("width"), row.RequiredSize("thickness"));
        }
    }

    /// <summary>A size in one text, what is missing in it from the columns: <c>1/2 x 2</c> with a length of <c>12 ft</c>.</summary>
    private static SizeCells? OneText(CsvRow row, Form form)
    {
        const string column = StockColumns.Size;
        if (row.MarkOf(column) is not { } mark)
        {
            row.Fail(); // which mark it is was asked for the whole column
            return null;
        }

        var reading = SizeText.Read(row.InUnitOf(row.Text(column), column), row.UnitOf(column), mark);
        if (reading.Error.Length > 0)
        {
            row.Unreadable(column, "size-unreadable", reading.Error, reading.Hint);
            return null;
        }

        // Of stock the length is the longest and the thickness the smallest, however they are written.
        var sizes = reading.Items.Select(item => item.Length).Order().ToList();
        var section = reading.Items.FirstOrDefault(item => item.Mark is SizeMark.Diameter or SizeMark.Side);
        var wanted = form is Form.RoundBar or Form.SquareBar ? 1 : 2;
        if (form is Form.RoundBar or Form.SquareBar && section.Mark != SizeMark.None && sizes.Count == 2)
        {
            sizes.Remove(section.Length);
            sizes.Insert(0, section.Length);
        }
        else if (form == Form.SquareBar && sizes.Count is 2 or 3 && sizes[0] == sizes[1])
        {
            sizes.RemoveAt(0); // 1 x 1 x 144
        }

        if (form == Form.Plate && sizes.Count == 1 && row.RequiredSize("width") is var wide && !row.Failed)
        {
            sizes.Add(wide);
        }

        if (sizes.Count == wanted && !row.Failed)
        {
            sizes.Add(row.RequiredSize("length"));
        }

        if (row.Failed || !sizes.TrueForAll(size => row.Sound(column, size)))
        {
            return null;
        }

        if (sizes.Count != wanted + 1)
        {
            row.Error(column, "size-unclear", $"size {row.Text(column)} is none of a {form.Word()}", $"write {(wanted == 1 ? $"{(form == Form.RoundBar ? "diameter" : "side")} x length" : "thickness x width x length")}, or leave the length to a column of its own");
            return null;
        }

        return wanted == 1 ? new(sizes[1], sizes[0], sizes[0]) : Checked(row, form, sizes[2], sizes[1], sizes[0]);
    }

    private static SizeCells? Checked(CsvRow row, Form form, Length length, Length width, Length thickness)
    {
        if (!row.Failed && StockShape.Of(form, length, width, thickness) is { } problem)
        {
            row.Error("thickness", problem.Rule, problem.Message, problem.Advice);
        }

        return row.Failed ? null : new(length, width, thickness);
    }

    private static void Unused(CsvRow row, string column, string message, string instead)
    {
        if (row.Has(column))
        {
            row.Error(column, "size-not-of-form", message, $"fill in '{instead}' and leave '{column}' empty");
        }
    }
}
