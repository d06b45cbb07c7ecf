using Nest.Core.Quantities;

namespace Nest.Data.Models;

/// <summary>A unit of a model file.</summary>
/// <param name="Millimetres">Of one unit.</param>
internal readonly record struct ModelUnit(string Name, double Millimetres);

/// <summary>Units of model files, and the guess where a file names none.</summary>
internal static class ModelUnits
{
    public static readonly ModelUnit Millimetre = new("mm", 1);
    public static readonly ModelUnit Inch = new("inch", 25.4);

    private static readonly Dictionary<string, ModelUnit> Known = new(StringComparer.OrdinalIgnoreCase)
    {
        ["mm"] = Millimetre, ["millimetre"] = Millimetre, ["millimeter"] = Millimetre, ["millimetres"] = Millimetre, ["millimeters"] = Millimetre,
        ["in"] = Inch, ["inch"] = Inch, ["inches"] = Inch,
        ["cm"] = new("cm", 10), ["centimetre"] = new("cm", 10), ["centimeter"] = new("cm", 10),
        ["m"] = new("m", 1000), ["metre"] = new("m", 1000), ["meter"] = new("m", 1000),
        ["ft"] = new("ft", 304.8), ["foot"] = new("ft", 304.8), ["feet"] = new("ft", 304.8),
        ["micron"] = new("µm", 0.001), ["um"] = new("µm", 0.001), ["µm"] = new("µm", 0.001), ["micrometre"] = new("µm", 0.001),
    };

    public const string Words = "mm, cm, m, in, ft or micron";

    public static ModelUnit? Of(string word) => Known.TryGetValue(word.Trim(), out var unit) ? unit : null;

    /// <summary>The unit of a mesh whose file names none, with the reason; null: it must be asked.</summary>
    /// <param name="largest">Largest size in the file's own numbers.</param>
    /// <param name="hint">What a comment or name in the file says; may be empty.</param>
    /// <remarks>Common practice, no source: STL and OBJ are written in millimetres by most programs and in inches by some; parts of a small shop
    /// are 5 mm to 3 m long.</remarks>
    public static (ModelUnit Unit, string Reason)? Guess(double largest, string hint)
    {
        if (InText(hint) is { } told)
        {
            return (told, $"a note in the file says {told.Name}");
        }

        var text = largest.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture);
        return largest switch
        {
            >= 5 and <= 3000 => (Millimetre, $"assumed: the file names no unit, and {text} long is a usual size in mm"),
            >= 0.2 and < 5 => (Inch, $"assumed: the file names no unit; in mm the part would be only {text} mm long, in inches {(largest * 25.4).ToString("0.###", System.Globalization.CultureInfo.InvariantCulture)} mm"),
            _ => null,
        };
    }

    private static ModelUnit? InText(string hint)
    {
        var words = hint.Split([' ', '=', ':', ',', ';', '(', ')', '[', ']', '_', '\t', '#', '"'], StringSplitOptions.RemoveEmptyEntries);
        for (var i = 0; i < words.Length; i++)
        {
            var unit = words[i].ToUpperInvariant() switch
            {
                "MM" or "MILLIMETRES" or "MILLIMETERS" or "MILLIMETER" or "MILLIMETRE" => Millimetre,
                "INCH" or "INCHES" => Inch,
                _ => (ModelUnit?)null,
            };
            if (unit is not null)
            {
                return unit;
            }

            if (words[i].Equals("units", StringComparison.OrdinalIgnoreCase) || words[i].Equals("unit", StringComparison.OrdinalIgnoreCase))
            {
                return i + 1 < words.Length ? Of(words[i + 1]) : null;
            }
        }

        return null;
    }

    public static LengthUnit ShopUnit(ModelUnit unit) => unit.Name is "inch" or "ft" ? LengthUnit.Inch : LengthUnit.Millimetre;
}
