using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>A length in whole nanometres.</summary>
/// <remarks>Micrometres, thousandths of an inch, tenths of a millimetre and 1/64 in (396 875 nm) are all exact, so equality needs
/// no tolerance. Range ±9.2e9 m by the representation; overflow throws. <c>default</c> is zero. Negative values are legal
/// (differences); what must not be negative is checked where it enters.</remarks>
public readonly record struct Length : IComparable<Length>
{
    /// <summary>Nanometres in a millimetre.</summary>
    public const long NanometresPerMillimetre = 1_000_000;

    /// <summary>Nanometres in an inch (exactly 25.4 mm: international inch).</summary>
    public const long NanometresPerInch = 25_400_000;

    private Length(long nanometres) => Nanometres = nanometres;

    /// <summary>The length as a whole number of nanometres.</summary>
    public long Nanometres { get; }

    /// <summary>No length.</summary>
    public static Length Zero => default;

    /// <summary>Larger than any stock: "no limit".</summary>
    public static Length MaxValue => new(long.MaxValue);

    /// <summary>Whole nanometres.</summary>
    public static Length FromNanometres(long nanometres) => new(nanometres);

    /// <summary>Millimetres; exact to six decimals.</summary>
    /// <exception cref="ArgumentException">More than six decimals: not a whole number of nanometres.</exception>
    public static Length FromMillimetres(decimal millimetres) => FromUnits(millimetres, NanometresPerMillimetre);

    /// <summary>Inches; exact to five decimals and to every 1/64.</summary>
    /// <exception cref="ArgumentException">Not a whole number of nanometres.</exception>
    public static Length FromInches(decimal inches) => FromUnits(inches, NanometresPerInch);

    /// <summary>The length in millimetres, exact.</summary>
    public decimal ToMillimetres() => (decimal)Nanometres / NanometresPerMillimetre;

    /// <summary>The length in inches (28 significant digits).</summary>
    public decimal ToInches() => (decimal)Nanometres / NanometresPerInch;

    /// <summary>The length in metres, exact.</summary>
    public decimal ToMetres() => (decimal)Nanometres / 1_000_000_000;

    public static Length operator +(Length a, Length b) => new(checked(a.Nanometres + b.Nanometres));

    public static Length operator -(Length a, Length b) => new(checked(a.Nanometres - b.Nanometres));

    public static Length operator -(Length a) => new(checked(-a.Nanometres));

    public static Length operator *(Length a, int times) => new(checked(a.Nanometres * times));

    public static Length operator *(int times, Length a) => a * times;

    /// <summary>Length times length is an area, exact.</summary>
    public static Area operator *(Length a, Length b) => Area.FromSquareNanometres((Int128)a.Nanometres * b.Nanometres);

    public static bool operator <(Length a, Length b) => a.Nanometres < b.Nanometres;

    public static bool operator >(Length a, Length b) => a.Nanometres > b.Nanometres;

    public static bool operator <=(Length a, Length b) => a.Nanometres <= b.Nanometres;

    public static bool operator >=(Length a, Length b) => a.Nanometres >= b.Nanometres;

    public static Length Min(Length a, Length b) => a <= b ? a : b;

    public static Length Max(Length a, Length b) => a >= b ? a : b;

    public int CompareTo(Length other) => Nanometres.CompareTo(other.Nanometres);

    /// <summary>Millimetres, invariant, for logs and test messages; what people read goes through LengthText.</summary>
    public override string ToString() => ToMillimetres().ToString("0.######", CultureInfo.InvariantCulture) + " mm";

    private static Length FromUnits(decimal value, long nanometresPerUnit)
    {
        var nanometres = value * nanometresPerUnit;
        return nanometres == decimal.Truncate(nanometres)
            ? new((long)nanometres)
            : throw new ArgumentException("Not a whole number of nanometres.", nameof(value));
    }
}
