using System.Text.Json;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Rack.Pieces;

namespace Nest.Rack.Plans;

/// <summary>A stock as the rack keeps it: sizes, form, material, supplier, price; without price breaks and sources. Lengths are whole
/// nanometres, the price in units of <see cref="Money"/>.</summary>
internal static class StockJson
{
    /// <summary>Writes its properties into the open object.</summary>
    public static void Write(Utf8JsonWriter json, Stock stock)
    {
        json.WriteString("stock", stock.Id);
        json.WriteNumber("form", (int)stock.Form);
        json.WriteString("material", stock.MaterialId);
        Lengths(json, "size", stock.Length, stock.Width, stock.Thickness);
        Lengths(json, "min", stock.MinLength, stock.MinWidth, stock.MinThickness);
        json.WriteNumber("price", stock.PiecePrice.Units);
        json.WriteString("supplier", stock.Supplier ?? "");
        json.WriteString("mark", stock.RackMark ?? "");
        json.WriteNumber("clean", PieceRows.EdgeBits(stock.CleanEdges));
        json.WriteBoolean("faces", stock.GoodFaces);
        if (stock.Detail is not null)
        {
            json.WriteString("section", SectionColumn.Text(stock.Detail, stock.ListedSection));
        }

        if (stock.CutFor is { } part)
        {
            json.WriteString("cutFor", part);
        }
    }

    public static Stock Read(JsonElement root)
    {
        var size = Lengths(root.GetProperty("size"));
        var min = Lengths(root.GetProperty("min"));
        var mark = root.GetProperty("mark").GetString()!;
        var supplier = root.GetProperty("supplier").GetString()!;
        var section = root.TryGetProperty("section", out var kept) ? kept.GetString()! : "";
        var price = Money.FromUnits(root.GetProperty("price").GetInt64());
        return new()
        {
            Id = root.GetProperty("stock").GetString()!,
            Form = (Form)root.GetProperty("form").GetInt32(),
            MaterialId = root.GetProperty("material").GetString()!,
            Length = size[0],
            Width = size[1],
            Thickness = size[2],
            Detail = SectionColumn.Detail(section),
            ListedSection = SectionColumn.Listed(section),
            MinLength = min[0],
            MinWidth = min[1],
            MinThickness = min[2],
            PiecePrice = price,
            UnitPrice = price.Amount,
            Supplier = supplier.Length == 0 ? null : supplier,
            RackMark = mark.Length == 0 ? null : mark,
            CleanEdges = PieceRows.EdgesOf(root.GetProperty("clean").GetInt32()),
            GoodFaces = root.GetProperty("faces").GetBoolean(),

            // Plans of racks before version 3 do not have it.
            CutFor = root.TryGetProperty("cutFor", out var part) ? part.GetString() : null,
        };
    }

    public static Length[] Lengths(JsonElement array) => [.. array.EnumerateArray().Select(item => Length.FromNanometres(item.GetInt64()))];

    private static void Lengths(Utf8JsonWriter json, string name, Length a, Length b, Length c)
    {
        json.WriteStartArray(name);
        json.WriteNumberValue(a.Nanometres);
        json.WriteNumberValue(b.Nanometres);
        json.WriteNumberValue(c.Nanometres);
        json.WriteEndArray();
    }
}
