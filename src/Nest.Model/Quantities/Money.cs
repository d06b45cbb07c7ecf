using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>An amount of the job's one currency, in whole ten-thousandths, so that sums are exact and the solver gets integers.</summary>
/// <remarks>Rounding rule: every line of a cost (price of a stock piece, saw cost of a layout, credit of an offcut …) is rounded
/// once, half away from zero, to 1/10 000; sums are exact from there on; what is printed is rounded to the cent.</remarks>
public readonly record struct Money : IComparable<Money>
{
    /// <summary>Parts of one currency unit that a <see cref="Money"/> counts.</summary>
    public const long UnitsPerCurrency = 10_000;

    private Money(long units) => Units = units;

    /// <summary>Whole ten-thousandths of the currency unit.</summary>
    public long Units { get; }

    public static Money Zero => default;

    public static Money FromUnits(long units) => new(units);

    /// <summary>From an amount in the currency's unit, rounded half away from zero to 1/10 000.</summary>
    public static Money FromAmount(decimal amount) =>
        new((long)decimal.Round(amount * UnitsPerCurrency, MidpointRounding.AwayFromZero));

    /// <summary>From an amount in the currency's unit, rounded down (credits: never promise more than there is).</summary>
    public static Money FromAmountDown(decimal amount) => new((long)decimal.Floor(amount * UnitsPerCurrency));

    /// <summary>The amount in the currency's unit, exact.</summary>
    public decimal Amount => (decimal)Units / UnitsPerCurrency;

    public static Money operator +(Money a, Money b) => new(checked(a.Units + b.Units));

    public static Money operator -(Money a, Money b) => new(checked(a.Units - b.Units));

    public static Money operator *(Money a, int times) => new(checked(a.Units * times));

    public static Money Max(Money a, Money b) => a >= b ? a : b;

    public static Money Min(Money a, Money b) => a <= b ? a : b;

    public static bool operator <(Money a, Money b) => a.Units < b.Units;

    public static bool operator >(Money a, Money b) => a.Units > b.Units;

    public static bool operator <=(Money a, Money b) => a.Units <= b.Units;

    public static bool operator >=(Money a, Money b) => a.Units >= b.Units;

    public int CompareTo(Money other) => Units.CompareTo(other.Units);

    /// <summary>Amount to the cent, invariant.</summary>
    public override string ToString() =>
        decimal.Round(Amount, 2, MidpointRounding.AwayFromZero).ToString("0.00", CultureInfo.InvariantCulture);
}
