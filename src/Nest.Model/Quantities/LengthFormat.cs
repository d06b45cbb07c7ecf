namespace Nest.Core.Quantities;

/// <summary>How lengths are shown: the one choice that all outputs of a job share.</summary>
/// <param name="Unit">Unit shown.</param>
/// <param name="Decimals">Most decimals shown, 0 … 6; trailing zeros are left out.</param>
/// <param name="InchFraction">Finest fraction of an inch (2, 4, 8, 16, 32, 64), or 0 for decimals. No effect on millimetres.</param>
public sealed record LengthFormat(LengthUnit Unit, int Decimals, int InchFraction = 0)
{
    /// <summary>Millimetres with up to two decimals, as a saw's scale is read.</summary>
    public static LengthFormat Metric { get; } = new(LengthUnit.Millimetre, 2);

    /// <summary>Millimetres to the nanometre: format→parse gives the same length.</summary>
    public static LengthFormat ExactMetric { get; } = new(LengthUnit.Millimetre, 6);

    /// <summary>Decimal inches to the ten-thousandth.</summary>
    public static LengthFormat Inch { get; } = new(LengthUnit.Inch, 4);

    /// <summary>The format that a job asks for.</summary>
    public static LengthFormat For(LengthUnit unit, int inchFraction) =>
        unit == LengthUnit.Millimetre ? Metric : Inch with { InchFraction = inchFraction };

    /// <summary>Whether lengths are shown as fractions of an inch.</summary>
    public bool ShowsFractions => Unit == LengthUnit.Inch && InchFraction > 0;

    /// <summary>The length as this format shows it; see <see cref="LengthText.Format(Length, LengthFormat, bool)"/>.</summary>
    public string Text(Length length, bool withUnit = true) => LengthText.Format(length, this, withUnit);

    /// <summary>The same with the rounding error of a fraction behind it; see <see cref="LengthText.FormatWithError"/>.</summary>
    public string TextWithError(Length length) => LengthText.FormatWithError(length, this);

    /// <summary>Name of the unit for a table's head: <c>mm</c> or <c>in</c>.</summary>
    public string UnitName => Unit == LengthUnit.Millimetre ? "mm" : "in";
}
