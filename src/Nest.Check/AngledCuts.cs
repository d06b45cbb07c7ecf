using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The checker's own arithmetic of cuts at an angle, worked out from the tangent of half the angle.</summary>
/// <remarks>With t = tan(α ÷ 2): 1 ÷ cos α = (1 + t²) ÷ (1 − t²) and tan α = 2t ÷ (1 − t²). The tangent is Lambert's continued fraction
/// z ÷ (1 − z² ÷ (3 − z² ÷ (5 − …))) (1761), which for z below 0.66 has all digits of a decimal after twelve steps. All lengths are rounded up to whole
/// nanometres. By Niven's theorem 60° is the only angle here whose cosine is rational, 45° the only one whose tangent is: these two are exact.</remarks>
internal static class AngledCuts
{
    private const decimal Pi = 3.1415926535897932384626433833m;
    private const int Steps = 16;
    private const int Sixty = 60_000;
    private const int FortyFive = 45_000;

    /// <summary>What a cut takes along the bar: kerf ÷ cos, rounded up to hundredths of a millimetre or thousandths of an inch.</summary>
    public static Length Taken(Angle angle, Length kerf, LengthUnit unit) => UpToStep(Nanometres(kerf.Nanometres, Secant(angle)), unit);

    /// <summary>By how much one edge is shorter than the other: width × tan, rounded up.</summary>
    public static Length Slope(Angle angle, Length across) => Length.FromNanometres(Nanometres(across.Nanometres, Tangent(angle)));

    /// <summary>What the cut goes through: section ÷ cos, rounded up.</summary>
    public static Area Through(Angle angle, Area section) =>
        Area.FromSquareNanometres((Int128)decimal.Ceiling((decimal)section.SquareNanometres * Secant(angle)));

    /// <summary>The shorter of the two edges that a part keeps between its ends, from the four corners.</summary>
    public static Length ShortEdge(EndAngles ends, Part part)
    {
        var across = ends.AcrossThickness ? part.Thickness : part.Width;
        // A positive angle takes its slope from the far edge, a negative one from the near edge.
        var near = part.Length - Off(ends.Start, -1) - Off(ends.End, -1);
        var far = part.Length - Off(ends.Start, 1) - Off(ends.End, 1);
        return near <= far ? near : far;

        Length Off(Angle angle, int side) => angle.Thousandths * side > 0 ? Slope(angle, across) : Length.Zero;
    }

    /// <summary>Rounded up to hundredths of a millimetre or thousandths of an inch.</summary>
    public static Length UpToStep(Length length, LengthUnit unit) => UpToStep(length.Nanometres, unit);

    private static Length UpToStep(long nanometres, LengthUnit unit)
    {
        var step = unit == LengthUnit.Inch ? 25_400L : 10_000L;
        var over = nanometres % step;
        return Length.FromNanometres(over == 0 ? nanometres : nanometres - over + step);
    }

    private static long Nanometres(long amount, decimal factor) => (long)decimal.Ceiling(amount * factor);

    private static decimal Secant(Angle angle)
    {
        var size = Math.Abs(angle.Thousandths);
        if (size is 0 or Sixty)
        {
            return size == 0 ? 1m : 2m;
        }

        var square = HalfTangent(size) * HalfTangent(size);
        return (1m + square) / (1m - square);
    }

    private static decimal Tangent(Angle angle)
    {
        var size = Math.Abs(angle.Thousandths);
        if (size is 0 or FortyFive)
        {
            return size == 0 ? 0m : 1m;
        }

        var half = HalfTangent(size);
        return 2m * half / (1m - (half * half));
    }

    private static decimal HalfTangent(int thousandths)
    {
        var z = thousandths * Pi / 360_000m;
        var square = z * z;
        decimal below = (2 * Steps) + 1;
        for (var odd = (2 * Steps) - 1; odd >= 1; odd -= 2)
        {
            below = odd - (square / below);
        }

        return z / below;
    }
}
