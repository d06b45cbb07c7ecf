namespace Nest.Core.Solids.Exact;

/// <summary>A corner of a flat outline with the bulge of the side that follows.</summary>
/// <param name="Bulge">Tangent of a quarter of the arc's angle, positive: counter-clockwise; 0: a straight side.</param>
public readonly record struct OutlineCorner(double X, double Y, double Bulge)
{
    /// <summary>Length of the side to the next corner, and the area between it and its chord (left of it counts as more).</summary>
    public (double Length, double Area) Side(OutlineCorner next)
    {
        var chord = Math.Sqrt(((next.X - X) * (next.X - X)) + ((next.Y - Y) * (next.Y - Y)));
        if (Bulge == 0)
        {
            return (chord, 0);
        }

        var angle = 4 * Math.Atan(Math.Abs(Bulge));
        var radius = chord * (1 + (Bulge * Bulge)) / (4 * Math.Abs(Bulge));
        return (radius * angle, Math.CopySign(radius * radius * (angle - Math.Sin(angle)) / 2, Bulge));
    }
}

/// <summary>A closed flat line of straight sides and arcs.</summary>
public sealed record Outline(OutlineCorner[] Corners)
{
    /// <summary>Signed area, mm²: positive where it runs counter-clockwise.</summary>
    public double Area { get; } = AreaOf(Corners);

    /// <summary>mm.</summary>
    public double Length => Sides().Sum(side => side.From.Side(side.To).Length);

    public IEnumerable<(OutlineCorner From, OutlineCorner To)> Sides()
    {
        for (var i = 0; i < Corners.Length; i++)
        {
            yield return (Corners[i], Corners[(i + 1) % Corners.Length]);
        }
    }

    /// <summary>The same line the other way round.</summary>
    public Outline Reversed()
    {
        var count = Corners.Length;
        return new([.. Enumerable.Range(0, count).Select(i => Corners[(count - i) % count] with { Bulge = -Corners[(count - i - 1 + count) % count].Bulge })]);
    }

    private static double AreaOf(OutlineCorner[] corners)
    {
        double area = 0;
        for (var i = 0; i < corners.Length; i++)
        {
            var (a, b) = (corners[i], corners[(i + 1) % corners.Length]);
            area += ((((a.X - corners[0].X) * (b.Y - corners[0].Y)) - ((b.X - corners[0].X) * (a.Y - corners[0].Y))) / 2) + a.Side(b).Area;
        }

        return area;
    }
}

/// <summary>A flat part of even thickness as an exact solid: its outline and holes, raised from z = 0.</summary>
public static class ThickOutline
{
    public static ExactBody Of(Outline outer, IEnumerable<Outline> holes, double thickness)
    {
        var (faces, bottom, top) = (new List<ExactFace>(), new List<IReadOnlyList<EdgeUse>>(), new List<IReadOnlyList<EdgeUse>>());
        foreach (var loop in holes.Select(hole => hole.Area > 0 ? hole.Reversed() : hole).Prepend(outer.Area > 0 ? outer : outer.Reversed()))
        {
            var sides = loop.Sides().ToList();
            var low = sides.Select(side => Edge(side.From, side.To, 0)).ToList();
            var high = sides.Select(side => Edge(side.From, side.To, thickness)).ToList();
            var posts = sides.Select(side => new ExactEdge(new LineCurve(new(side.From.X, side.From.Y, 0), new(0, 0, 1)), 0, thickness)).ToList();
            for (var i = 0; i < sides.Count; i++)
            {
                // Seen from outside: along the foot, up, back along the top, down.
                faces.Add(new(
                    Wall(sides[i].From, sides[i].To), true,
                    [[new(low[i], true), new(posts[(i + 1) % sides.Count], true), new(high[i], false), new(posts[i], false)]]));
            }

            top.Add([.. high.Select(edge => new EdgeUse(edge, true))]);
            bottom.Add([.. Enumerable.Reverse(low).Select(edge => new EdgeUse(edge, false))]);
        }

        faces.Add(new(new PlaneSurface(Placing.None), false, bottom));
        faces.Add(new(new PlaneSurface(Placing.None with { Origin = new(0, 0, thickness) }), true, top));
        return new(faces, [], true, 1e-6);
    }

    private static ExactEdge Edge(OutlineCorner from, OutlineCorner to, double z)
    {
        var (a, b) = (new Vec3(from.X, from.Y, z), new Vec3(to.X, to.Y, z));
        if (from.Bulge == 0)
        {
            return new(new LineCurve(a, (b - a).Unit), 0, (b - a).Norm);
        }

        var (frame, radius) = Arc(from, to, z);
        var start = Math.Atan2(a.Y - frame.Origin.Y, a.X - frame.Origin.X);
        return new(new ConicCurve(frame, radius, radius), start, start + (4 * Math.Atan(from.Bulge)));
    }

    private static Surface Wall(OutlineCorner from, OutlineCorner to)
    {
        if (from.Bulge != 0)
        {
            var (frame, radius) = Arc(from, to, 0);
            return new ConeSurface(frame, radius, 0);
        }

        var along = new Vec3(to.X - from.X, to.Y - from.Y, 0).Unit;
        return new PlaneSurface(new(along, new(0, 0, 1), Vec3.Cross(along, new(0, 0, 1)), new(from.X, from.Y, 0)));
    }

    private static (Placing Frame, double Radius) Arc(OutlineCorner from, OutlineCorner to, double z)
    {
        var (dx, dy, bulge) = (to.X - from.X, to.Y - from.Y, from.Bulge);
        var away = (1 - (bulge * bulge)) / (4 * bulge);
        var radius = Math.Sqrt((dx * dx) + (dy * dy)) * (1 + (bulge * bulge)) / (4 * Math.Abs(bulge));
        return (Placing.None with { Origin = new(((from.X + to.X) / 2) - (dy * away), ((from.Y + to.Y) / 2) + (dx * away), z) }, radius);
    }
}
