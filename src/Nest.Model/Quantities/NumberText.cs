using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>Plain decimal numbers as text: digits and at most one decimal mark, the declared one.</summary>
public static class NumberText
{
    // A decimal holds 28 digits: 18 here leave room to multiply by the nanometres in any unit and stay exact.
    private const int MostDigits = 18;

    /// <summary>Where a hint goes on with what can be done in a job's file, and only there.</summary>
    public const string OrDeclare = ", or declare";

    /// <summary>Reads a number; groups of thousands, exponents and the other decimal mark are refused with a hint.</summary>
    public static Reading<decimal> Read(string text, char decimalMark = '.')
    {
        if (text.Length is > 0 and <= MostDigits && text.AsSpan().IndexOfAnyExceptInRange('0', '9') < 0)
        {
            return Reading.Of((decimal)long.Parse(text, NumberStyles.None, CultureInfo.InvariantCulture)); // as most cells are
        }

        var number = text.Trim();
        if (number.Length == 0)
        {
            return Refuse("the number is missing", "write a number such as 12");
        }

        var other = decimalMark == '.' ? ',' : '.';
        if (number.Contains(other))
        {
            return Refuse($"'{number}' has a '{other}', but the decimal mark here is '{decimalMark}'", HintForMark(number, other, decimalMark));
        }

        var digits = number[0] is '-' or '+' or '\u2212' ? number[1..] : number;
        if (digits.Any(char.IsWhiteSpace) && digits.All(c => char.IsAsciiDigit(c) || char.IsWhiteSpace(c) || c == decimalMark))
        {
            return Refuse($"'{number}' has a space inside the number", $"write it without groups: {WithoutSpaces(number)}");
        }

        if (digits.Count(c => c == decimalMark) > 1)
        {
            return Refuse($"'{number}' has more than one decimal mark", "write one number with at most one decimal mark");
        }

        if (!digits.All(c => char.IsAsciiDigit(c) || c == decimalMark) || !digits.Any(char.IsAsciiDigit))
        {
            return Refuse($"'{number}' is not a number", $"write digits only, such as 12 or 12{decimalMark}5");
        }

        if (digits.Count(char.IsAsciiDigit) > MostDigits)
        {
            return Refuse($"'{(number.Length > 40 ? number[..40] + "…" : number)}' has too many digits", $"write at most {MostDigits} digits");
        }

        var value = decimal.Parse(digits.Replace(decimalMark, '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);
        return Reading.Of(number[0] is '-' or '\u2212' ? -value : value);
    }

    private static string HintForMark(string number, char other, char mark)
    {
        var plain = WithoutSpaces(number);
        if (plain.Contains(mark) || plain.Count(c => c == other) > 1)
        {
            // Both marks, or one of them twice: the last mark is the decimal one, the other groups thousands.
            var last = Math.Max(plain.LastIndexOf(mark), plain.LastIndexOf(other));
            var both = plain.Contains(mark);
            plain = both
                ? plain[..last].Replace(mark.ToString(), "").Replace(other.ToString(), "") + mark + plain[(last + 1)..]
                : plain.Replace(other.ToString(), "");
            return $"write it without groups of thousands: {plain}";
        }

        return $"write {plain.Replace(other, mark)}{OrDeclare} decimal_mark = \"{other}\" in the job file";
    }

    private static string WithoutSpaces(string text) => string.Concat(text.Where(c => !char.IsWhiteSpace(c)));

    private static Reading<decimal> Refuse(string error, string hint) => Reading.Refused<decimal>(error, hint);
}
