namespace Nest.Core.Solids;

/// <summary>Polynomials of degree seven in Bernstein form: where all coefficients have one sign there is no zero between.</summary>
internal static class Bernstein
{
    public const int Terms = 8;

    private static readonly double[][] Choose =
    [
        [1], [1, 1], [1, 2, 1], [1, 3, 3, 1], [1, 4, 6, 4, 1], [1, 5, 10, 10, 5, 1], [1, 6, 15, 20, 15, 6, 1], [1, 7, 21, 35, 35, 21, 7, 1],
    ];

    /// <summary>From coefficients of powers to the form on a piece of the line.</summary>
    public static void Of(ReadOnlySpan<double> power, double from, double width, Span<double> result)
    {
        Span<double> shifted = stackalloc double[Terms];
        for (var i = Terms - 1; i >= 0; i--)
        {
            for (var k = Terms - 1; k > 0; k--)
            {
                shifted[k] = (shifted[k] * from) + (shifted[k - 1] * width);
            }

            shifted[0] = (shifted[0] * from) + power[i];
        }

        for (var i = 0; i < Terms; i++)
        {
            result[i] = 0;
            for (var k = 0; k <= i; k++)
            {
                result[i] += shifted[k] * Choose[i][k] / Choose[Terms - 1][k];
            }
        }
    }

    /// <summary>The forms on both halves of the piece (de Casteljau).</summary>
    public static void Halves(ReadOnlySpan<double> form, Span<double> left, Span<double> right)
    {
        form.CopyTo(right);
        for (var k = 0; k < Terms; k++)
        {
            left[k] = right[0];
            for (var i = 0; i < Terms - 1 - k; i++)
            {
                right[i] = (right[i] + right[i + 1]) / 2;
            }
        }
    }

    /// <summary>Whether coefficients of both signs stand in it.</summary>
    public static bool MayVanish(ReadOnlySpan<double> form)
    {
        var (positive, negative) = (false, false);
        foreach (var value in form)
        {
            positive |= value > 0;
            negative |= value < 0;
        }

        return positive && negative;
    }
}
