using System.Collections.Immutable;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Data.Plans;

/// <summary>How quantities stand in JSON: lengths in millimetres with up to six decimals, money with up to four, masses in kg, angles in degrees,
/// rectangles as [x, y, sizeX, sizeY]. All exact.</summary>
internal static class PlanJson
{
    public static JsonSerializerOptions Options { get; } = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        IgnoreReadOnlyProperties = true,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        AllowDuplicateProperties = false,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { LeaveOutPlainTerms } },
        Converters =
        {
            new LengthConverter(),
            new AngleConverter(),
            new MoneyConverter(),
            new MassConverter(),
            new RectConverter(),
            new AreaConverter(),
            new DirectionConverter(),
            new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false),
        },
    };

    /// <summary>Hundreds of stocks without terms or damage need not say so.</summary>
    private static void LeaveOutPlainTerms(JsonTypeInfo type)
    {
        if (type.Type == typeof(Job))
        {
            // A plan's own layouts say which of them are kept.
            if (type.Properties.FirstOrDefault(property => property.Name == "kept") is { } kept)
            {
                type.Properties.Remove(kept);
            }

            foreach (var property in type.Properties.Where(property => property.PropertyType == typeof(ImmutableArray<StockRule>)))
            {
                property.ShouldSerialize = (_, value) => value is ImmutableArray<StockRule> { IsEmpty: false };
            }

            foreach (var property in type.Properties.Where(property => property.PropertyType == typeof(ImmutableArray<SharedJob>)))
            {
                property.ShouldSerialize = (_, value) => value is ImmutableArray<SharedJob> { IsEmpty: false };
            }

            foreach (var property in type.Properties.Where(property => property.PropertyType == typeof(Fuss)))
            {
                property.ShouldSerialize = (_, value) => value is Fuss { IsCounted: true };
            }
        }

        // What few jobs say need not stand in every file.
        foreach (var property in type.Properties.Where(property => _seldom.Contains((type.Type, property.Name))))
        {
            property.ShouldSerialize = (_, value) => value is not (0m or 0 or false);
        }

        if (type.Type != typeof(Stock))
        {
            return;
        }

        foreach (var property in type.Properties)
        {
            if (property.PropertyType == typeof(PriceTerms))
            {
                property.ShouldSerialize = (_, value) => value is PriceTerms { IsPlain: false };
            }
            else if (property.PropertyType == typeof(ImmutableArray<Rect>))
            {
                property.ShouldSerialize = (_, value) => value is ImmutableArray<Rect> { IsEmpty: false };
            }
        }
    }

    private static readonly HashSet<(Type Type, string Name)> _seldom =
    [
        (typeof(Saw), "loadMinutes"), (typeof(Part), "oneStock"), (typeof(Part), "oneSize"), (typeof(Part), "certificate"), (typeof(Part), "freeSpares"),
        (typeof(Stock), "useFirst"), (typeof(Supplier), "givesCertificates"), (typeof(MillRates), "blankMinutes"), (typeof(Gang), "rest"),
    ];

    private static decimal Number(ref Utf8JsonReader reader, string what)
    {
        if (reader.TokenType != JsonTokenType.Number || !reader.TryGetDecimal(out var value))
        {
            throw new JsonException($"{what} is not a number");
        }

        return value;
    }

    private static Length ReadLength(ref Utf8JsonReader reader)
    {
        var millimetres = Number(ref reader, "a length");
        if (Math.Abs(millimetres) > LengthText.Longest.ToMillimetres())
        {
            throw new JsonException("a length is longer than 10 km");
        }

        return decimal.Round(millimetres, 6) == millimetres
            ? Length.FromMillimetres(millimetres)
            : throw new JsonException("a length has more than six decimals of a millimetre");
    }

    private static string Text(Length length) => length.ToMillimetres().ToString("0.######", CultureInfo.InvariantCulture);

    private sealed class LengthConverter : JsonConverter<Length>
    {
        public override Length Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => ReadLength(ref reader);

        public override void Write(Utf8JsonWriter writer, Length value, JsonSerializerOptions options) => writer.WriteRawValue(Text(value));
    }

    /// <summary>Square millimetres with up to six decimals.</summary>
    private sealed class AreaConverter : JsonConverter<Area>
    {
        private const decimal Most = 1_000_000_000m;

        public override Area Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var square = Number(ref reader, "an area");
            return square is >= 0m and <= Most && decimal.Round(square, 6) == square
                ? Area.FromSquareNanometres((Int128)(square * 1_000_000_000_000m))
                : throw new JsonException("an area is out of range or has more than six decimals of a square millimetre");
        }

        public override void Write(Utf8JsonWriter writer, Area value, JsonSerializerOptions options) =>
            writer.WriteRawValue(value.ToSquareMillimetres().ToString("0.######", CultureInfo.InvariantCulture));
    }

    private sealed class AngleConverter : JsonConverter<Angle>
    {
        public override Angle Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var degrees = Number(ref reader, "an angle");
            return Angle.IsAngle(degrees) ? Angle.FromDegrees(degrees) : throw new JsonException("an angle is steeper than 75° or has more than three decimals");
        }

        public override void Write(Utf8JsonWriter writer, Angle value, JsonSerializerOptions options) =>
            writer.WriteRawValue(value.ToDegrees().ToString("0.###", CultureInfo.InvariantCulture));
    }

    private sealed class MoneyConverter : JsonConverter<Money>
    {
        // The same limit keeps sums over many layouts within 64 bits.
        private const decimal Most = 1_000_000_000m;

        public override Money Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var amount = Number(ref reader, "an amount");
            if (Math.Abs(amount) > Most)
            {
                throw new JsonException("an amount is above a thousand million");
            }

            return decimal.Round(amount, 4) == amount
                ? Money.FromAmount(amount)
                : throw new JsonException("an amount has more than four decimals");
        }

        public override void Write(Utf8JsonWriter writer, Money value, JsonSerializerOptions options) =>
            writer.WriteRawValue(value.Amount.ToString("0.####", CultureInfo.InvariantCulture));
    }

    private sealed class MassConverter : JsonConverter<Mass>
    {
        public override Mass Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            new(Number(ref reader, "a mass"));

        public override void Write(Utf8JsonWriter writer, Mass value, JsonSerializerOptions options) => writer.WriteNumberValue(value.Kilograms);
    }

    /// <summary>Along or across the stock's length; files of version 1 say rip and crosscut.</summary>
    private sealed class DirectionConverter : JsonConverter<CutDirection>
    {
        public override CutDirection Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            (reader.TokenType == JsonTokenType.String ? reader.GetString() : null) switch
            {
                "along" or "rip" => CutDirection.Rip,
                "across" or "crosscut" => CutDirection.Crosscut,
                _ => throw new JsonException("a direction of cuts is 'along' or 'across'"),
            };

        public override void Write(Utf8JsonWriter writer, CutDirection value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value == CutDirection.Rip ? "along" : "across");
    }

    private sealed class RectConverter : JsonConverter<Rect>
    {
        public override Rect Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            if (reader.TokenType != JsonTokenType.StartArray)
            {
                throw new JsonException("a rectangle is not [x, y, sizeX, sizeY]");
            }

            Span<Length> values = stackalloc Length[4];
            for (var i = 0; i < 4; i++)
            {
                reader.Read();
                values[i] = ReadLength(ref reader);
            }

            reader.Read();
            return reader.TokenType == JsonTokenType.EndArray
                ? new(values[0], values[1], values[2], values[3])
                : throw new JsonException("a rectangle has more than four numbers");
        }

        public override void Write(Utf8JsonWriter writer, Rect value, JsonSerializerOptions options) =>
            writer.WriteRawValue($"[{Text(value.X)}, {Text(value.Y)}, {Text(value.SizeX)}, {Text(value.SizeY)}]");
    }
}
