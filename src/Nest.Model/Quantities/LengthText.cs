using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>Lengths as text, in and out. Culture plays no part.</summary>
/// <remarks>
/// Read: <c>12.7</c> (default unit), <c>12.7 mm</c>, <c>2 cm</c>, <c>1.2 m</c>, <c>0.05 in</c>, <c>5 thou</c>, <c>1/2"</c>,
/// <c>1-1/2 in</c>, <c>1 1/2"</c>, <c>4'</c>, <c>4' 2-1/2"</c>; typographic marks (′ ″ ’ ”) and ½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ also. What is not a whole
/// number of nanometres, groups of thousands and a decimal mark that was not declared are refused with a hint, never guessed at.
/// Written: what a format shows exactly is read back as the same length.
/// </remarks>
public static class LengthText
{
    /// <summary>Longest length that is read: a guard against typing mistakes that also keeps areas within a decimal's range.</summary>
    public static readonly Length Longest = Length.FromMillimetres(10_000_000m);

    /// <summary>Reads a length.</summary>
    /// <param name="text">The text; blanks around it are ignored.</param>
    /// <param name="defaultUnit">Unit of a bare number.</param>
    /// <param name="decimalMark"><c>.</c> or <c>,</c> as the job declares.</param>
    /// <param name="length">The length; zero when refused.</param>
    /// <param name="error">What is wrong and what to write instead; empty when read.</param>
    public static bool TryParse(string text, LengthUnit defaultUnit, char decimalMark, out Length length, out string error)
    {
        var reading = Read(text, defaultUnit, decimalMark);
        length = reading.Value ?? Length.Zero;
        error = reading.Value is null ? $"{reading.Error}; {reading.Hint}" : "";
        return reading.Value is not null;
    }

    /// <summary>Reads a length; error and hint apart.</summary>
    public static Reading<Length> Read(string text, LengthUnit defaultUnit, char decimalMark = '.') =>
        LengthParser.Read(text, defaultUnit, decimalMark);

    /// <summary>The length in this unit: decimals when <paramref name="inchFraction"/> is 0, else the nearest such fraction.</summary>
    public static string Format(Length length, LengthUnit unit, int inchFraction, int decimals = 6) =>
        Format(length, new LengthFormat(unit, decimals, inchFraction));

    /// <summary>The length as the format shows it, rounded half away from zero.</summary>
    public static string Format(Length length, LengthFormat format, bool withUnit = true)
    {
        if (format.ShowsFractions)
        {
            return Fraction(length, format.InchFraction) + (withUnit ? "\"" : "");
        }

        var value = format.Unit == LengthUnit.Millimetre ? length.ToMillimetres() : length.ToInches();
        var number = Rounded(value, format).ToString("0.######", CultureInfo.InvariantCulture);
        return withUnit ? $"{number} {format.UnitName}" : number;
    }

    /// <summary>The length that the shown text stands for, to the nanometre.</summary>
    public static Length Shown(Length length, LengthFormat format)
    {
        if (format.ShowsFractions)
        {
            // Every 1/64 in is a whole number of nanometres.
            return Length.FromNanometres(Steps(length, format.InchFraction) * (Length.NanometresPerInch / format.InchFraction));
        }

        var perUnit = format.Unit == LengthUnit.Millimetre ? Length.NanometresPerMillimetre : Length.NanometresPerInch;
        var shown = Rounded((decimal)length.Nanometres / perUnit, format) * perUnit;
        return Length.FromNanometres((long)decimal.Round(shown, MidpointRounding.AwayFromZero));
    }

    /// <summary>As <see cref="Format(Length, LengthFormat, bool)"/>; a fraction that is not exact is followed by what the length is
    /// beyond it: <c>23 5/8" +0.0042"</c>.</summary>
    public static string FormatWithError(Length length, LengthFormat format)
    {
        var text = Format(length, format);
        var error = length - Shown(length, format);
        if (!format.ShowsFractions || error == Length.Zero)
        {
            return text;
        }

        var inches = decimal.Round(error.ToInches(), 4, MidpointRounding.AwayFromZero);
        var sign = error < Length.Zero ? "-" : "+";
        return $"{text} {sign}{Math.Abs(inches).ToString("0.0000", CultureInfo.InvariantCulture)}\"";
    }

    private static decimal Rounded(decimal value, LengthFormat format)
    {
        var rounded = decimal.Round(value, Math.Clamp(format.Decimals, 0, 6), MidpointRounding.AwayFromZero);
        return rounded == 0m ? 0m : rounded; // never "-0"
    }

    private static long Steps(Length length, int inchFraction)
    {
        if (inchFraction is not (2 or 4 or 8 or 16 or 32 or 64))
        {
            throw new ArgumentOutOfRangeException(nameof(inchFraction), inchFraction, "2, 4, 8, 16, 32 or 64.");
        }

        var step = Length.NanometresPerInch / inchFraction;
        return (long)decimal.Round((decimal)length.Nanometres / step, MidpointRounding.AwayFromZero);
    }

    private static string Fraction(Length length, int inchFraction)
    {
        var steps = Steps(length, inchFraction);
        var sign = steps < 0 ? "-" : "";
        var (whole, numerator) = Math.DivRem(Math.Abs(steps), inchFraction);
        if (numerator == 0)
        {
            return string.Create(CultureInfo.InvariantCulture, $"{sign}{whole}");
        }

        var denominator = inchFraction;
        while (numerator % 2 == 0)
        {
            numerator /= 2;
            denominator /= 2;
        }

        return whole == 0
            ? string.Create(CultureInfo.InvariantCulture, $"{sign}{numerator}/{denominator}")
            : string.Create(CultureInfo.InvariantCulture, $"{sign}{whole} {numerator}/{denominator}");
    }
}
