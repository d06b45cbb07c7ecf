using System.Text;
using System.Text.Json;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Rack.Plans;

/// <summary>What of a part decides whether a blank made for it before still serves: material, finished size, direction, ends.</summary>
/// <remarks>Kept with each plan's demand as JSON, lengths in whole nanometres, angles in thousandths of a degree.</remarks>
public sealed record PartShape(string MaterialId, bool Round, Length Length, Length Width, Length Thickness, bool MayTurn, EndAngles? Ends)
{
    /// <summary>Form, wall, flange and name of the section that it is a length of; empty: none.</summary>
    public string Section { get; init; } = "";

    public static PartShape Of(Part part) =>
        new(part.MaterialId.ToUpperInvariant(), part.Round, part.Length, part.Width, part.Thickness, part.MayTurn, part.Ends)
        {
            Section = part.Detail is { } detail ? $"{part.Forms.Section()?.Word()} {detail.Key}" : "",
        };

    /// <param name="total">Pieces wanted altogether, with those that earlier plans made.</param>
    /// <param name="gang">The parts in each of its blanks; null: one.</param>
    internal string ToJson(int total, StoredGang? gang = null)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            json.WriteNumber("total", total);
            json.WriteString("material", MaterialId);
            json.WriteBoolean("round", Round);
            json.WriteNumber("length", Length.Nanometres);
            json.WriteNumber("width", Width.Nanometres);
            json.WriteNumber("thickness", Thickness.Nanometres);
            json.WriteBoolean("turn", MayTurn);
            if (Section.Length > 0)
            {
                json.WriteString("section", Section);
            }

            if (Ends is { } ends)
            {
                json.WriteNumber("start", ends.Start.Thousandths);
                json.WriteNumber("end", ends.End.Thousandths);
                json.WriteBoolean("across", ends.AcrossThickness);
            }

            gang?.Write(json);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    /// <summary>Null of plans that were entered before racks kept it.</summary>
    internal static (PartShape Shape, int Total, StoredGang? Gang)? FromJson(string text)
    {
        if (text.Length == 0)
        {
            return null;
        }

        using var document = JsonDocument.Parse(text);
        var root = document.RootElement;
        return (new(
            root.GetProperty("material").GetString()!, root.GetProperty("round").GetBoolean(), Side("length"), Side("width"), Side("thickness"),
            root.GetProperty("turn").GetBoolean(),
            root.TryGetProperty("start", out var start)
                ? new(Degrees(start), Degrees(root.GetProperty("end")), root.GetProperty("across").GetBoolean()) : null)
        {
            Section = root.TryGetProperty("section", out var section) ? section.GetString()! : "",
        },
            root.GetProperty("total").GetInt32(), StoredGang.Read(root));

        Length Side(string name) => Length.FromNanometres(root.GetProperty(name).GetInt64());

        static Angle Degrees(JsonElement value) => Angle.FromDegrees(value.GetInt32() / 1000m);
    }
}
