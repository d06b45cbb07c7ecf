using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;

namespace Nest.Cli.Commands;

/// <summary>What a number on the command line may be. How it is read is <see cref="NumberInput"/>'s.</summary>
internal static class NumberOptions
{
    public static Option<int> Whole(this Option<int> option, int least, int most) =>
        Wants(option, Range("a whole number", least, most), value => value >= least && value <= most);

    public static Option<int?> Whole(this Option<int?> option, int least, int most) =>
        Wants(option, Range("a whole number", least, most), value => value >= least && value <= most);

    public static Option<long?> AboveZero(this Option<long?> option) => Wants(option, "a whole number above 0", value => value > 0);

    public static Option<double?> UpTo(this Option<double?> option, double most) => Wants(
        option, string.Create(CultureInfo.InvariantCulture, $"a number above 0 and at most {most}"), value => value > 0 && value <= most);

    public static Option<double> From0To(this Option<double> option, double most) => Wants(
        option, string.Create(CultureInfo.InvariantCulture, $"a number from 0 to {most}"), value => value >= 0 && value <= most);

    public static Option<decimal> Amount(this Option<decimal> option, string what, decimal most) =>
        Wants(option, Range(what, 0, most), value => value >= 0m && value <= most);

    public static Option<decimal?> Amount(this Option<decimal?> option, string what, decimal most) =>
        Wants(option, Range(what, 0, most), value => value >= 0m && value <= most);

    /// <summary>A margin in percent. Less than one percent is more often a share that was meant (0.35 for a third on top): it is asked about,
    /// and believed with a percent sign.</summary>
    public static Option<string?> Margin(this Option<string?> option)
    {
        option.Validators.Add(result =>
        {
            if (result.Tokens is not [{ Value: var text }])
            {
                return;
            }

            var number = NumberText.Read(text.Trim().TrimEnd('%').TrimEnd());
            if (number.Value is not { } percent)
            {
                result.AddError($"{option.Name}: {number.Error}; {NumberInput.AtTheKeyboard(number.Hint)}.");
            }
            else if (percent is < 0m or > 1000m)
            {
                result.AddError($"{option.Name} wants a percentage from 0 to 1000, not '{text}'.");
            }
            else if (percent is > 0m and < 1m && !text.Contains('%', StringComparison.Ordinal))
            {
                result.AddError(string.Create(
                    CultureInfo.InvariantCulture, $"{option.Name} {text}: is it {percent:0.####} %? Write {percent * 100m:0.####} for {percent * 100m:0.####} % on top, or {percent:0.####}% where less than one percent is meant."));
            }
        });
        return option;
    }

    /// <summary>What a margin says that was found good; null: none was given.</summary>
    public static decimal? MarginOf(string? text) => text is null ? null : NumberText.Read(text.Trim().TrimEnd('%').TrimEnd()).Value;

    private static Option<T> Wants<T>(Option<T> option, string what, Func<T?, bool> isGood)
    {
        option.Validators.Add(result =>
        {
            if (result.Tokens.Count > 0 && !isGood(result.GetValue(option)))
            {
                result.AddError($"{option.Name} wants {what}, not '{string.Join(' ', result.Tokens.Select(token => token.Value))}'.");
            }
        });
        return option;
    }

    private static string Range(string what, decimal least, decimal most) => string.Create(CultureInfo.InvariantCulture, $"{what} from {least} to {most}");
}
