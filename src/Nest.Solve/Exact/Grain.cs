namespace Nest.Solve.Exact;

/// <summary>Money in this room: whole grains, an eighth of a money unit each, so that a table cell is 32 bits wide and rounding a cut or an
/// offcut the safe way costs next to nothing.</summary>
internal static class Grain
{
    /// <summary>Grains of one money unit (1/10 000 of the currency).</summary>
    public const int PerUnit = 8;

    /// <summary>Grains of one currency unit.</summary>
    public const double PerCurrency = PerUnit * (double)Core.Quantities.Money.UnitsPerCurrency;

    /// <summary>No table cell may be larger: the sum of two stays below 2^31.</summary>
    public const int Most = 1_000_000_000;

    /// <summary>Worth of what can't be cut.</summary>
    public const int Never = -Most;

    /// <summary>Money in currency units, for programmes in floating point.</summary>
    public static double Amount(Core.Quantities.Money money) => money.Units / (double)Core.Quantities.Money.UnitsPerCurrency;

    /// <summary>Whole money units at most.</summary>
    public static long UnitsDown(double grains) => (long)Math.Floor(grains / PerUnit);
}
