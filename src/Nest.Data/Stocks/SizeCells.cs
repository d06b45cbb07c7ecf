using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>The sizes of a stock row by its form: which cells must be filled, which must not, and what they mean.</summary>
internal readonly record struct SizeCells(Length Length, Length Width, Length Thickness)
{
    /// <summary>Null after a finding.</summary>
    public static SizeCells? Read(CsvRow row, Form form)
    {
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
                Unused(row, "diameter", $"a {Words.Name(form)} has width and thickness", "width");
                var width = row.RequiredSize("width");
                var thickness = row.RequiredSize("thickness");
                if (!row.Failed && StockShape.Of(form, length, width, thickness) is { } problem)
                {
                    row.Error("thickness", problem.Rule, problem.Message, problem.Advice);
                }

                return row.Failed ? null : new(length, width, thickness);
        }
    }

    private static void Unused(CsvRow row, string column, string message, string instead)
    {
        if (row.Has(column))
        {
            row.Error(column, "size-not-of-form", message, $"fill in '{instead}' and leave '{column}' empty");
        }
    }
}
