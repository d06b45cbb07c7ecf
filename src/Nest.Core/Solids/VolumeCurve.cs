namespace Nest.Core.Solids;

/// <summary>The volume of a box as its first face turns by τ while its opposite corners stay the same: a quotient of two polynomials of degree four.</summary>
/// <remarks>Method: zeros of the derivative are found by subdivision in Bernstein form (<see cref="Bernstein"/>), which misses none.</remarks>
internal sealed class VolumeCurve
{
    private const int DeepestHalf = 26;

    private readonly double[] numerator = new double[5];
    private readonly double[] denominator = new double[5];
    private readonly double[] slope = new double[Bernstein.Terms];
    private readonly List<double> flat = [];

    /// <summary>Widths along the three axes, before these have length one, and the squares of the lengths of the axes; each in powers of τ.</summary>
    public void Set(
        (double P, double Q) w1, (double P, double Q) w2, (double A, double B, double C) w3,
        (double A, double B, double C) q1, (double A, double B, double C) q2)
    {
        var (a, b, c) = (w1.P * w2.P, (w1.P * w2.Q) + (w1.Q * w2.P), w1.Q * w2.Q);
        Product(a, b, c, w3, numerator);
        Product(q1.A, q1.B, q1.C, q2, denominator);

        static void Product(double a, double b, double c, (double A, double B, double C) f, double[] result)
        {
            result[0] = a * f.A;
            result[1] = (a * f.B) + (b * f.A);
            result[2] = (a * f.C) + (b * f.B) + (c * f.A);
            result[3] = (b * f.C) + (c * f.B);
            result[4] = c * f.C;
        }
    }

    /// <summary>The volume at a turn.</summary>
    public double At(double at)
    {
        var top = ((((((((numerator[4] * at) + numerator[3]) * at) + numerator[2]) * at) + numerator[1]) * at) + numerator[0]);
        var under = ((((((((denominator[4] * at) + denominator[3]) * at) + denominator[2]) * at) + denominator[1]) * at) + denominator[0]);
        return top / under;
    }

    /// <summary>All turns between the two at which the volume may be least: its slope is zero there. The next call uses the list anew.</summary>
    public List<double> Flat(double from, double to)
    {
        flat.Clear();
        if (to - from < 1e-11)
        {
            return flat;
        }

        // P'Q − PQ' in powers of τ, then of s on [0, 1], then in Bernstein form.
        Array.Clear(slope);
        for (var i = 0; i < 5; i++)
        {
            for (var j = 0; j < 5; j++)
            {
                if (i + j > 0 && i != j)
                {
                    slope[i + j - 1] += (i - j) * numerator[i] * denominator[j];
                }
            }
        }

        Span<double> form = stackalloc double[Bernstein.Terms];
        Bernstein.Of(slope, from, to - from, form);
        Zeros(form, from, to, 0);
        return flat;
    }

    private void Zeros(ReadOnlySpan<double> form, double from, double to, int depth)
    {
        if (!Bernstein.MayVanish(form))
        {
            return;
        }

        var middle = (from + to) / 2;
        if (depth > DeepestHalf)
        {
            flat.Add(middle);
            return;
        }

        Span<double> left = stackalloc double[Bernstein.Terms];
        Span<double> right = stackalloc double[Bernstein.Terms];
        Bernstein.Halves(form, left, right);
        Zeros(left, from, middle, depth + 1);
        Zeros(right, middle, to, depth + 1);
    }
}
