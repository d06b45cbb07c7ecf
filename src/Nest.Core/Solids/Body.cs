namespace Nest.Core.Solids;

/// <summary>How far a body reaches in a direction.</summary>
/// <param name="Most">No point of the body lies farther.</param>
/// <param name="Least">Some point of the body lies at least so far.</param>
public readonly record struct Reach(double Most, double Least);

/// <summary>A flat of a body: outward direction, distance of its plane from the origin, area in mm².</summary>
public readonly record struct Flat(Vec3 Normal, double Offset, double Area);

/// <summary>Closed line of points; several of them bound a patch, inner ones its holes.</summary>
public sealed record Patch(Vec3[][] Loops);

/// <summary>A body whose boxes, volume and shadow can be measured: a mesh, a solid with exact faces, or a thick outline.</summary>
/// <remarks>Lengths in millimetres.</remarks>
public abstract class Body
{
    /// <summary>How far it reaches in a direction of length one. <see cref="Reach.Most"/> is never too small, but for
    /// <see cref="Precision"/>.</summary>
    public abstract Reach ReachAlong(Vec3 direction);

    /// <summary>Points of the body whose convex hull stands for it in the search for a box.</summary>
    public abstract IReadOnlyList<Vec3> Points { get; }

    /// <summary>Flats on which it may lie.</summary>
    public abstract IReadOnlyList<Flat> Flats { get; }

    /// <summary>Directions worth trying as an axis of a box: of flats and of turned faces.</summary>
    public virtual IReadOnlyList<Vec3> Directions => [.. Flats.Select(flat => flat.Normal)];

    /// <summary>Patches that together cover its surface, for the picture of its shadow.</summary>
    public abstract IEnumerable<Patch> Patches();

    /// <summary>What the file's own digits leave open, in mm.</summary>
    public abstract double Precision { get; }

    /// <summary>Surface, volume and moments; null where the body is open or its faces could not be added up soundly.</summary>
    public abstract Moments? Moments { get; }

    /// <summary>Why there is no volume; empty where there is one.</summary>
    public abstract string NoVolume { get; }

    /// <summary>Whether its faces close.</summary>
    public abstract bool Closed { get; }

    /// <summary>Corners of <see cref="Hull"/> at most: the pairs of edges that a search for a box looks at grow with the square.</summary>
    protected const int HullCorners = 500;

    /// <summary>Convex hull of <see cref="Points"/>, cut short at 500 corners; null where the body has no thickness.</summary>
    public virtual ConvexHull? Hull => ConvexHull.Of(Points, Precision, HullCorners);

    /// <summary>How far it reaches in a direction of length one, and in the opposite one.</summary>
    protected virtual (Reach Up, Reach Down) ReachBoth(Vec3 axis) => (ReachAlong(axis), ReachAlong(-axis));

    /// <summary>Box along three axes at right angles to each other.</summary>
    public SolidBox BoxAlong(Vec3 x, Vec3 y, Vec3 z)
    {
        var (a, b, c) = (Side(x), Side(y), Side(z));
        return new(x, y, z, new(a.Low, b.Low, c.Low), new(a.High, b.High, c.High), new(a.Excess, b.Excess, c.Excess));

        (double Low, double High, double Excess) Side(Vec3 axis)
        {
            var (up, down) = ReachBoth(axis);
            return (-down.Most, up.Most, Math.Max(0, up.Most - up.Least) + Math.Max(0, down.Most - down.Least));
        }
    }
}

/// <summary>A box: axes of length one at right angles, the reach along each, and by how much each side may be too large.</summary>
public sealed record SolidBox(Vec3 X, Vec3 Y, Vec3 Z, Vec3 Low, Vec3 High, Vec3 Excess)
{
    public Vec3 Size => High - Low;

    public double Volume => Size.X * Size.Y * Size.Z;

    /// <summary>The same box with its sides from the longest to the shortest; the axes stay right-handed.</summary>
    public SolidBox Sorted()
    {
        var order = new[] { 0, 1, 2 };
        var size = Size;
        Array.Sort(order, (a, b) => size[b] != size[a] ? size[b].CompareTo(size[a]) : a.CompareTo(b));
        return Ordered(order[0], order[1], order[2]);
    }

    /// <summary>The same box with the longer of its first two sides first.</summary>
    public SolidBox Lying() => Size.X >= Size.Y ? this : Ordered(1, 0, 2);

    private SolidBox Ordered(int first, int second, int third)
    {
        Vec3[] axes = [X, Y, Z];
        var (x, y, z) = (axes[first], axes[second], axes[third]);
        var (low, high, excess) = (Pick(Low), Pick(High), Pick(Excess));
        return Vec3.Dot(Vec3.Cross(x, y), z) >= 0
            ? new(x, y, z, low, high, excess)
            : new(x, y, -z, low with { Z = -high.Z }, high with { Z = -low.Z }, excess);

        Vec3 Pick(Vec3 of) => new(of[first], of[second], of[third]);
    }
}
