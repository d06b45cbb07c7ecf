namespace Nest.Core.Solids;

/// <summary>The box of least volume over all turns that holds a convex hull.</summary>
/// <remarks>
/// Method: O'Rourke 1985 (Finding minimal enclosing boxes, Int. J. of Computer and Information Sciences 14, 183–199): some box of least
/// volume has two adjacent faces that each hold an edge of the hull. So all pairs of edges are tried. Of a pair one degree of freedom is
/// left: the first face turns about its edge, the second follows. Written as N1 = p + τq between the normals of the two hull faces
/// at the first edge, N2 = N1 × e2, N3 = N1 × N2, the volume is a quotient of polynomials in τ as long as the four opposite corners stay
/// the same; each such piece is searched for zeros of its derivative by subdivision in Bernstein form, which misses none. The answer is
/// exact for the hull but for rounding of floating point. Cost: square of the edges for the pairs, few of which are possible.
/// </remarks>
public sealed class SmallestBox
{
    private readonly HullWalk walk;
    private readonly HullEdge[] edges;
    private readonly int[] near = new int[4];
    private readonly double[] numerator = new double[5];
    private readonly double[] denominator = new double[5];
    private readonly double[] slope = new double[8];

    private SmallestBox(ConvexHull hull)
    {
        walk = new(hull);
        edges = [.. EdgesOf(hull)];
    }

    private double best = double.PositiveInfinity;
    private (Vec3 X, Vec3 Y) axes;

    private readonly record struct HullEdge(int A, Vec3 Along, Vec3 Left, Vec3 Right);

    /// <summary>Two axes of the least box of the hull, and its volume in mm³.</summary>
    public static (Vec3 X, Vec3 Y, double Volume) Of(ConvexHull hull)
    {
        var search = new SmallestBox(hull);
        for (var i = 0; i < search.edges.Length; i++)
        {
            for (var j = i; j < search.edges.Length; j++)
            {
                search.TryPair(search.edges[i], search.edges[j]);
            }
        }

        return (search.axes.X, search.axes.Y, search.best);
    }

    private IEnumerable<HullEdge> EdgesOf(ConvexHull hull)
    {
        for (var number = 0; number < hull.Faces.Count; number++)
        {
            var face = hull.Faces[number];
            int[] corners = [face.A, face.B, face.C];
            for (var i = 0; i < 3; i++)
            {
                var other = hull.Faces[face.Next[i]];
                var (a, b) = (corners[i], corners[(i + 1) % 3]);
                // Between two triangles of one flat there is no edge.
                if (a < b && Vec3.Cross(face.Normal, other.Normal).Norm > 1e-13)
                {
                    yield return new(a, (walk[b] - walk[a]).Unit, face.Normal, other.Normal);
                }
            }
        }
    }

    // N1 = (1−τ)·left + τ·right supports the first edge. The second edge is supported where N1·left2 and N1·right2 differ in sign.
    private void TryPair(in HullEdge one, in HullEdge two)
    {
        var (a0, a1) = (Vec3.Dot(one.Left, two.Left), Vec3.Dot(one.Right, two.Left));
        var (b0, b1) = (Vec3.Dot(one.Left, two.Right), Vec3.Dot(one.Right, two.Right));
        if ((a0 > Slack && a1 > Slack && b0 > Slack && b1 > Slack) || (a0 < -Slack && a1 < -Slack && b0 < -Slack && b1 < -Slack))
        {
            return;
        }

        TrySign(one, two, -a0, -a1, b0, b1);
        TrySign(one, two, a0, a1, -b0, -b1);
    }

    // Touching counts: a flat's normal at right angles to another is the usual case.
    private const double Slack = 1e-12;

    private void TrySign(in HullEdge one, in HullEdge two, double a0, double a1, double b0, double b1)
    {
        var (low, high) = (0.0, 1.0);
        if (Cut(a0, a1, ref low, ref high) && Cut(b0, b1, ref low, ref high))
        {
            Pieces(one, two, low, high, 0);
        }
    }

    // Keeps the part of the interval in which (1−τ)·at0 + τ·at1 ≥ 0.
    private static bool Cut(double at0, double at1, ref double low, ref double high)
    {
        if (at0 < -Slack && at1 < -Slack)
        {
            return false;
        }

        if (at0 < -Slack)
        {
            low = Math.Max(low, at0 / (at0 - at1));
        }
        else if (at1 < -Slack)
        {
            high = Math.Min(high, at0 / (at0 - at1));
        }

        return low <= high + Slack;
    }

    private void Pieces(in HullEdge one, in HullEdge two, double low, double high, int depth)
    {
        var (p, q, e) = (one.Left, one.Right - one.Left, two.Along);
        var middle = (low + high) / 2;
        var n1 = p + (q * middle);
        var n2 = Vec3.Cross(n1, e);
        if (n2.Norm < 1e-9)
        {
            // The second edge stands along N1: another pair has the same box.
            if (high - low > 1e-9 && depth < 60)
            {
                Pieces(one, two, low, middle - 1e-9, depth + 1);
                Pieces(one, two, middle + 1e-9, high, depth + 1);
            }

            return;
        }

        // The corner of the second edge may be on either side of N2: support both ways, as for the third axis.
        var n3 = Vec3.Cross(n1, n2);
        near[0] = walk.Farthest(-n1, near[0]);
        var side = Vec3.Dot(walk[walk.Farthest(n2, two.A)] - walk[two.A], n2) <= Vec3.Dot(walk[two.A] - walk[walk.Farthest(-n2, two.A)], n2) ? 1.0 : -1.0;
        near[1] = walk.Farthest(n2 * -side, near[1]);
        near[2] = walk.Farthest(n3, near[2]);
        near[3] = walk.Farthest(-n3, near[3]);
        var (from, to) = (low, high);
        Linear(near[0], -p, -q, middle, ref from, ref to);
        Linear(near[1], Vec3.Cross(p, e) * -side, Vec3.Cross(q, e) * -side, middle, ref from, ref to);
        // N3 = N1 (N1·e) − e |N1|², a square in τ.
        var (pe, qe, pp, pq, qq) = (Vec3.Dot(p, e), Vec3.Dot(q, e), Vec3.Dot(p, p), Vec3.Dot(p, q), Vec3.Dot(q, q));
        var (c0, c1, c2) = ((p * pe) - (e * pp), (p * qe) + (q * pe) - (e * (2 * pq)), (q * qe) - (e * qq));
        Square(near[2], c0, c1, c2, middle, ref from, ref to);
        Square(near[3], -c0, -c1, -c2, middle, ref from, ref to);

        var d1 = walk[one.A] - walk[near[0]];
        var d2 = (walk[two.A] - walk[near[1]]) * side;
        var d3 = walk[near[2]] - walk[near[3]];
        var w2 = (Vec3.Dot(d2, Vec3.Cross(p, e)), Vec3.Dot(d2, Vec3.Cross(q, e)));
        Polynomials(
            (Vec3.Dot(d1, p), Vec3.Dot(d1, q)), w2, (Vec3.Dot(d3, c0), Vec3.Dot(d3, c1), Vec3.Dot(d3, c2)),
            (pp, 2 * pq, qq), (pp - (pe * pe), 2 * (pq - (pe * qe)), qq - (qe * qe)));
        Least(p, q, e, from, to);
        if (depth < 60)
        {
            if (from - low > 1e-11)
            {
                Pieces(one, two, low, from, depth + 1);
            }

            if (high - to > 1e-11)
            {
                Pieces(one, two, to, high, depth + 1);
            }
        }
    }

    // A neighbour takes over where its lead over the corner becomes positive.
    private void Linear(int corner, Vec3 n0, Vec3 n1, double middle, ref double from, ref double to)
    {
        foreach (var neighbour in walk.Neighbours(corner))
        {
            var step = walk[neighbour] - walk[corner];
            var (a, b) = (Vec3.Dot(step, n0), Vec3.Dot(step, n1));
            if (Math.Abs(b) > 1e-300)
            {
                Limit(-a / b, middle, ref from, ref to);
            }
        }
    }

    private void Square(int corner, Vec3 c0, Vec3 c1, Vec3 c2, double middle, ref double from, ref double to)
    {
        foreach (var neighbour in walk.Neighbours(corner))
        {
            var step = walk[neighbour] - walk[corner];
            var (a, b, c) = (Vec3.Dot(step, c2), Vec3.Dot(step, c1), Vec3.Dot(step, c0));
            var inside = (b * b) - (4 * a * c);
            if (inside < 0)
            {
                continue;
            }

            var half = -0.5 * (b + Math.CopySign(Math.Sqrt(inside), b));
            if (half != 0)
            {
                Limit(c / half, middle, ref from, ref to);
            }

            if (Math.Abs(a) > 1e-300)
            {
                Limit(half / a, middle, ref from, ref to);
            }
        }
    }

    private static void Limit(double at, double middle, ref double from, ref double to)
    {
        if (at > from && at < middle)
        {
            from = at;
        }
        else if (at < to && at > middle)
        {
            to = at;
        }
    }

    private void Polynomials(
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

    private void Least(Vec3 p, Vec3 q, Vec3 e, double from, double to)
    {
        Take(p, q, e, from);
        Take(p, q, e, to);
        if (to - from < 1e-11)
        {
            return;
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

        Span<double> bernstein = stackalloc double[8];
        ToBernstein(slope, from, to - from, bernstein);
        Zeros(bernstein, from, to, p, q, e, 0);
    }

    private static void ToBernstein(double[] power, double from, double width, Span<double> result)
    {
        Span<double> shifted = stackalloc double[8];
        for (var i = 7; i >= 0; i--)
        {
            for (var k = 7; k > 0; k--)
            {
                shifted[k] = (shifted[k] * from) + (shifted[k - 1] * width);
            }

            shifted[0] = (shifted[0] * from) + power[i];
        }

        for (var i = 0; i < 8; i++)
        {
            result[i] = 0;
            for (var k = 0; k <= i; k++)
            {
                result[i] += shifted[k] * Choose[i][k] / Choose[7][k];
            }
        }
    }

    private static readonly double[][] Choose =
    [
        [1], [1, 1], [1, 2, 1], [1, 3, 3, 1], [1, 4, 6, 4, 1], [1, 5, 10, 10, 5, 1], [1, 6, 15, 20, 15, 6, 1], [1, 7, 21, 35, 35, 21, 7, 1],
    ];

    // Where all coefficients have one sign there is no zero.
    private void Zeros(ReadOnlySpan<double> form, double from, double to, Vec3 p, Vec3 q, Vec3 e, int depth)
    {
        var (positive, negative) = (false, false);
        foreach (var value in form)
        {
            positive |= value > 0;
            negative |= value < 0;
        }

        if (!positive || !negative)
        {
            return;
        }

        var middle = (from + to) / 2;
        if (depth > 26)
        {
            Take(p, q, e, middle);
            return;
        }

        Span<double> left = stackalloc double[8];
        Span<double> right = stackalloc double[8];
        form.CopyTo(right);
        for (var k = 0; k < 8; k++)
        {
            left[k] = right[0];
            for (var i = 0; i < 7 - k; i++)
            {
                right[i] = (right[i] + right[i + 1]) / 2;
            }
        }

        // De Casteljau leaves the right half in place, from the back.
        Zeros(left, from, middle, p, q, e, depth + 1);
        Zeros(right, middle, to, p, q, e, depth + 1);
    }

    private void Take(Vec3 p, Vec3 q, Vec3 e, double at)
    {
        var top = ((((((((numerator[4] * at) + numerator[3]) * at) + numerator[2]) * at) + numerator[1]) * at) + numerator[0]);
        var under = ((((((((denominator[4] * at) + denominator[3]) * at) + denominator[2]) * at) + denominator[1]) * at) + denominator[0]);
        var x = p + (q * at);
        var y = Vec3.Cross(x, e);
        // Where the second edge stands along the first axis the quotient is zero by zero: there the sides are measured.
        var steep = y.Norm < 1e-4 * x.Norm;
        if (y.Norm < 1e-9 || (!steep && !(top / under < best)))
        {
            return;
        }

        (x, y) = (x.Unit, y.Unit);
        var volume = Width(x) * Width(y) * Width(Vec3.Cross(x, y).Unit);
        if (volume < best)
        {
            best = volume;
            axes = (x, y);
        }
    }

    private double Width(Vec3 axis) =>
        Vec3.Dot(walk[walk.Farthest(axis, near[2])] - walk[walk.Farthest(-axis, near[3])], axis);
}
