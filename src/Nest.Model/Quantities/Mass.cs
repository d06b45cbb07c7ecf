using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>A mass in kilograms, unrounded; it is rounded only where it is printed.</summary>
public readonly record struct Mass(decimal Kilograms) : IComparable<Mass>
{
    /// <summary>Kilograms in a pound (international avoirdupois pound, exact).</summary>
    public const decimal KilogramsPerPound = 0.45359237m;

    public static Mass Zero => default;

    /// <summary>Mass of a prism: area × length × density (kg/m³).</summary>
    public static Mass Of(Area section, Length length, decimal kilogramsPerCubicMetre)
    {
        // m² × m × kg/m³; dividing first keeps a decimal's 28 digits from overflowing on a large plate.
        return new(section.ToSquareMetres() * length.ToMetres() * kilogramsPerCubicMetre);
    }

    /// <summary>The mass in pounds.</summary>
    public decimal ToPounds() => Kilograms / KilogramsPerPound;

    public static Mass operator +(Mass a, Mass b) => new(a.Kilograms + b.Kilograms);

    public static Mass operator -(Mass a, Mass b) => new(a.Kilograms - b.Kilograms);

    public static Mass operator *(Mass a, int times) => new(a.Kilograms * times);

    public static bool operator <(Mass a, Mass b) => a.Kilograms < b.Kilograms;

    public static bool operator >(Mass a, Mass b) => a.Kilograms > b.Kilograms;

    public static bool operator <=(Mass a, Mass b) => a.Kilograms <= b.Kilograms;

    public static bool operator >=(Mass a, Mass b) => a.Kilograms >= b.Kilograms;

    public int CompareTo(Mass other) => Kilograms.CompareTo(other.Kilograms);

    public override string ToString() => Kilograms.ToString("0.###", CultureInfo.InvariantCulture) + " kg";
}
