namespace Nest.Core.Solids.Exact;

/// <summary>Point of a rational spline before its division: weight times place, and weight.</summary>
public readonly record struct Weighted(double X, double Y, double Z, double W)
{
    public Weighted(Vec3 point, double weight)
        : this(point.X * weight, point.Y * weight, point.Z * weight, weight)
    {
    }

    public Vec3 Place => new(X / W, Y / W, Z / W);

    public static Weighted operator +(Weighted a, Weighted b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z, a.W + b.W);

    public static Weighted operator -(Weighted a, Weighted b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z, a.W - b.W);

    public static Weighted operator *(Weighted a, double times) => new(a.X * times, a.Y * times, a.Z * times, a.W * times);
}

/// <summary>Splines as pieces in Bernstein form.</summary>
/// <remarks>The control points of a piece are the values of its polar form (Ramshaw 1987) at as many of its two ends as the degree has. A
/// piece lies within the convex hull of its control points where all weights are positive. Cost: pieces × degree³.</remarks>
internal static class Bezier
{
    /// <summary>Control points of the pieces, degree + 1 each, and the parameters at which pieces meet.</summary>
    /// <param name="knots">With multiplicity; points + degree + 1 of them, not falling.</param>
    public static (List<Weighted[]> Pieces, List<double> Ends) Split(Weighted[] points, double[] knots, int degree)
    {
        var (pieces, ends) = (new List<Weighted[]>(), new List<double> { knots[degree] });
        Span<Weighted> work = stackalloc Weighted[degree + 1];
        for (var k = degree; k < points.Length; k++)
        {
            if (knots[k + 1] <= knots[k])
            {
                continue;
            }

            var piece = new Weighted[degree + 1];
            for (var i = 0; i <= degree; i++)
            {
                points.AsSpan(k - degree, degree + 1).CopyTo(work);
                piece[i] = Polar(work, knots, k, degree - i);
            }

            pieces.Add(piece);
            ends.Add(knots[k + 1]);
        }

        return (pieces, ends);
    }

    /// <summary>Polar form on the span behind knot k at that knot so many times, else at the next one.</summary>
    private static Weighted Polar(Span<Weighted> work, double[] knots, int k, int first)
    {
        var degree = work.Length - 1;
        for (var round = 1; round <= degree; round++)
        {
            var at = round <= first ? knots[k] : knots[k + 1];
            for (var j = degree; j >= round; j--)
            {
                var i = k - degree + j;
                var share = (at - knots[i]) / (knots[i + degree - round + 1] - knots[i]);
                work[j] = (work[j - 1] * (1 - share)) + (work[j] * share);
            }
        }

        return work[degree];
    }

    /// <summary>Value and derivative by share of the piece (de Casteljau).</summary>
    public static (Weighted Value, Weighted Slope) At(ReadOnlySpan<Weighted> control, double share)
    {
        var degree = control.Length - 1;
        Span<Weighted> work = stackalloc Weighted[control.Length];
        control.CopyTo(work);
        for (var round = degree; round > 1; round--)
        {
            for (var i = 0; i < round; i++)
            {
                work[i] = (work[i] * (1 - share)) + (work[i + 1] * share);
            }
        }

        return degree == 0 ? (work[0], default) : ((work[0] * (1 - share)) + (work[1] * share), (work[1] - work[0]) * degree);
    }

    /// <summary>The two halves of a piece.</summary>
    public static (Weighted[] Left, Weighted[] Right) Halves(Weighted[] control)
    {
        var left = new Weighted[control.Length];
        var right = (Weighted[])control.Clone();
        for (var k = 0; k < control.Length; k++)
        {
            left[k] = right[0];
            for (var i = 0; i < control.Length - 1 - k; i++)
            {
                right[i] = (right[i] + right[i + 1]) * 0.5;
            }
        }

        return (left, right);
    }

    /// <summary>Place and derivative of a rational value.</summary>
    public static (Vec3 Place, Vec3 Slope) Divided(Weighted value, Weighted slope)
    {
        var place = value.Place;
        return (place, new Vec3(slope.X - (slope.W * place.X), slope.Y - (slope.W * place.Y), slope.Z - (slope.W * place.Z)) * (1 / value.W));
    }
}
