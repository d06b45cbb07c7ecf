using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>Masses as people read them: kilograms in a metric shop, pounds in an inch shop. Culture plays no part.</summary>
public static class MassText
{
    /// <summary>Three significant decimals below 10, one from there on.</summary>
    public static string Format(Mass mass, LengthUnit shop)
    {
        var (value, unit) = shop == LengthUnit.Millimetre ? (mass.Kilograms, "kg") : (mass.ToPounds(), "lb");
        var decimals = Math.Abs(value) < 10m ? 3 : 1;
        var number = decimal.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("0.###", CultureInfo.InvariantCulture);
        return $"{number} {unit}";
    }
}
