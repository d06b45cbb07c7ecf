using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>Areas as people read them: square metres in a metric shop, square feet in an inch shop. Culture plays no part.</summary>
public static class AreaText
{
    // (12 × 25.4 mm)² in mm².
    private const decimal SquareMillimetresPerSquareFoot = 92903.04m;

    public static string Format(Area area, LengthUnit shop)
    {
        var (value, unit) = shop == LengthUnit.Millimetre
            ? (area.ToSquareMetres(), "m²")
            : (area.ToSquareMillimetres() / SquareMillimetresPerSquareFoot, "ft²");
        return decimal.Round(value, 3, MidpointRounding.AwayFromZero).ToString("0.###", CultureInfo.InvariantCulture) + " " + unit;
    }
}
