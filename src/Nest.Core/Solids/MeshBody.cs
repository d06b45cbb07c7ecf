namespace Nest.Core.Solids;

/// <summary>A body of triangles.</summary>
/// <remarks>
/// Closed: each edge is used as often as it must be to bound a volume: in each triangle pair once either way. Edges are compared by
/// sorting, 16 bytes an edge. A mesh that closes but whose triangles are turned in part is turned right shell by shell
/// (<see cref="MeshOrienter"/>); its volume is that of the mended mesh, and <see cref="TurnedOver"/> says how many were wrong.
/// </remarks>
public sealed class MeshBody : Body
{
    private readonly Vec3[] points;
    private readonly int[] corners;
    private readonly Lazy<ConvexHull[]?> hulls;
    private IReadOnlyList<Flat>? flats;

    internal MeshBody(Vec3[] points, int[] corners, double precision, int degenerate)
    {
        this.points = points;
        this.corners = corners;
        Precision = precision;
        Degenerate = degenerate;
        // Flats are told from a finer hull than boxes need.
        hulls = new(() => ConvexHull.Of(points, Precision, HullCorners, 2 * HullCorners));
        (OpenEdges, Oriented) = MeshEdges.Count(corners, points.Length);
        var sum = Sum(corners);
        SignedVolume = sum.Volume;
        Moments = Measure(sum);
        Shells = MeshEdges.Shells(corners, points.Length);
    }

    public override IReadOnlyList<Vec3> Points => points;

    public override double Precision { get; }

    public override Moments? Moments { get; }

    public override bool Closed => OpenEdges == 0;

    public override string NoVolume => Closed
        ? Moments is null ? "its triangles cannot be turned so that they bound a volume" : ""
        : $"the mesh is not closed: {OpenEdges} edges are open";

    /// <summary>Edges that an odd number of triangles share.</summary>
    public int OpenEdges { get; }

    /// <summary>Whether each edge is used once in each direction.</summary>
    public bool Oriented { get; }

    /// <summary>Triangles that were turned over to bound a volume.</summary>
    public int TurnedOver { get; private set; }

    /// <summary>Inside out as a whole.</summary>
    public bool InsideOut { get; private set; }

    /// <summary>Sum over the triangles as written, mm³.</summary>
    public double SignedVolume { get; }

    /// <summary>Pieces of surface that share no corner.</summary>
    public int Shells { get; }

    public int Triangles => corners.Length / 3;

    public int Degenerate { get; }

    /// <summary>Surface, mm².</summary>
    public double Area { get; private set; }

    public override IReadOnlyList<Flat> Flats => flats ??= hulls.Value is [.., var fine] ? MeshFlats.Of(fine, points, corners, Precision) : [];

    public override ConvexHull? Hull => hulls.Value?[0];

    public override Reach ReachAlong(Vec3 direction)
    {
        var most = double.NegativeInfinity;
        foreach (var point in points)
        {
            var at = Vec3.Dot(point, direction);
            most = at > most ? at : most;
        }

        return new(most, most);
    }

    protected override (Reach Up, Reach Down) ReachBoth(Vec3 axis)
    {
        var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (var point in points)
        {
            var at = Vec3.Dot(point, axis);
            high = at > high ? at : high;
            low = at < low ? at : low;
        }

        return (new(high, high), new(-low, -low));
    }

    public override IEnumerable<Patch> Patches()
    {
        for (var i = 0; i < corners.Length; i += 3)
        {
            yield return new([[points[corners[i]], points[corners[i + 1]], points[corners[i + 2]]]]);
        }
    }

    private Moments? Measure(Moments sum)
    {
        if (!Closed)
        {
            return null;
        }

        if (Oriented)
        {
            InsideOut = SignedVolume < 0;
            return InsideOut ? sum.TurnedOver() : sum;
        }

        if (MeshOrienter.Mend(points, corners) is not { } mended)
        {
            return null;
        }

        TurnedOver = mended.Turned;
        return Sum(mended.Corners);
    }

    private Moments Sum(int[] triangles)
    {
        var moments = new Moments((points[0] + points[points.Length / 2]) * 0.5);
        for (var i = 0; i < triangles.Length; i += 3)
        {
            moments.AddTriangle(points[triangles[i]], points[triangles[i + 1]], points[triangles[i + 2]]);
        }

        Area = moments.Area;
        return moments;
    }
}
