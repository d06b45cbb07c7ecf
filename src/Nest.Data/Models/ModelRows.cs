using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data.Csv;

namespace Nest.Data.Models;

/// <summary>Rows of a parts list that name a model instead of sizes.</summary>
internal static class ModelRows
{
    public const string Model = "model";
    public const string LieColumn = "lie";

    /// <summary>Which way the part may lie; null: nothing is said.</summary>
    public static Lie? LieOf(CsvRow row) => row.Word<Lie>(LieColumn, Words.LieOf, "any, flat or as given");

    /// <summary>Each part of the row's model with the size that is taken; empty after a finding.</summary>
    public static IReadOnlyList<MeasuredPart> Read(CsvRow row, ModelShelf shelf, LengthUnit unit)
    {
        foreach (var column in (string[])["length", "width", "diameter"])
        {
            if (row.Has(column))
            {
                row.Error(column, "model-and-size", $"the row names a model and a {column}", $"leave '{column}' empty, or 'model'");
            }
        }

        var lie = LieOf(row);
        var thickness = row.Size("thickness");
        if (row.Failed || shelf.Find(row.Text(Model), row.At(Model), thickness) is not { } parts)
        {
            row.Fail();
            return [];
        }

        var sizes = new List<MeasuredPart>();
        foreach (var part in parts)
        {
            if (thickness is not null && !part.Plate)
            {
                row.Error("thickness", "model-and-size", "the row names a model and a thickness", "only drawings (DXF) need a thickness: leave it empty");
                return [];
            }

            if (ModelSize.Of(part.Part.Body, part.Boxes, lie, part.Plate, unit) is not { } size)
            {
                row.Error(LieColumn, "model-no-flat", $"'{part.Part.Name}' has no flat to lie on", "write any, or as given");
                return [];
            }

            if (Length.Max(size.Length, Length.Max(size.Width, size.Thickness)) > CsvRow.LongestSize)
            {
                row.Error(Model, "length-too-long", $"'{part.Part.Name}' is {size.Length} long, longer than any stock (30 m)", "check the model's unit");
                return [];
            }

            sizes.Add(part with { Size = size });
        }

        return sizes;
    }
}
