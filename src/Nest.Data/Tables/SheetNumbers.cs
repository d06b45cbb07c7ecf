using System.Globalization;

namespace Nest.Data.Tables;

/// <summary>Numbers of a sheet as text.</summary>
internal static class SheetNumbers
{
    public static RawCell Cell(string digits, NumberKind kind, bool from1904)
    {
        if (kind is not (NumberKind.Date or NumberKind.Percent) && IsShort(digits))
        {
            return new(digits, CellKind.Number);
        }

        if (!double.TryParse(digits, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) || !double.IsFinite(number))
        {
            return new(digits);
        }

        return kind switch
        {
            NumberKind.Date when Day(number, from1904) is { } day => new(day, CellKind.Date),
            NumberKind.Percent => new(Text(number * 100) + " %", CellKind.Number),
            _ => new(Text(number), CellKind.Number),
        };
    }

    /// <summary>Whether it stands as it would be written, as most numbers do: up to nine signs, no zero too many.</summary>
    private static bool IsShort(string digits)
    {
        if (digits.Length is 0 or > 9 || !char.IsAsciiDigit(digits[0]) || (digits[0] == '0' && digits.Length > 1 && digits[1] != '.'))
        {
            return false;
        }

        var point = digits.IndexOf('.', StringComparison.Ordinal);
        for (var i = 1; i < digits.Length; i++)
        {
            if (!char.IsAsciiDigit(digits[i]) && i != point)
            {
                return false;
            }
        }

        return point < 0 || digits[^1] is not ('0' or '.');
    }

    /// <summary>Digits with a point: 0.1 stays 0.1, as a decimal takes the fifteen digits that a spreadsheet shows.</summary>
    public static string Text(double number) => double.IsFinite(number) && Math.Abs(number) < 1e15
        ? ((decimal)number).ToString("0.############", CultureInfo.InvariantCulture)
        : number.ToString(CultureInfo.InvariantCulture);

    /// <summary>Days since 1899-12-30, or 1904-01-01 (ECMA-376 part 1, 18.17.4.1).</summary>
    private static string? Day(double serial, bool from1904) => serial is >= 0 and < 2_000_000
        ? (from1904 ? new DateTime(1904, 1, 1) : new DateTime(1899, 12, 30)).AddDays(Math.Floor(serial)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)
        : null;
}
