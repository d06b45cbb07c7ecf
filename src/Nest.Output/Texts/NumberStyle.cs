using System.Globalization;
using Nest.Core.Quantities;

namespace Nest.Output.Texts;

/// <summary>How numbers are written for people. Files for machines (CSV, DXF, plan) never use it.</summary>
public sealed record NumberStyle
{
    /// <summary>With a point and without groups.</summary>
    public static NumberStyle Invariant { get; } = new();

    /// <summary>Before the decimals.</summary>
    public char DecimalMark { get; init; } = '.';

    /// <summary>Between groups of thousands; empty: none.</summary>
    public string GroupMark { get; init; } = "";

    /// <summary>A number that was written invariantly, in this style. Units and fractions around it stay.</summary>
    public string Localize(string invariant) => DecimalMark == '.' ? invariant : invariant.Replace('.', DecimalMark);

    /// <summary>A number with so many decimals, halves away from zero.</summary>
    public string Number(decimal value, int decimals) =>
        Grouped(decimal.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("F" + decimals, CultureInfo.InvariantCulture));

    /// <summary>An amount with two decimals.</summary>
    public string Amount(Money money) => Number(money.Amount, 2);

    private string Grouped(string invariant)
    {
        var point = invariant.IndexOf('.', StringComparison.Ordinal);
        var whole = point < 0 ? invariant : invariant[..point];
        var rest = point < 0 ? "" : DecimalMark + invariant[(point + 1)..];
        if (GroupMark.Length > 0)
        {
            var first = whole.StartsWith('-') ? 1 : 0;
            for (var at = whole.Length - 3; at > first; at -= 3)
            {
                whole = whole.Insert(at, GroupMark);
            }
        }

        return whole + rest;
    }
}
