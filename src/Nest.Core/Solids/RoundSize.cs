namespace Nest.Core.Solids;

/// <summary>A body whose outline, seen along an axis, is a circle: what a lathe turns, or a disc.</summary>
/// <param name="Axis">Length one.</param>
/// <param name="Centre">A point of the axis.</param>
/// <param name="Diameter">mm.</param>
/// <param name="Length">Along the axis, mm.</param>
/// <param name="Excess">By how much the diameter may be too large, mm.</param>
public sealed record RoundSize(Vec3 Axis, Vec3 Centre, double Diameter, double Length, double Excess)
{
    /// <summary>A mesh of a round part is a prism; with fewer sides than this it is taken for a polygon.</summary>
    private const int LeastSides = 12;

    private const double WidestGap = 2 * Math.PI / LeastSides * 1.001;

    /// <summary>The least length of all axes; null where no outline is round.</summary>
    internal static RoundSize? Of(Body body, ConvexHull hull, IEnumerable<Vec3> axes)
    {
        RoundSize? best = null;
        foreach (var axis in axes)
        {
            if (About(body, hull, axis) is { } round && (best is null || Solid(round) < Solid(best) * (1 - 1e-9)))
            {
                best = round;
            }
        }

        return best;

        static double Solid(RoundSize round) => round.Diameter * round.Diameter * round.Length;
    }

    private static RoundSize? About(Body body, ConvexHull hull, Vec3 axis)
    {
        var u = axis.AnyAcross();
        var v = Vec3.Cross(axis, u);
        var outline = Calipers.Hull([.. hull.Corners.Select(corner => (Vec3.Dot(corner, u), Vec3.Dot(corner, v)))]);
        if (outline.Count < LeastSides)
        {
            return null;
        }

        var (low, high) = (double.PositiveInfinity, 0.0);
        var (cx, cy, _) = MinCircle.Of(outline);
        var gap = 0.0;
        var before = outline[^1];
        foreach (var corner in outline)
        {
            var radius = Math.Sqrt(((corner.X - cx) * (corner.X - cx)) + ((corner.Y - cy) * (corner.Y - cy)));
            (low, high) = (Math.Min(low, radius), Math.Max(high, radius));
            var angle = Math.Abs(Math.Atan2(corner.Y - cy, corner.X - cx) - Math.Atan2(before.Y - cy, before.X - cx));
            gap = Math.Max(gap, Math.Min(angle, (2 * Math.PI) - angle));
            before = corner;
        }

        if (low < high * (1 - 2e-3) || gap > WidestGap)
        {
            return null;
        }

        var across = body.BoxAlong(u, v, axis);
        // An exact body's circle lies midway between its sides; a mesh is a prism whose corners alone lie on the circle.
        var middle = (across.Low + across.High) * 0.5;
        var (x, y) = body is MeshBody ? (cx + Vec3.Dot(hull.Low, u), cy + Vec3.Dot(hull.Low, v)) : (middle.X, middle.Y);
        var centre = (u * x) + (v * y);
        var (most, spread) = Radius(body, centre, u, v);
        return most < high * 1.005 ? new(axis, centre, 2 * most, across.Size.Z, 2 * spread) : null;
    }

    // The largest distance from the axis: of a mesh over its corners, else over directions all around.
    private static (double Most, double Spread) Radius(Body body, Vec3 centre, Vec3 u, Vec3 v)
    {
        if (body is MeshBody)
        {
            var square = 0.0;
            foreach (var point in body.Points)
            {
                var (x, y) = (Vec3.Dot(point - centre, u), Vec3.Dot(point - centre, v));
                square = Math.Max(square, (x * x) + (y * y));
            }

            return (Math.Sqrt(square), 0);
        }

        var (most, least, excess) = (0.0, double.PositiveInfinity, 0.0);
        for (var i = 0; i < Around; i++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * i / Around);
            var direction = (u * cos) + (v * sin);
            var reach = body.ReachAlong(direction);
            var at = reach.Most - Vec3.Dot(centre, direction);
            (most, least, excess) = (Math.Max(most, at), Math.Min(least, at), Math.Max(excess, reach.Most - reach.Least));
        }

        // Not quite a circle: a point between two directions may reach farther, by the secant of half the step.
        var round = most - least < most * 1e-7;
        var sure = round ? most : most / Math.Cos(Math.PI / Around);
        return (sure, sure - most + excess);
    }

    private const int Around = 96;
}
