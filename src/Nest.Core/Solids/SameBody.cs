namespace Nest.Core.Solids;

/// <summary>How two bodies compare.</summary>
public enum Likeness
{
    /// <summary>Not the same, or not known.</summary>
    Different,

    /// <summary>The same body, turned and moved.</summary>
    Same,

    /// <summary>Mirror images that no turn makes the same.</summary>
    Mirrored,
}

/// <summary>Whether two bodies are the same part, or mirror images.</summary>
/// <remarks>
/// Method: area, volume, and all moments to the third degree in the frame of the principal axes (eigenvectors by Jacobi's rotations). Second
/// moments fix the axes but for their signs; third moments tell which signs fit, and a mirrored part fits only with an odd number of
/// signs changed. Where two second moments are equal the body is also turned about the third axis; where all three are, nothing is
/// claimed unless the third moments vanish. Bodies that agree in all of this and still differ would have to be made for it.
/// </remarks>
public static class SameBody
{
    private const double Exact = 2e-6;

    /// <summary>Single precision and other triangles of the same surface.</summary>
    private const double Mesh = 2e-5;

    public static Likeness Compare(Body one, Body other)
    {
        if (one.Moments is not { } a || other.Moments is not { } b)
        {
            return Likeness.Different;
        }

        var near = one is MeshBody || other is MeshBody ? Mesh : Exact;
        if (!Near(a.Volume, b.Volume, a.Volume * near) || !Near(a.Area, b.Area, a.Area * near))
        {
            return Likeness.Different;
        }

        var (first, second) = (Shape.Of(a), Shape.Of(b));
        var most = first.Squares[0];
        for (var i = 0; i < 3; i++)
        {
            if (!Near(first.Squares[i], second.Squares[i], most * near * 4))
            {
                return Likeness.Different;
            }
        }

        var slack = 20 * near * a.Volume * Math.Pow(most / a.Volume, 1.5);
        var (flat, tall) = (first.Squares[0] - first.Squares[1] < 1e-3 * most, first.Squares[1] - first.Squares[2] < 1e-3 * most);
        if (flat && tall)
        {
            return first.Thirds(default).All(value => Math.Abs(value) < slack) && second.Thirds(default).All(value => Math.Abs(value) < slack)
                ? Likeness.Same
                : Likeness.Different;
        }

        var about = flat ? 2 : tall ? 0 : -1;
        return Fits(first, second, about, slack, mirrored: false) ? Likeness.Same
            : Fits(first, second, about, slack, mirrored: true) ? Likeness.Mirrored
            : Likeness.Different;
    }

    private static bool Near(double a, double b, double slack) => Math.Abs(a - b) <= slack;

    private static bool Fits(Shape one, Shape other, int about, double slack, bool mirrored)
    {
        var wanted = one.Thirds(default);
        for (var signs = 0; signs < 8; signs++)
        {
            var flip = (X: (signs & 1) == 0 ? 1.0 : -1, Y: (signs & 2) == 0 ? 1.0 : -1, Z: (signs & 4) == 0 ? 1.0 : -1);
            if (flip.X * flip.Y * flip.Z < 0 != mirrored)
            {
                continue;
            }

            if (about < 0 ? Away(0) <= slack : LeastAway(Away) <= slack)
            {
                return true;
            }

            double Away(double angle)
            {
                var found = other.Thirds((flip, about, angle));
                var away = 0.0;
                for (var i = 0; i < found.Length; i++)
                {
                    away = Math.Max(away, Math.Abs(found[i] - wanted[i]));
                }

                return away;
            }
        }

        return false;
    }

    // Third moments have at most three waves in a turn: a grid of 120 finds the valley, thirds narrow it.
    private static double LeastAway(Func<double, double> away)
    {
        const int steps = 120;
        var step = 2 * Math.PI / steps;
        var best = Enumerable.Range(0, steps).MinBy(i => away(i * step)) * step;
        var (low, high) = (best - step, best + step);
        for (var i = 0; i < 60; i++)
        {
            var (a, b) = (low + ((high - low) / 3), high - ((high - low) / 3));
            (low, high) = away(a) <= away(b) ? (low, b) : (a, high);
        }

        return away((low + high) / 2);
    }

    /// <summary>Second moments, the largest first, their axes (right-handed), and the central moments.</summary>
    private sealed record Shape(double[] Squares, Vec3[] Axes, double[] Central)
    {
        public static Shape Of(Moments moments)
        {
            var c = moments.Central(out _);
            var (values, axes) = Jacobi(new double[,] { { c[4], c[7], c[9] }, { c[7], c[5], c[8] }, { c[9], c[8], c[6] } });
            var order = Enumerable.Range(0, 3).OrderByDescending(i => values[i]).ToArray();
            var (x, y) = (axes[order[0]], axes[order[1]]);
            return new([values[order[0]], values[order[1]], values[order[2]]], [x, y, Vec3.Cross(x, y)], c);
        }

        /// <summary>The ten third moments along the axes, with signs changed and turned about one axis.</summary>
        public double[] Thirds(((double X, double Y, double Z) Flip, int About, double Angle) by)
        {
            var flip = by.Flip == default ? (1.0, 1.0, 1.0) : by.Flip;
            Vec3[] axes = [Axes[0] * flip.Item1, Axes[1] * flip.Item2, Axes[2] * flip.Item3];
            if (by.Angle != 0)
            {
                var (i, j) = by.About == 2 ? (0, 1) : (1, 2);
                var (sin, cos) = Math.SinCos(by.Angle);
                (axes[i], axes[j]) = ((axes[i] * cos) + (axes[j] * sin), (axes[j] * cos) - (axes[i] * sin));
            }

            var result = new double[10];
            var at = 0;
            for (var i = 0; i < 3; i++)
            {
                for (var j = i; j < 3; j++)
                {
                    for (var k = j; k < 3; k++)
                    {
                        result[at++] = Third(axes[i], axes[j], axes[k]);
                    }
                }
            }

            return result;
        }

        private double Third(Vec3 p, Vec3 q, Vec3 r)
        {
            double sum = 0;
            for (var i = 0; i < 3; i++)
            {
                for (var j = 0; j < 3; j++)
                {
                    for (var k = 0; k < 3; k++)
                    {
                        sum += p[i] * q[j] * r[k] * Central[Numbers[i, j, k]];
                    }
                }
            }

            return sum;
        }

        private static readonly int[,,] Numbers = MakeNumbers();

        private static int[,,] MakeNumbers()
        {
            var numbers = new int[3, 3, 3];
            for (var n = 0; n < 27; n++)
            {
                int[] one = [n / 9, n / 3 % 3, n % 3];
                numbers[one[0], one[1], one[2]] = Moments.IndexOf(one.Count(i => i == 0), one.Count(i => i == 1), one.Count(i => i == 2));
            }

            return numbers;
        }

        private static (double[] Values, Vec3[] Vectors) Jacobi(double[,] m)
        {
            var v = new double[,] { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
            for (var round = 0; round < 60; round++)
            {
                for (var p = 0; p < 2; p++)
                {
                    for (var q = p + 1; q < 3; q++)
                    {
                        if (Math.Abs(m[p, q]) < 1e-300)
                        {
                            continue;
                        }

                        var theta = (m[q, q] - m[p, p]) / (2 * m[p, q]);
                        var t = Math.CopySign(1, theta) / (Math.Abs(theta) + Math.Sqrt((theta * theta) + 1));
                        var cos = 1 / Math.Sqrt((t * t) + 1);
                        Rotate(m, v, p, q, cos, t * cos);
                    }
                }
            }

            return ([m[0, 0], m[1, 1], m[2, 2]], [new(v[0, 0], v[1, 0], v[2, 0]), new(v[0, 1], v[1, 1], v[2, 1]), new(v[0, 2], v[1, 2], v[2, 2])]);
        }

        private static void Rotate(double[,] m, double[,] v, int p, int q, double cos, double sin)
        {
            for (var k = 0; k < 3; k++)
            {
                (m[k, p], m[k, q]) = ((cos * m[k, p]) - (sin * m[k, q]), (sin * m[k, p]) + (cos * m[k, q]));
            }

            for (var k = 0; k < 3; k++)
            {
                (m[p, k], m[q, k]) = ((cos * m[p, k]) - (sin * m[q, k]), (sin * m[p, k]) + (cos * m[q, k]));
                (v[k, p], v[k, q]) = ((cos * v[k, p]) - (sin * v[k, q]), (sin * v[k, p]) + (cos * v[k, q]));
            }
        }
    }
}
