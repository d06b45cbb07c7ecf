namespace Nest.Core.Solids;

/// <summary>Smallest circle around points in a plane.</summary>
/// <remarks>Method: Welzl 1991 in its iterative form. Points come from a convex outline, a few hundred at most; worst case n³, never met
/// where all points lie on one circle.</remarks>
internal static class MinCircle
{
    public static (double X, double Y, double Radius) Of(IReadOnlyList<(double X, double Y)> points)
    {
        var circle = (X: points[0].X, Y: points[0].Y, Radius: 0.0);
        for (var i = 1; i < points.Count; i++)
        {
            if (Holds(circle, points[i]))
            {
                continue;
            }

            circle = (points[i].X, points[i].Y, 0);
            for (var j = 0; j < i; j++)
            {
                if (Holds(circle, points[j]))
                {
                    continue;
                }

                circle = Of(points[i], points[j]);
                for (var k = 0; k < j; k++)
                {
                    if (!Holds(circle, points[k]))
                    {
                        circle = Of(points[i], points[j], points[k]);
                    }
                }
            }
        }

        return circle;
    }

    private static bool Holds((double X, double Y, double Radius) circle, (double X, double Y) p) =>
        Distance(circle.X, circle.Y, p) <= circle.Radius * (1 + 1e-9);

    private static (double X, double Y, double Radius) Of((double X, double Y) a, (double X, double Y) b)
    {
        var (x, y) = ((a.X + b.X) / 2, (a.Y + b.Y) / 2);
        return (x, y, Distance(x, y, a));
    }

    private static (double X, double Y, double Radius) Of((double X, double Y) a, (double X, double Y) b, (double X, double Y) c)
    {
        var (bx, by, cx, cy) = (b.X - a.X, b.Y - a.Y, c.X - a.X, c.Y - a.Y);
        var d = 2 * ((bx * cy) - (by * cx));
        if (d == 0)
        {
            return Of(b, c);
        }

        var (b2, c2) = ((bx * bx) + (by * by), (cx * cx) + (cy * cy));
        var (x, y) = (((cy * b2) - (by * c2)) / d, ((bx * c2) - (cx * b2)) / d);
        return (a.X + x, a.Y + y, Math.Sqrt((x * x) + (y * y)));
    }

    private static double Distance(double x, double y, (double X, double Y) p) =>
        Math.Sqrt(((x - p.X) * (x - p.X)) + ((y - p.Y) * (y - p.Y)));
}
