namespace Nest.Core.Solids.Exact;

/// <summary>A solid with exact faces.</summary>
/// <remarks>
/// Reach: of lines and arcs by formula, of spline curves by the control points of small pieces; inside of faces only where they bulge (spheres,
/// tori, turned curves, splines), see <see cref="Bulge"/>. Plane and ruled faces reach no farther than their edges.
/// Volume: known only where the shell closes by its edges, each used once in each direction, and the normals of all faces add up to nothing.
/// </remarks>
public sealed class ExactBody : Body
{
    private readonly ExactFace[] faces;
    private readonly ExactEdge[] edges;
    private readonly Bulge[] bulges;
    private readonly Vec3[] apexes;
    private readonly List<Vec3> points = [];
    private readonly Lazy<IReadOnlyList<Flat>> flats;

    /// <param name="apexes">Points that are loops of their own (the tip of a cone).</param>
    /// <param name="closed">Whether the file calls the shell closed and its edges agree.</param>
    public ExactBody(IReadOnlyList<ExactFace> faces, IReadOnlyList<Vec3> apexes, bool closed, double precision)
    {
        (this.faces, this.apexes, Closed) = ([.. faces], [.. apexes], closed);
        edges = [.. faces.SelectMany(face => face.Loops).SelectMany(loop => loop).Select(use => use.Edge).Distinct()];
        bulges = [.. faces.Select(Bulge.Of).OfType<Bulge>()];
        points.AddRange(edges.SelectMany(edge => edge.Points));
        points.AddRange(bulges.SelectMany(bulge => bulge.Points));
        points.AddRange(apexes);
        var far = points.Count == 0 ? 0 : points.Max(point => point.Norm);
        Precision = Math.Max(precision, far * 1e-12);
        (Moments, NoVolume) = Measure();
        flats = new(FindFlats);
    }

    public override IReadOnlyList<Vec3> Points => points;

    public override IReadOnlyList<Flat> Flats => flats.Value;

    public override double Precision { get; }

    public override Moments? Moments { get; }

    public override bool Closed { get; }

    public override string NoVolume { get; }

    /// <summary>How many faces of each kind of surface.</summary>
    public IReadOnlyDictionary<string, int> Surfaces => faces.GroupBy(face => face.Surface.GetType().Name).ToDictionary(group => group.Key, group => group.Count());

    public override IReadOnlyList<Vec3> Directions =>
    [
        .. Flats.OrderByDescending(flat => flat.Area).Select(flat => flat.Normal),
        .. faces.Select(face => face.Surface switch { ConeSurface cone => cone.Axis, TurnedSurface turned => turned.Axis, TorusSurface { IsSphere: false } torus => torus.Axis, _ => default })
            .Where(axis => axis.Norm > 0.5),
        .. faces.Select(face => face.Surface).OfType<PlaneSurface>().Select(plane => plane.Frame.Z),
        .. edges.Select(edge => edge.Curve).OfType<LineCurve>().Select(line => line.Slope(0).Unit),
    ];

    public override Reach ReachAlong(Vec3 direction)
    {
        var (most, least) = (double.NegativeInfinity, double.NegativeInfinity);
        foreach (var edge in edges)
        {
            Take(edge.ReachAlong(direction));
        }

        foreach (var bulge in bulges)
        {
            Take(bulge.ReachAlong(direction, most));
        }

        foreach (var apex in apexes)
        {
            var at = Vec3.Dot(apex, direction);
            Take(new(at, at));
        }

        return new(most, least);

        void Take(Reach reach) => (most, least) = (Math.Max(most, reach.Most), Math.Max(least, reach.Least));
    }

    public override IEnumerable<Patch> Patches() => faces.SelectMany(FacePatches.Of);

    private (Moments? Sums, string Why) Measure()
    {
        if (!Closed)
        {
            return (null, "its faces do not close");
        }

        var (low, high) = (points[0], points[0]);
        foreach (var point in points)
        {
            (low, high) = (Vec3.Min(low, point), Vec3.Max(high, point));
        }

        var sums = new Moments((low + high) * 0.5);
        foreach (var face in faces)
        {
            face.AddTo(sums);
        }

        return !double.IsFinite(sums.Volume) || sums.Normals.Norm > LargestGap * sums.Area
            ? (null, "its faces could not be added up soundly")
            : sums.Volume < 0 ? (sums.TurnedOver(), "") : (sums, "");
    }

    /// <summary>Normals of a closed surface add up to nothing; what is left over, as a share of the area, bounds the error of its parts.</summary>
    private const double LargestGap = 1e-5;

    private List<Flat> FindFlats()
    {
        var list = new List<Flat>();
        foreach (var face in faces)
        {
            if (face.Surface is not PlaneSurface plane)
            {
                continue;
            }

            var sums = new Moments(plane.Frame.Origin);
            face.AddTo(sums);
            var normal = sums.Normals.Unit;
            var offset = Vec3.Dot(plane.Frame.Origin, normal);
            if (ReachAlong(normal).Most > offset + 1e-6)
            {
                continue;
            }

            var known = list.FindIndex(flat => (flat.Normal - normal).Norm < 1e-9 && Math.Abs(flat.Offset - offset) < 1e-6);
            if (known >= 0)
            {
                list[known] = list[known] with { Area = list[known].Area + sums.Area };
            }
            else
            {
                list.Add(new(normal, offset, sums.Area));
            }
        }

        return list;
    }
}
