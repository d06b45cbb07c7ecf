namespace Nest.Core.Solids.Exact;

/// <summary>How far the inside of a bulging face reaches, where that may be farther than its edges.</summary>
internal abstract class Bulge
{
    /// <param name="floor">What reaches no farther need not be found.</param>
    public abstract Reach ReachAlong(Vec3 direction, double floor);

    /// <summary>Points of the face, for the hull.</summary>
    public abstract IEnumerable<Vec3> Points { get; }

    public static Bulge? Of(ExactFace face) => face.Surface switch
    {
        TorusSurface torus => new TorusBulge(torus, face.Region),
        TurnedSurface turned => new TurnedBulge(turned, face.Region),
        SplineSurface spline => new SplineBulge(spline, face.Region),
        _ => null,
    };

    /// <summary>Points of the face on a grid of its parameters.</summary>
    protected static List<Vec3> Grid(Surface surface, Region region, int steps)
    {
        var points = new List<Vec3>();
        for (var i = 0; i < steps; i++)
        {
            for (var j = 0; j < steps; j++)
            {
                var (u, v) = (region.LowU + ((region.HighU - region.LowU) * (i + 0.5) / steps), region.LowV + ((region.HighV - region.LowV) * (j + 0.5) / steps));
                if (region.Holds(u, v))
                {
                    points.Add(surface.At(u, v).At);
                }
            }
        }

        return points;
    }

    /// <summary>Sphere and torus: one highest point, by formula; it counts where the face has it.</summary>
    private sealed class TorusBulge(TorusSurface torus, Region region) : Bulge
    {
        private readonly List<Vec3> points = Grid(torus, region, 24);

        public override IEnumerable<Vec3> Points => points;

        public override Reach ReachAlong(Vec3 direction, double floor)
        {
            var high = Vec3.Dot(direction, torus.Axis);
            var flat = direction - (torus.Axis * high);
            var across = flat.Norm;
            // Straight along the axis the top is a circle: any point of it stands for all, as edges that cross it reach as far.
            var out_ = across > 1e-12 ? flat * (1 / across) : torus.Axis.AnyAcross();
            var top = torus.Centre + (out_ * torus.Large) + (direction * torus.Small);
            var (u, v) = torus.Find(top, default);
            var reach = region.Holds(u, v) ? Vec3.Dot(top, direction) : double.NegativeInfinity;
            return new(reach, reach);
        }
    }

    /// <summary>Turned curve: pieces of the profile's outer points, each where the face has it.</summary>
    private sealed class TurnedBulge : Bulge
    {
        private const int Pieces = 128;

        private readonly TurnedSurface turned;
        private readonly Region region;
        private readonly List<(double V, (double R, double Z)[] Outer)> profile = [];
        private readonly List<Vec3> points;

        public TurnedBulge(TurnedSurface turned, Region region)
        {
            (this.turned, this.region) = (turned, region);
            points = Grid(turned, region, 32);
            var (from, to) = (Math.Max(region.LowV, Math.Min(turned.From, turned.To)), Math.Min(region.HighV, Math.Max(turned.From, turned.To)));
            for (var i = 0; i < Pieces; i++)
            {
                var (a, b) = (from + ((to - from) * i / Pieces), from + ((to - from) * (i + 1) / Pieces));
                profile.Add(((a + b) / 2, [.. Outer(turned.Profile, a, b).Select(turned.Section)]));
            }
        }

        public override IEnumerable<Vec3> Points => points;

        public override Reach ReachAlong(Vec3 direction, double floor)
        {
            var high = Vec3.Dot(direction, turned.Axis);
            var across = Math.Sqrt(Math.Max(0, 1 - (high * high)));
            var middle = Vec3.Dot(turned.Origin, direction);
            // The highest piece that the face has; pieces are looked at from the highest on.
            var order = profile.Select(piece => (piece.V, Reach: piece.Outer.Max(point => (point.R * across) + (point.Z * high)) + middle)).ToArray();
            Array.Sort(order, (a, b) => b.Reach.CompareTo(a.Reach));
            foreach (var (v, reach) in order)
            {
                if (Holds(direction, high, v))
                {
                    var (r, z) = turned.Section(turned.Profile.At(v));
                    return new(reach, (r * across) + (z * high) + middle);
                }
            }

            return new(double.NegativeInfinity, double.NegativeInfinity);
        }

        // Whether the face has the highest point of this circle of the surface.
        private bool Holds(Vec3 direction, double high, double v)
        {
            var flat = direction - (turned.Axis * high);
            var out_ = flat.Norm > 1e-12 ? flat.Unit : turned.Axis.AnyAcross();
            var (r, z) = turned.Section(turned.Profile.At(v));
            var (u, _) = turned.Find(turned.Origin + (out_ * r) + (turned.Axis * z), default);
            return region.Holds(u, v);
        }

        // Straight between close points, widened by what the arc rises over its chord.
        private static IEnumerable<Vec3> Outer(Curve curve, double from, double to)
        {
            switch (curve)
            {
                case SplineCurve spline:
                    return spline.Outer(from, to, 1e-7);
                case ConicCurve conic:
                    // Where the tangents at both ends meet.
                    var (half, middle) = ((to - from) / 2, (from + to) / 2);
                    return [curve.At(from), conic.Centre + ((curve.At(middle) - conic.Centre) * (1 / Math.Cos(half))), curve.At(to)];
                default:
                    return [curve.At(from), curve.At(to)];
            }
        }
    }

    /// <summary>Spline surface: control points of small patches that the face touches.</summary>
    /// <remarks>A highest point inside a face is one where the surface is level both ways. Where all steps between control points along one
    /// parameter rise, or all fall, a patch has none, and the face's edges or a neighbouring patch reach farther. The rule is for patches of one
    /// weight; others always count.</remarks>
    private sealed class SplineBulge : Bulge
    {
        private readonly List<SplineCell> cells = [];
        private readonly List<Vec3> points;

        // Inside: the face has its middle. No control point is farther from the middle than the radius.
        private sealed record SplineCell(Vec3[] Outer, int Columns, bool Plain, Vec3 Middle, bool Inside, double Radius);

        public SplineBulge(SplineSurface spline, Region region)
        {
            points = Grid(spline, region, 32);
            foreach (var (control, u0, u1, v0, v1) in spline.Patches())
            {
                Refine(control, u0, u1, v0, v1, region, 0);
            }
        }

        public override IEnumerable<Vec3> Points => points;

        public override Reach ReachAlong(Vec3 direction, double floor)
        {
            var (most, least) = (floor, double.NegativeInfinity);
            foreach (var (outer, columns, plain, middle, inside, radius) in cells)
            {
                if (Vec3.Dot(middle, direction) + radius <= most)
                {
                    continue;
                }

                var reach = double.NegativeInfinity;
                foreach (var point in outer)
                {
                    reach = Math.Max(reach, Vec3.Dot(point, direction));
                }

                if (reach > most && !(plain && (Slopes(outer, columns, columns, direction) || Slopes(outer, columns, 1, direction))))
                {
                    most = reach;
                    least = inside ? Math.Max(least, Vec3.Dot(middle, direction)) : least;
                }
            }

            return new(most, least);
        }

        // Whether all steps along one parameter go the same way.
        private static bool Slopes(Vec3[] outer, int columns, int step, Vec3 direction)
        {
            var (up, down) = (true, true);
            for (var i = 0; i + step < outer.Length && (up || down); i++)
            {
                if (step == 1 && i % columns == columns - 1)
                {
                    continue;
                }

                var rise = Vec3.Dot(outer[i + step] - outer[i], direction);
                up &= rise > 0;
                down &= rise < 0;
            }

            return up || down;
        }

        private const int Depth = 5;
        private const int MostCells = 20_000;

        private void Refine(Weighted[,] control, double u0, double u1, double v0, double v1, Region region, int depth)
        {
            if (u1 < region.LowU || u0 > region.HighU || v1 < region.LowV || v0 > region.HighV)
            {
                return;
            }

            if (depth < Depth && cells.Count < MostCells)
            {
                foreach (var (part, a0, a1, b0, b1) in Quarters(control, u0, u1, v0, v1))
                {
                    Refine(part, a0, a1, b0, b1, region, depth + 1);
                }

                return;
            }

            if (Touches(region, u0, u1, v0, v1))
            {
                var weights = control.Cast<Weighted>().ToArray();
                var (middle, outer) = (Middle(control), weights.Select(point => point.Place).ToArray());
                cells.Add(new(
                    outer, control.GetLength(1), Array.TrueForAll(weights, point => Math.Abs(point.W - weights[0].W) <= 1e-12 * weights[0].W),
                    middle, region.Holds((u0 + u1) / 2, (v0 + v1) / 2), outer.Max(point => (point - middle).Norm)));
            }
        }

        private static Vec3 Middle(Weighted[,] control)
        {
            var rows = Enumerable.Range(0, control.GetLength(0))
                .Select(a => Bezier.At([.. Enumerable.Range(0, control.GetLength(1)).Select(b => control[a, b])], 0.5).Value).ToArray();
            return Bezier.At(rows, 0.5).Value.Place;
        }

        // A small patch counts when any of nine places on and in it is inside; the loops themselves count as edges.
        private static bool Touches(Region region, double u0, double u1, double v0, double v1)
        {
            for (var i = 0; i < 9; i++)
            {
                if (region.Holds(u0 + ((u1 - u0) * (i % 3) / 2), v0 + ((v1 - v0) * (i / 3) / 2)))
                {
                    return true;
                }
            }

            return false;
        }

        private static IEnumerable<(Weighted[,] Control, double U0, double U1, double V0, double V1)> Quarters(
            Weighted[,] control, double u0, double u1, double v0, double v1)
        {
            var (rows, columns) = (control.GetLength(0), control.GetLength(1));
            Weighted[,] low = new Weighted[rows, columns], high = new Weighted[rows, columns];
            for (var b = 0; b < columns; b++)
            {
                var column = b;
                var (left, right) = Bezier.Halves([.. Enumerable.Range(0, rows).Select(a => control[a, column])]);
                for (var a = 0; a < rows; a++)
                {
                    (low[a, b], high[a, b]) = (left[a], right[a]);
                }
            }

            var (um, vm) = ((u0 + u1) / 2, (v0 + v1) / 2);
            foreach (var (half, a0, a1) in new[] { (low, u0, um), (high, um, u1) })
            {
                Weighted[,] near = new Weighted[rows, columns], far = new Weighted[rows, columns];
                for (var a = 0; a < rows; a++)
                {
                    var row = a;
                    var (left, right) = Bezier.Halves([.. Enumerable.Range(0, columns).Select(b => half[row, b])]);
                    for (var b = 0; b < columns; b++)
                    {
                        (near[a, b], far[a, b]) = (left[b], right[b]);
                    }
                }

                yield return (near, a0, a1, v0, vm);
                yield return (far, a0, a1, vm, v1);
            }
        }
    }
}
