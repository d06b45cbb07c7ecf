namespace Nest.Core.Solids;

/// <summary>Smallest rectangle around points in a plane.</summary>
/// <remarks>Method: some smallest rectangle has a side along an edge of the convex hull (Freeman, Shapira 1975); all edges are tried,
/// three calipers turning along (Toussaint 1983). Hull: Andrew's monotone chain 1979. Cost: n log n.</remarks>
internal static class Calipers
{
    /// <summary>Direction of the first side (length one) and the rectangle's area.</summary>
    public static (double X, double Y, double Area) Smallest(IEnumerable<(double X, double Y)> points)
    {
        var hull = Hull([.. points]);
        if (hull.Count < 3)
        {
            return hull.Count == 2 && Norm(hull[1].X - hull[0].X, hull[1].Y - hull[0].Y) is > 0 and var length
                ? ((hull[1].X - hull[0].X) / length, (hull[1].Y - hull[0].Y) / length, 0)
                : (1, 0, 0);
        }

        var (best, count) = ((X: 1.0, Y: 0.0, Area: double.PositiveInfinity), hull.Count);
        int right = 1, top = 1, left = 1;
        for (var i = 0; i < count; i++)
        {
            var (a, b) = (hull[i], hull[(i + 1) % count]);
            var (x, y) = (b.X - a.X, b.Y - a.Y);
            var length = Norm(x, y);
            (x, y) = (x / length, y / length);
            right = Turn(right, (x, y));
            top = Turn(Math.Max(top, right), (-y, x));
            left = Turn(Math.Max(left, top), (-x, -y));
            var width = At(right, x, y) - At(left, x, y);
            var height = At(top, -y, x) - ((a.X * -y) + (a.Y * x));
            if (width * height < best.Area)
            {
                best = (x, y, width * height);
            }
        }

        return best;

        double At(int index, double x, double y) => (hull[index % count].X * x) + (hull[index % count].Y * y);

        int Turn(int index, (double X, double Y) d)
        {
            var steps = 0;
            while (steps++ <= count && At(index + 1, d.X, d.Y) > At(index, d.X, d.Y))
            {
                index++;
            }

            return index;
        }
    }

    internal static List<(double X, double Y)> Hull((double X, double Y)[] points)
    {
        Array.Sort(points);
        var hull = new List<(double X, double Y)>();
        for (var pass = 0; pass < 2; pass++)
        {
            var start = hull.Count;
            foreach (var p in points)
            {
                while (hull.Count >= start + 2 && Cross(hull[^2], hull[^1], p) <= 0)
                {
                    hull.RemoveAt(hull.Count - 1);
                }

                hull.Add(p);
            }

            hull.RemoveAt(hull.Count - 1);
            Array.Reverse(points);
        }

        return hull.Count == 2 && hull[0] == hull[1] ? [hull[0]] : hull;
    }

    private static double Cross((double X, double Y) o, (double X, double Y) a, (double X, double Y) b) =>
        ((a.X - o.X) * (b.Y - o.Y)) - ((a.Y - o.Y) * (b.X - o.X));

    private static double Norm(double x, double y) => Math.Sqrt((x * x) + (y * y));
}
