using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Rack.Pieces;

namespace Nest.Rack.Plans;

/// <summary>An offcut that a layout leaves, with the raw edges of the stock that stay on it.</summary>
internal readonly record struct BlueprintOffcut(Rect Area, bool Keep, Money Value, CleanEdges Clean);

/// <summary>What the rack must remember of a layout to book its cut without the plan file: geometry and kind of stock.</summary>
internal sealed record Blueprint
{
    /// <summary>The stock without price breaks and sources: sizes, form, material, supplier, price.</summary>
    public required Stock Stock { get; init; }

    public required Rect Sheet { get; init; }

    public required ImmutableArray<PlacedPiece> Pieces { get; init; }

    public required ImmutableArray<BlueprintOffcut> Offcuts { get; init; }

    /// <summary>Chips, by the cuts' own geometry; zero on a cutter, where chips and skeleton are one scrap.</summary>
    public required Area Kerf { get; init; }

    /// <summary>Solid scrap inside the sheet, by the geometry of trims and offcuts; of a cutter all the rest.</summary>
    public required Area Scrap { get; init; }

    public static Blueprint Of(Plan plan, Layout layout)
    {
        var stock = plan.StockOf(layout);
        var saw = plan.SawOf(layout);
        var trimmed = TrimmedEdges.Of(saw, stock, layout);
        var metal = SawnMetal.Of(saw, stock, layout);
        return new()
        {
            Stock = stock,
            Sheet = layout.Sheet,
            Pieces = layout.Pieces,
            Offcuts = [.. layout.Offcuts.Select(offcut => (Offcut: offcut, Metal: trimmed.Metal(layout, offcut.Area)))
                .Select(one => new BlueprintOffcut(one.Metal, one.Offcut.Keep, one.Offcut.Value, SawnEdges.Of(stock, saw, layout, one.Metal)))],
            Kerf = saw.Kind == SawKind.Cutter ? Area.Zero : metal.Chips,
            Scrap = saw.Kind == SawKind.Cutter
                ? CostModel.ScrapAreas(saw, layout).Aggregate(Area.Zero, (sum, area) => sum + area)
                : metal.Scrap,
        };
    }

    /// <summary>The first part that lies on damage of a piece with these keep-outs; null: none does.</summary>
    public string? PartOn(ImmutableArray<Rect> keepOuts) => Pieces
        .Where(piece => keepOuts.Any(keepOut => keepOut.Overlaps(piece.Area)))
        .Select(piece => piece.PartId)
        .FirstOrDefault();

    public string ToJson()
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            StockJson.Write(json, Stock);
            Rectangle("sheet", Sheet);
            json.WriteString("kerf", Kerf.SquareNanometres.ToString(CultureInfo.InvariantCulture));
            json.WriteString("scrap", Scrap.SquareNanometres.ToString(CultureInfo.InvariantCulture));
            json.WriteStartArray("pieces");
            foreach (var piece in Pieces)
            {
                json.WriteStartObject();
                json.WriteString("part", piece.PartId);
                Rectangle("at", piece.Area);
                json.WriteBoolean("turned", piece.Turned);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteStartArray("offcuts");
            foreach (var offcut in Offcuts)
            {
                json.WriteStartObject();
                Rectangle("at", offcut.Area);
                json.WriteBoolean("keep", offcut.Keep);
                json.WriteNumber("value", offcut.Value.Units);
                json.WriteNumber("clean", PieceRows.EdgeBits(offcut.Clean));
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();

            void Rectangle(string name, Rect rect)
            {
                json.WriteStartArray(name);
                json.WriteNumberValue(rect.X.Nanometres);
                json.WriteNumberValue(rect.Y.Nanometres);
                json.WriteNumberValue(rect.SizeX.Nanometres);
                json.WriteNumberValue(rect.SizeY.Nanometres);
                json.WriteEndArray();
            }
        }

        return System.Text.Encoding.UTF8.GetString(stream.ToArray());
    }

    public static Blueprint FromJson(string text)
    {
        using var document = JsonDocument.Parse(text);
        var root = document.RootElement;
        return new()
        {
            Stock = StockJson.Read(root),
            Sheet = Rectangle(root.GetProperty("sheet")),
            Kerf = Areas(root.GetProperty("kerf")),
            Scrap = Areas(root.GetProperty("scrap")),
            Pieces = [.. root.GetProperty("pieces").EnumerateArray().Select(piece => new PlacedPiece(
                piece.GetProperty("part").GetString()!, Rectangle(piece.GetProperty("at")), piece.GetProperty("turned").GetBoolean()))],
            Offcuts = [.. root.GetProperty("offcuts").EnumerateArray().Select(offcut => new BlueprintOffcut(
                Rectangle(offcut.GetProperty("at")),
                offcut.GetProperty("keep").GetBoolean(),
                Money.FromUnits(offcut.GetProperty("value").GetInt64()),
                PieceRows.EdgesOf(offcut.GetProperty("clean").GetInt32())))],
        };

        static Rect Rectangle(JsonElement array)
        {
            var lengths = StockJson.Lengths(array);
            return new(lengths[0], lengths[1], lengths[2], lengths[3]);
        }

        static Area Areas(JsonElement text) =>
            Area.FromSquareNanometres(Int128.Parse(text.GetString()!, CultureInfo.InvariantCulture));
    }
}
