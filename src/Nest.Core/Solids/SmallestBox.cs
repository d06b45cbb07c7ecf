namespace Nest.Core.Solids;

/// <summary>The box of least volume over all turns that holds a convex hull.</summary>
/// <remarks>
/// Method: O'Rourke 1985 (Finding minimal enclosing boxes, Int. J. of Computer and Information Sciences 14, 183–199): some box of least
/// volume has two adjacent faces that each hold an edge of the hull. So all pairs of edges are tried. Of a pair one degree of freedom is
/// left: the first face turns about its edge, the second follows. Written as N1 = p + τq between the normals of the two hull faces
/// at the first edge, N2 = N1 × e2, N3 = N1 × N2, the volume is a quotient of polynomials in τ as long as the four opposite corners stay
/// the same; each such piece is searched for zeros of its derivative by subdivision in Bernstein form, which misses none. The answer is
/// exact for the hull but for rounding of floating point. Before that a pair is held against the best box so far: as the axes turn by an
/// angle, a width falls at most to w·cos − s·sin, where w is the width and s the sideways distance of the two corners that give it; where even the
/// product of these is larger, nothing is there to be found, and where it is not the turn is halved a few times.
/// Cost: square of the edges for the pairs, times the pieces of those that are left, which on finely curved outlines grows with the cube.
/// </remarks>
public sealed class SmallestBox
{
    private readonly HullWalk walk;
    private readonly HullEdge[] edges;
    private readonly int[] near = new int[10];
    private readonly VolumeCurve curve = new();

    private SmallestBox(ConvexHull hull)
    {
        walk = new(hull);
        edges = [.. EdgesOf(hull)];
    }

    private long work;
    private double best = double.PositiveInfinity;
    private (Vec3 X, Vec3 Y) axes;

    private readonly record struct HullEdge(int A, Vec3 Along, Vec3 Left, Vec3 Right);

    /// <summary>Two axes of the least box of the hull, and its volume in mm³.</summary>
    /// <param name="X">Length one.</param>
    /// <param name="Done">Whether all of it was searched within the limit of work; else the volume bounds nothing.</param>
    /// <param name="Work">Turns that were looked at.</param>
    public readonly record struct Found(Vec3 X, Vec3 Y, double Volume, bool Done, long Work);

    /// <summary>Searches for the least box.</summary>
    /// <param name="start">A box of the hull that is known: axes of length one.</param>
    /// <param name="limit">Turns to look at; one takes about a microsecond.</param>
    public static Found Of(ConvexHull hull, (Vec3 X, Vec3 Y) start, long limit)
    {
        var search = new SmallestBox(hull) { axes = start };
        search.best = search.Width(start.X) * search.Width(start.Y) * search.Width(Vec3.Cross(start.X, start.Y));
        for (var i = 0; i < search.edges.Length && search.work <= limit; i++)
        {
            for (var j = i; j < search.edges.Length && search.work <= limit; j++)
            {
                search.TryPair(search.edges[i], search.edges[j]);
            }
        }

        return new(search.axes.X, search.axes.Y, search.best, search.work <= limit, search.work);
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
            Turns(one, two, low, high, 0);
        }
    }

    // Between two turns: nothing where no box can be smaller than the best one.
    private void Turns(in HullEdge one, in HullEdge two, double low, double high, int depth)
    {
        work++;
        var (p, q, e) = (one.Left, one.Right - one.Left, two.Along);
        var (one1, one2) = ((p + (q * low)).Unit, (p + (q * high)).Unit);
        var (two1, two2) = (Vec3.Cross(one1, e), Vec3.Cross(one2, e));
        if (two1.Norm < 1e-9 && two2.Norm < 1e-9)
        {
            return; // the second edge stands along N1: another pair has the same box
        }

        var middle = (low + high) / 2;
        if (depth == MostHalved)
        {
            Pieces(one, two, low, high, 0);
            return;
        }

        var n1 = (p + (q * middle)).Unit;
        var n2 = Vec3.Cross(n1, e).Unit;
        var first = Math.Min(Vec3.Dot(n1, one1), Vec3.Dot(n1, one2));
        var second = Math.Min(Vec3.Dot(n2, two1.Unit), Vec3.Dot(n2, two2.Unit));
        if (first > 0 && second > 0)
        {
            // The third axis turns by the sum of both angles at most.
            var sin1 = Math.Max(Vec3.Cross(n1, one1).Norm, Vec3.Cross(n1, one2).Norm);
            var sin2 = Math.Max(Vec3.Cross(n2, two1.Unit).Norm, Vec3.Cross(n2, two2.Unit).Norm);
            var least = LeastWidth(n1, 4, first, sin1) * LeastWidth(n2, 6, second, sin2);
            if (least > 0 && least * LeastWidth(Vec3.Cross(n1, n2), 8, (first * second) - (sin1 * sin2), (first * sin2) + (second * sin1)) > best * (1 + 1e-12))
            {
                return;
            }
        }

        Turns(one, two, low, middle, depth + 1);
        Turns(one, two, middle, high, depth + 1);
    }

    // No direction within the angle has less width; zero where that says nothing.
    private double LeastWidth(Vec3 axis, int start, double cos, double sin)
    {
        near[start] = walk.Farthest(axis, near[start]);
        near[start + 1] = walk.Farthest(-axis, near[start + 1]);
        var across = walk[near[start]] - walk[near[start + 1]];
        var width = Vec3.Dot(across, axis);
        return cos <= 0 ? 0 : Math.Max(0, (width * cos) - (Math.Sqrt(Math.Max(0, Vec3.Dot(across, across) - (width * width))) * sin));
    }

    private const int MostHalved = 5;

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
        work++;
        var (p, q, e) = (one.Left, one.Right - one.Left, two.Along);
        var middle = (low + high) / 2;
        var n1 = p + (q * middle);
        var n2 = Vec3.Cross(n1, e);
        if (n2.Norm < 1e-9)
        {
            // The second edge stands along N1: another pair has the same box. N2 is linear in τ, so between two ends where it is nothing it is nothing.
            if (high - low > 1e-9 && depth < 60 && (Across(low) >= 1e-9 || Across(high) >= 1e-9))
            {
                Pieces(one, two, low, middle - 1e-9, depth + 1);
                Pieces(one, two, middle + 1e-9, high, depth + 1);
            }

            return;

            double Across(double at) => Vec3.Cross(p + (q * at), e).Norm;
        }

        // The corner of the second edge may be on either side of N2: support both ways, as for the third axis.
        var n3 = Vec3.Cross(n1, n2);
        near[0] = walk.Farthest(-n1, near[0]);
        var side = Vec3.Dot(walk[walk.Farthest(n2, two.A)] - walk[two.A], n2) <= Vec3.Dot(walk[two.A] - walk[walk.Farthest(-n2, two.A)], n2) ? 1.0 : -1.0;
        near[1] = walk.Farthest(n2 * -side, near[1]);
        near[2] = walk.Farthest(n3, near[2]);
        near[3] = walk.Farthest(-n3, near[3]);
        var same = new SameCorners(walk, low, middle, high);
        same.Linear(near[0], -p, -q);
        same.Linear(near[1], Vec3.Cross(p, e) * -side, Vec3.Cross(q, e) * -side);
        // N3 = N1 (N1·e) − e |N1|², a square in τ.
        var (pe, qe, pp, pq, qq) = (Vec3.Dot(p, e), Vec3.Dot(q, e), Vec3.Dot(p, p), Vec3.Dot(p, q), Vec3.Dot(q, q));
        var (c0, c1, c2) = ((p * pe) - (e * pp), (p * qe) + (q * pe) - (e * (2 * pq)), (q * qe) - (e * qq));
        same.Square(near[2], c0, c1, c2);
        same.Square(near[3], -c0, -c1, -c2);

        var d1 = walk[one.A] - walk[near[0]];
        var d2 = (walk[two.A] - walk[near[1]]) * side;
        var d3 = walk[near[2]] - walk[near[3]];
        var w2 = (Vec3.Dot(d2, Vec3.Cross(p, e)), Vec3.Dot(d2, Vec3.Cross(q, e)));
        curve.Set(
            (Vec3.Dot(d1, p), Vec3.Dot(d1, q)), w2, (Vec3.Dot(d3, c0), Vec3.Dot(d3, c1), Vec3.Dot(d3, c2)),
            (pp, 2 * pq, qq), (pp - (pe * pe), 2 * (pq - (pe * qe)), qq - (qe * qe)));
        Take(p, q, e, same.From);
        Take(p, q, e, same.To);
        foreach (var at in curve.Flat(same.From, same.To))
        {
            Take(p, q, e, at);
        }

        if (depth < 60)
        {
            if (same.From - low > 1e-11)
            {
                Pieces(one, two, low, same.From, depth + 1);
            }

            if (high - same.To > 1e-11)
            {
                Pieces(one, two, same.To, high, depth + 1);
            }
        }
    }

    private void Take(Vec3 p, Vec3 q, Vec3 e, double at)
    {
        var x = p + (q * at);
        var y = Vec3.Cross(x, e);
        // Where the second edge stands along the first axis the quotient is zero by zero: there the sides are measured.
        var steep = y.Norm < 1e-4 * x.Norm;
        if (y.Norm < 1e-9 || (!steep && !(curve.At(at) < best)))
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
