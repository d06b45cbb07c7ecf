using System.Globalization;

namespace Nest.Core.Quantities;

/// <summary>An angle from square, in whole thousandths of a degree: 0 is a square cut, the sign says to which side it leans.</summary>
/// <remarks>22.5° and 35.264° are exact. What follows from an angle (<see cref="Along(Length)"/>, <see cref="Slope"/>) is irrational but
/// for a few, and is rounded <b>up</b> to whole units, so that no metal is missing: at most one nanometre too much.
/// <para>Implementation note: series in <c>decimal</c> and not <c>Math.Cos</c>, whose last digit may differ between machines; a plan
/// has the same bytes everywhere.</para></remarks>
public readonly record struct Angle : IComparable<Angle>
{
    /// <summary>Steepest angle that can be asked for: beyond it a cut is four times as long as the section is wide, and no saw is made
    /// for it (common practice, no source).</summary>
    public static readonly Angle Steepest = new(75_000);

    // Twice the error of the series and of the decimal divisions below, relative; far below a nanometre on any length.
    private const decimal Margin = 1e-22m;

    // As many digits as a decimal holds.
    private const decimal Pi = 3.1415926535897932384626433833m;

    private Angle(int thousandths) => Thousandths = thousandths;

    /// <summary>Thousandths of a degree.</summary>
    public int Thousandths { get; }

    /// <summary>A square cut.</summary>
    public static Angle Square => default;

    /// <summary>Without its sign.</summary>
    public Angle Size => new(Math.Abs(Thousandths));

    public bool IsSquare => Thousandths == 0;

    /// <summary>Degrees; exact to three decimals, up to <see cref="Steepest"/>.</summary>
    /// <exception cref="ArgumentException">More than three decimals, or steeper.</exception>
    public static Angle FromDegrees(decimal degrees) => IsAngle(degrees)
        ? new((int)(degrees * 1000m))
        : throw new ArgumentException($"{degrees} is no angle from square of at most three decimals.", nameof(degrees));

    /// <summary>Whether the degrees can be asked for.</summary>
    public static bool IsAngle(decimal degrees) =>
        Math.Abs(degrees) * 1000m <= Steepest.Thousandths && decimal.Truncate(degrees * 1000m) == degrees * 1000m;

    /// <summary>The angle in degrees, exact.</summary>
    public decimal ToDegrees() => Thousandths / 1000m;

    /// <summary>What a cut of this kerf takes along the bar: kerf ÷ cos, rounded up.</summary>
    public Length Along(Length kerf) => Length.FromNanometres((long)Up(kerf.Nanometres, 1m, Cosine()));

    /// <summary>The same rounded up to hundredths of a millimetre or thousandths of an inch: what a layout keeps free for the cut.</summary>
    /// <remarks>Implementation note: whole nanometres would leave the lengths of a job without a common divisor, and with it the bar kernel
    /// without its exact table. The rounding is far below what a blade wanders.</remarks>
    public Length Taken(Length kerf, LengthUnit unit) => RoundUp(Along(kerf), unit);

    /// <summary>Rounded up to hundredths of a millimetre or thousandths of an inch.</summary>
    public static Length RoundUp(Length length, LengthUnit unit)
    {
        var step = unit == LengthUnit.Inch ? Length.NanometresPerInch / 1000 : Length.NanometresPerMillimetre / 100;
        return Length.FromNanometres((length.Nanometres + step - 1) / step * step);
    }

    /// <summary>What a cut at this angle through a section goes through: section ÷ cos, rounded up.</summary>
    public Area Through(Area section) => Area.FromSquareNanometres((Int128)Up((decimal)section.SquareNanometres, 1m, Cosine()));

    /// <summary>By how much one edge is shorter than the other where the cut runs across this width: width × tan, rounded up.</summary>
    public Length Slope(Length width) => Length.FromNanometres((long)Up(width.Nanometres, Sine(), Cosine()));

    public int CompareTo(Angle other) => Thousandths.CompareTo(other.Thousandths);

    public static bool operator <(Angle a, Angle b) => a.Thousandths < b.Thousandths;

    public static bool operator >(Angle a, Angle b) => a.Thousandths > b.Thousandths;

    public static bool operator <=(Angle a, Angle b) => a.Thousandths <= b.Thousandths;

    public static bool operator >=(Angle a, Angle b) => a.Thousandths >= b.Thousandths;

    /// <summary>Degrees with the sign, for messages: <c>22.5°</c>.</summary>
    public override string ToString() => ToDegrees().ToString("0.###", CultureInfo.InvariantCulture) + "°";

    private decimal Up(decimal amount, decimal numerator, decimal denominator)
    {
        if (IsSquare)
        {
            return amount * (numerator == 1m ? 1m : 0m);
        }

        // By Niven's theorem 60° is the one angle in range whose cosine is rational.
        if (numerator == 1m && Size.Thousandths == 60_000)
        {
            return amount * 2m;
        }

        // 45° is the one whose tangent is.
        if (numerator != 1m && Size.Thousandths == 45_000)
        {
            return amount;
        }

        var value = amount * (numerator / denominator);
        return decimal.Ceiling(value + (value * Margin));
    }

    private decimal Radians => Math.Abs(Thousandths) * Pi / 180_000m;

    private decimal Cosine() => Series(1m, 0);

    private decimal Sine() => Series(Radians, 1);

    // Taylor: term(k) = −term(k−1)·x² ÷ ((n+1)(n+2)); x below 1.31, so that 15 terms are below 1e-28.
    private decimal Series(decimal first, int power)
    {
        var square = Radians * Radians;
        var term = first;
        var sum = first;
        for (var n = power; n < 36; n += 2)
        {
            term = -term * square / ((n + 1) * (n + 2));
            sum += term;
        }

        return sum;
    }
}
