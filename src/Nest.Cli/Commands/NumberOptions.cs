using System.CommandLine;
using System.Globalization;

namespace Nest.Cli.Commands;

/// <summary>Options that want a number: what is none is told in words of our own, and a decimal point is one on every machine.</summary>
internal static class NumberOptions
{
    /// <summary>Parts of a currency, percent, seconds: digits with a point.</summary>
    private const NumberStyles Decimals = NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign;

    public static Option<int> Whole(this Option<int> option, int least, int most) =>
        With(option, Range("a whole number", least, most), text => Int(text, least, most) ?? 0, text => Int(text, least, most) is not null);

    public static Option<int?> Whole(this Option<int?> option, int least, int most) =>
        With(option, Range("a whole number", least, most), text => Int(text, least, most), text => Int(text, least, most) is not null);

    public static Option<long?> AboveZero(this Option<long?> option) => With(option, "a whole number above 0", Long, text => Long(text) is not null);

    public static Option<double?> UpTo(this Option<double?> option, double most) => With(
        option, string.Create(CultureInfo.InvariantCulture, $"a number above 0 and at most {most}"), text => Double(text, most), text => Double(text, most) is not null);

    public static Option<decimal> Amount(this Option<decimal> option, string what, decimal most) =>
        With(option, Range(what, 0, most), text => Number(text, most) ?? 0m, text => Number(text, most) is not null);

    public static Option<decimal?> Amount(this Option<decimal?> option, string what, decimal most) =>
        With(option, Range(what, 0, most), text => Number(text, most), text => Number(text, most) is not null);

    private static Option<T> With<T>(Option<T> option, string wants, Func<string, T> read, Func<string, bool> isGood)
    {
        option.CustomParser = result =>
        {
            if (result.Tokens is [{ Value: var text }] && isGood(text))
            {
                return read(text);
            }

            result.AddError($"{option.Name} wants {wants}, not '{string.Join(' ', result.Tokens.Select(token => token.Value))}'.");
            return default!;
        };
        return option;
    }

    private static string Range(string what, decimal least, decimal most) => string.Create(CultureInfo.InvariantCulture, $"{what} from {least} to {most}");

    private static int? Int(string text, int least, int most) =>
        int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value) && value >= least && value <= most ? value : null;

    private static long? Long(string text) =>
        long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value) && value > 0 ? value : null;

    private static double? Double(string text, double most) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value > 0 && value <= most ? value : null;

    private static decimal? Number(string text, decimal most) =>
        decimal.TryParse(text, Decimals, CultureInfo.InvariantCulture, out var value) && value >= 0m && value <= most ? value : null;
}
