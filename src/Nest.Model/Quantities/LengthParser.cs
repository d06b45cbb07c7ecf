using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>The reading half of <see cref="LengthText"/>.</summary>
/// <remarks>length := [sign] (feet [inches] | amount [unit]); feet := number ('|ft); amount := number | fraction |
/// whole (space|-) fraction. One pass from the left; the number's own rules are those of <see cref="NumberText"/>.</remarks>
internal static class LengthParser
{
    private static readonly (string Glyph, string Plain)[] Glyphs =
    [
        ("½", "1/2"), ("¼", "1/4"), ("¾", "3/4"), ("⅛", "1/8"), ("⅜", "3/8"), ("⅝", "5/8"), ("⅞", "7/8"),
    ];

    public static Reading<Length> Read(string text, LengthUnit defaultUnit, char mark)
    {
        if (Quick(text, defaultUnit, mark) is { } quick)
        {
            return Reading.Of(quick);
        }

        var plain = Plain(text);
        if (plain.Length == 0)
        {
            return Refuse("the length is missing", $"write a length such as {Example(defaultUnit, mark)}");
        }

        if (plain.Length > 60)
        {
            return Refuse($"'{plain[..40]}…' is too long for a length", $"write a length such as {Example(defaultUnit, mark)}");
        }

        var negative = plain[0] == '-';
        var body = plain[0] is '-' or '+' ? plain[1..].TrimStart() : plain;
        var split = SplitFeet(body);
        var reading = split is var (feet, inches) ? FeetAndInches(plain, feet, inches, mark) : Single(plain, body, defaultUnit, mark);
        if (reading.Value is not { } nanometres)
        {
            return Reading.Refused<Length>(reading.Error, reading.Hint);
        }

        if (nanometres > LengthText.Longest.Nanometres)
        {
            return Refuse($"'{plain}' is longer than 10 km", "check the number and its unit");
        }

        if (nanometres != decimal.Truncate(nanometres))
        {
            // In the unit that the person wrote in: a third of an inch has no end there either, but four places are finer than any saw.
            var near = plain.Contains("mm", StringComparison.OrdinalIgnoreCase) || (defaultUnit == LengthUnit.Millimetre && !plain.Contains("in", StringComparison.OrdinalIgnoreCase) && !plain.Contains('"', StringComparison.Ordinal) && !plain.Contains('\'', StringComparison.Ordinal))
                ? LengthText.Format(Length.FromNanometres((long)decimal.Round(nanometres, MidpointRounding.AwayFromZero)), LengthFormat.ExactMetric)
                : string.Create(CultureInfo.InvariantCulture, $"{decimal.Round(nanometres / Length.NanometresPerInch, 4, MidpointRounding.AwayFromZero):0.####} in");
            return Refuse($"'{plain}' is not a whole number of nanometres", $"write the nearest, {near}, if that is meant");
        }

        return Reading.Of(Length.FromNanometres(negative ? -(long)nanometres : (long)nanometres));
    }

    /// <summary>A bare number as nearly all cells hold: digits, at most one mark between them. All else, and all that is refused, goes the long way.</summary>
    private static Length? Quick(string text, LengthUnit unit, char mark)
    {
        const int mostDigits = 10; // times the nanometres of an inch it stays within 64 bits
        long digits = 0, divisor = 0;
        if (text.Length is 0 or > mostDigits + 1 || !char.IsAsciiDigit(text[0]) || !char.IsAsciiDigit(text[^1]))
        {
            return null;
        }

        foreach (var c in text)
        {
            if (char.IsAsciiDigit(c))
            {
                digits = (digits * 10) + (c - '0');
                divisor *= 10;
            }
            else if (c == mark && divisor == 0)
            {
                divisor = 1;
            }
            else
            {
                return null;
            }
        }

        var (nanometres, rest) = Math.DivRem(digits * (unit == LengthUnit.Millimetre ? Length.NanometresPerMillimetre : Length.NanometresPerInch), Math.Max(1, divisor));
        return rest == 0 && nanometres <= LengthText.Longest.Nanometres ? Length.FromNanometres(nanometres) : null;
    }

    /// <summary>One notation for typographic marks, spaces and signs.</summary>
    private static string Plain(string text)
    {
        var plain = text.Replace('\u00A0', ' ').Replace('\u202F', ' ').Replace('\u2212', '-').Replace('\u2013', '-')
            .Replace('\u2033', '"').Replace('\u201D', '"').Replace('\u2032', '\'').Replace('\u2019', '\'').Replace('\u2044', '/')
            .Replace("''", "\"", StringComparison.Ordinal);
        foreach (var (glyph, fraction) in Glyphs)
        {
            plain = plain.Replace(glyph, " " + fraction, StringComparison.Ordinal);
        }

        return plain.Trim();
    }

    private static (string Feet, string Inches)? SplitFeet(string body)
    {
        foreach (var mark in (string[])["'", "feet", "foot", "ft"])
        {
            var at = body.IndexOf(mark, StringComparison.OrdinalIgnoreCase);
            if (at >= 0)
            {
                return (body[..at].TrimEnd(), body[(at + mark.Length)..].TrimStart(' ', '-', '.'));
            }
        }

        return null;
    }

    private static Reading<decimal> FeetAndInches(string whole, string feet, string inches, char mark)
    {
        const decimal foot = 12m * Length.NanometresPerInch;
        var feetAmount = Amount(feet, mark);
        if (feetAmount.Value is not { } feetValue)
        {
            return RefuseNumber(feetAmount.Error, feetAmount.Hint);
        }

        if (inches.Length == 0)
        {
            return Reading.Of(feetValue.Times(foot));
        }

        var (number, unit) = SplitUnit(inches);
        if (unit.Length > 0 && Factor(unit) != Length.NanometresPerInch)
        {
            return RefuseNumber($"'{whole}' has '{unit}' behind the feet", "write feet and inches such as 4' 2-1/2\"");
        }

        var inchAmount = Amount(number, mark);
        if (inchAmount.Value is not { } inchValue)
        {
            return RefuseNumber(inchAmount.Error, inchAmount.Hint);
        }

        if (feetValue.Denominator != 1m || feetValue.Numerator != decimal.Truncate(feetValue.Numerator))
        {
            return RefuseNumber($"'{whole}' has a part of a foot and inches", "write whole feet and inches such as 4' 2-1/2\"");
        }

        return inchValue.Times(1m) >= 12m
            ? RefuseNumber(
                $"'{whole}' has 12 inches or more behind the feet",
                "write fewer than 12 inches behind the feet; if ' groups thousands, leave it out")
            : Reading.Of(feetValue.Times(foot) + inchValue.Times(Length.NanometresPerInch));
    }

    private static Reading<decimal> Single(string whole, string body, LengthUnit defaultUnit, char mark)
    {
        var (number, unit) = SplitUnit(body);
        if (Factor(unit, defaultUnit) is not { } factor)
        {
            if (!number.Any(char.IsAsciiDigit))
            {
                return RefuseNumber($"'{whole}' is not a number", $"write digits only, such as 12 or 12{mark}5");
            }

            return unit.Equals("mil", StringComparison.OrdinalIgnoreCase) || unit.Equals("mils", StringComparison.OrdinalIgnoreCase)
                ? RefuseNumber($"'{whole}': mil is read in two ways", "write thou for 1/1000 in, or mm")
                : RefuseNumber($"'{whole}': '{unit}' is not a unit of length", "use mm, cm, m, um, in, \", thou, ft or '");
        }

        var amount = Amount(number, mark);
        if (amount.Value is not { } value)
        {
            return RefuseNumber(amount.Error, amount.Hint);
        }

        if (unit.Length == 0 && defaultUnit == LengthUnit.Millimetre && number.Contains('/'))
        {
            return RefuseNumber(
                $"'{whole}' is a fraction without a unit among millimetres", $"write {number}\" if inches are meant, or decimals");
        }

        return Reading.Of(value.Times(factor));
    }

    private static (string Number, string Unit) SplitUnit(string text)
    {
        // "5 in." ends in a full stop that is no decimal mark; "5." does not.
        var end = text.Length > 1 && text[^1] == '.' && char.IsLetter(text[^2]) ? text.Length - 1 : text.Length;
        var start = end;
        while (start > 0 && (char.IsLetter(text[start - 1]) || text[start - 1] == '"'))
        {
            start--;
        }

        return (text[..start].Trim(), text[start..end]);
    }

    private static decimal? Factor(string unit, LengthUnit defaultUnit = LengthUnit.Millimetre) => unit.ToLowerInvariant() switch
    {
        "" => defaultUnit == LengthUnit.Millimetre ? Length.NanometresPerMillimetre : Length.NanometresPerInch,
        "mm" => Length.NanometresPerMillimetre,
        "cm" => Length.NanometresPerMillimetre * 10m,
        "m" => Length.NanometresPerMillimetre * 1000m,
        "um" or "µm" or "μm" => Length.NanometresPerMillimetre / 1000m,
        "in" or "inch" or "inches" or "\"" => Length.NanometresPerInch,
        "thou" => Length.NanometresPerInch / 1000m,
        _ => null,
    };

    /// <summary>A number, a fraction, or a whole number and a fraction.</summary>
    private static Reading<Ratio> Amount(string text, char mark)
    {
        if (text.Length == 0 || text[0] is '-' or '+')
        {
            return RefuseRatio($"'{text}' is not a number", $"write a number such as 12{mark}5");
        }

        var slash = text.IndexOf('/');
        if (slash < 0)
        {
            var number = NumberText.Read(text, mark);
            return number.Value is { } value ? Reading.Of(new Ratio(value, 1m)) : RefuseRatio(number.Error, number.Hint);
        }

        var left = text[..slash].TrimEnd();
        var gap = left.LastIndexOfAny([' ', '-']);
        var before = gap < 0 ? "" : left[..gap].Trim(' ', '-');
        var isWhole = TryWhole(left[(gap + 1)..], out var numerator) & TryWhole(text[(slash + 1)..].Trim(), out var denominator);
        var whole = 0m;
        if (!isWhole || (before.Length > 0 && !TryWhole(before, out whole)))
        {
            return RefuseRatio($"'{text}' is not a fraction", "write a fraction such as 1/2 or 1-1/2");
        }

        if (denominator == 0m)
        {
            return RefuseRatio($"'{text}' divides by zero", "write a fraction such as 1/2 or 1-1/2");
        }

        return before.Length > 0 && numerator >= denominator
            ? RefuseRatio($"'{text}': the fraction behind the whole number is not below one", "write it such as 1-1/2")
            : Reading.Of(new Ratio((whole * denominator) + numerator, denominator));
    }

    private static bool TryWhole(string text, out decimal value)
    {
        value = 0m;
        return text.Length is > 0 and <= 9 && text.All(char.IsAsciiDigit)
            && decimal.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value);
    }

    private static string Example(LengthUnit unit, char mark) => unit == LengthUnit.Millimetre ? $"12{mark}7" : "1-1/2\"";

    private static Reading<Length> Refuse(string error, string hint) => Reading.Refused<Length>(error, hint);

    private static Reading<Ratio> RefuseRatio(string error, string hint) => Reading.Refused<Ratio>(error, hint);

    private static Reading<decimal> RefuseNumber(string error, string hint) => Reading.Refused<decimal>(error, hint);

    // Kept as a fraction until the unit is known: 1/127 in is 200 000 nm exactly, but 1/127 has no finite decimal.
    private readonly record struct Ratio(decimal Numerator, decimal Denominator)
    {
        public decimal Times(decimal factor) => Numerator * factor / Denominator;
    }
}
