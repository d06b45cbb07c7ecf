namespace Nest.Core.Solids;

/// <summary>Convex hull of points in space.</summary>
/// <remarks>
/// Method: quickhull (Barber, Dobkin, Huhdanpaa 1996) on whole nanometres. Whether a point sees a face is decided exactly (a
/// determinant in 128 bits), so the hull is convex without tolerance; only *which* points still count as outside is decided in
/// floating point. Points are added from the farthest on; those that lie less than the tolerance outside are left out, and so is all
/// beyond the largest number of corners. <see cref="Missed"/> says how far a point that was left out lies outside at most. The
/// hull's corners are always points of the body, so what is smallest for the hull is a lower bound for the body.
/// Cost: about n log n for n points, and the square of the corners.
/// </remarks>
public sealed class ConvexHull
{
    /// <summary>Differences of coordinates below 2^41 nm keep the determinant within 127 bits.</summary>
    private const double LargestSpan = 1e12;

    private readonly List<HullFace> faces;

    private ConvexHull(Vec3 low, Vec3[] corners, List<HullFace> faces, double missed)
    {
        Low = low;
        Corners = corners;
        this.faces = faces;
        Missed = missed;
    }

    /// <summary>Lower corner of all points, mm.</summary>
    public Vec3 Low { get; }

    /// <summary>Corners in millimetres, as whole nanometres from the lower corner of all points.</summary>
    public IReadOnlyList<Vec3> Corners { get; }

    /// <summary>Triangles, counter-clockwise from outside, with the neighbour across each edge (a–b, b–c, c–a).</summary>
    public IReadOnlyList<HullFace> Faces => faces;

    /// <summary>How far points that were left out lie outside of a face at most, mm.</summary>
    public double Missed { get; }

    /// <summary>A triangle of the hull.</summary>
    public sealed record HullFace(int A, int B, int C, Vec3 Normal)
    {
        /// <summary>Numbers of the neighbours across a–b, b–c, c–a.</summary>
        public int[] Next { get; } = new int[3];
    }

    /// <summary>The hull; null where all points lie in one plane (to the nanometre) or span more than a kilometre.</summary>
    /// <param name="points">Millimetres.</param>
    /// <param name="tolerance">Millimetres; points less far outside are left out.</param>
    /// <param name="most">Corners at most.</param>
    public static ConvexHull? Of(IReadOnlyList<Vec3> points, double tolerance, int most) => Of(points, tolerance, [most]) is [var hull] ? hull : null;

    /// <summary>Hulls with few corners and with more, in one run: the larger goes on from the smaller.</summary>
    /// <param name="most">Corners at most of each, rising.</param>
    /// <returns>One for each; null where there is none.</returns>
    public static ConvexHull[]? Of(IReadOnlyList<Vec3> points, double tolerance, params int[] most)
    {
        if (points.Count < 4)
        {
            return null;
        }

        var (low, high) = (points[0], points[0]);
        foreach (var point in points)
        {
            low = Vec3.Min(low, point);
            high = Vec3.Max(high, point);
        }

        var span = high - low;
        if (!span.IsFinite || Math.Max(span.X, Math.Max(span.Y, span.Z)) * 1e6 > LargestSpan)
        {
            return null;
        }

        return new QuickHull(points, low, tolerance * 1e6).Run(most) is { } built
            ? [.. built.Select(one => new ConvexHull(low, one.Corners, one.Faces, one.Missed))]
            : null;
    }
}
