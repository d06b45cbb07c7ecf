using System.Numerics;

namespace Nest.Solve.Bars;

/// <summary>Arithmetic on rows of a dense matrix of floating-point numbers.</summary>
internal static class DenseRows
{
    /// <summary>Exchanges two rows of a matrix of this many columns.</summary>
    public static void Exchange(double[] a, int m, int p, int q)
    {
        for (int k = 0; k < m; k++)
        {
            (a[(p * m) + k], a[(q * m) + k]) = (a[(q * m) + k], a[(p * m) + k]);
        }
    }

    public static void Scale(Span<double> a, double f)
    {
        for (int k = 0; k < a.Length; k++)
        {
            a[k] *= f;
        }
    }

    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int k = 0; k < a.Length; k++)
        {
            sum += a[k] * b[k];
        }

        return sum;
    }

    /// <summary>to += f · from.</summary>
    public static void AddScaled(Span<double> to, ReadOnlySpan<double> from, double f)
    {
        int k = 0;
        var factor = new Vector<double>(f);
        for (; k <= to.Length - Vector<double>.Count; k += Vector<double>.Count)
        {
            (new Vector<double>(to[k..]) + (new Vector<double>(from[k..]) * factor)).CopyTo(to[k..]);
        }

        for (; k < to.Length; k++)
        {
            to[k] += from[k] * f;
        }
    }

    /// <summary>Gauss-Jordan with row exchange; <paramref name="a"/> is used up. False: singular.</summary>
    public static bool Invert(double[] a, double[] inverse, int m, out long steps)
    {
        steps = 0;
        Array.Clear(inverse);
        for (int r = 0; r < m; r++)
        {
            inverse[(r * m) + r] = 1;
        }

        for (int c = 0; c < m; c++)
        {
            int p = c;
            for (int r = c + 1; r < m; r++)
            {
                if (Math.Abs(a[(r * m) + c]) > Math.Abs(a[(p * m) + c]))
                {
                    p = r;
                }
            }

            double pivot = a[(p * m) + c];
            if (Math.Abs(pivot) < 1e-11)
            {
                return false;
            }

            if (p != c)
            {
                Exchange(a, m, p, c);
                Exchange(inverse, m, p, c);
            }

            Scale(a.AsSpan(c * m, m), 1 / pivot);
            Scale(inverse.AsSpan(c * m, m), 1 / pivot);
            for (int r = 0; r < m; r++)
            {
                double f = a[(r * m) + c];
                if (r != c && f != 0)
                {
                    AddScaled(a.AsSpan((r * m) + c, m - c), a.AsSpan((c * m) + c, m - c), -f);
                    AddScaled(inverse.AsSpan(r * m, m), inverse.AsSpan(c * m, m), -f);
                    steps += m / 2;
                }
            }
        }

        return true;
    }
}
