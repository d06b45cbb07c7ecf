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
/// <remarks>Knots are inserted (Boehm 1980) until each stands as often as the degree; the control points between are those of the pieces. A
/// piece lies within the convex hull of its control points where all weights are positive.</remarks>
internal static class Bezier
{
    /// <summary>Control points of the pieces, degree + 1 each, and the parameters at which pieces meet.</summary>
    /// <param name="knots">With multiplicity; points + degree + 1 of them, not falling.</param>
    public static (List<Weighted[]> Pieces, List<double> Ends) Split(Weighted[] points, double[] knots, int degree)
    {
        var (p, u) = (points.ToList(), knots.ToList());
        var (low, high) = (knots[degree], knots[^(degree + 1)]);
        foreach (var value in knots.Where(knot => knot >= low && knot <= high).Distinct().ToArray())
        {
            for (var count = u.Count(knot => knot == value); count < degree; count++)
            {
                Insert(p, u, degree, value);
            }
        }

        return Collect(p, u, degree, low, high);
    }

    private static void Insert(List<Weighted> points, List<double> knots, int degree, double value)
    {
        var k = knots.FindLastIndex(knot => knot <= value);
        var made = new Weighted[degree];
        for (var i = 0; i < degree; i++)
        {
            var j = k - degree + 1 + i;
            var span = knots[j + degree] - knots[j];
            var share = span > 0 ? (value - knots[j]) / span : 0;
            made[i] = (points[j - 1] * (1 - share)) + (points[j] * share);
        }

        points.RemoveRange(k - degree + 1, degree - 1);
        points.InsertRange(k - degree + 1, made);
        knots.Insert(k + 1, value);
    }

    private static (List<Weighted[]> Pieces, List<double> Ends) Collect(List<Weighted> points, List<double> knots, int degree, double low, double high)
    {
        var pieces = new List<Weighted[]>();
        var ends = new List<double>();
        for (var k = degree; k < knots.Count - degree - 1; k++)
        {
            if (knots[k + 1] > knots[k] && knots[k] >= low && knots[k + 1] <= high)
            {
                if (ends.Count == 0)
                {
                    ends.Add(knots[k]);
                }

                ends.Add(knots[k + 1]);
                pieces.Add([.. points.GetRange(k - degree, degree + 1)]);
            }
        }

        return (pieces, ends);
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
