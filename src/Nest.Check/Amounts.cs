using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The checker's own rounding of money: to the nearest ten-thousandth, halves away from zero; credits down.</summary>
internal static class Amounts
{
    public static Money Nearest(decimal amount)
    {
        var units = amount * Money.UnitsPerCurrency;
        var whole = decimal.Truncate(units);
        var rest = units - whole;
        return Money.FromUnits((long)(whole + (rest >= 0.5m ? 1m : rest <= -0.5m ? -1m : 0m)));
    }

    public static Money Down(decimal amount) => Money.FromUnits((long)decimal.Floor(amount * Money.UnitsPerCurrency));
}
