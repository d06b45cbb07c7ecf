namespace Nest.Core.Solids;

/// <summary>Points in whole nanometres from a corner of their box, with the one exact question that a hull asks of them.</summary>
internal sealed class WholePoints
{
    // Half of the distance from 1 to the next number.
    private const double Half = 1.0 / (1L << 53);

    private readonly Int3[] points;

    /// <summary>Rounds the points.</summary>
    /// <param name="from">In mm.</param>
    /// <param name="low">No point has a smaller coordinate.</param>
    public WholePoints(IReadOnlyList<Vec3> from, Vec3 low)
    {
        points = new Int3[from.Count];
        for (var i = 0; i < points.Length; i++)
        {
            var p = (from[i] - low) * 1e6;
            points[i] = new((long)Math.Round(p.X), (long)Math.Round(p.Y), (long)Math.Round(p.Z));
        }
    }

    private readonly record struct Int3(long X, long Y, long Z)
    {
        public Vec3 ToVec => new(X, Y, Z);
    }

    /// <summary>How many there are.</summary>
    public int Count => points.Length;

    /// <summary>A point in nanometres.</summary>
    public Vec3 this[int point] => points[point].ToVec;

    /// <summary>Whether one point comes before another: by x, then y, then z.</summary>
    public bool Less(int one, int other)
    {
        var (a, b) = (points[one], points[other]);
        return a.X != b.X ? a.X < b.X : a.Y != b.Y ? a.Y < b.Y : a.Z < b.Z;
    }

    /// <summary>Exact: above zero where d lies on the side from which a, b, c run counter-clockwise.</summary>
    public int Side(int a, int b, int c, int d)
    {
        var (p, q, r, s) = (points[a], points[b], points[c], points[d]);
        if (QuickSide(p, q, r, s) is var sure and not 0)
        {
            return sure;
        }

        Int128 ux = q.X - p.X, uy = q.Y - p.Y, uz = q.Z - p.Z;
        Int128 vx = r.X - p.X, vy = r.Y - p.Y, vz = r.Z - p.Z;
        Int128 wx = s.X - p.X, wy = s.Y - p.Y, wz = s.Z - p.Z;
        return Int128.Sign((((uy * vz) - (uz * vy)) * wx) + (((uz * vx) - (ux * vz)) * wy) + (((ux * vy) - (uy * vx)) * wz));
    }

    /// <summary>The same in floating point where that is sure, else 0.</summary>
    /// <remarks>Differences of whole nanometres are exact below 2^53; the bound on what rounding adds is that of Shewchuk (1997), orient3d.</remarks>
    private static int QuickSide(Int3 p, Int3 q, Int3 r, Int3 s)
    {
        const double bound = (7 + (56 * Half)) * Half;
        double ux = q.X - p.X, uy = q.Y - p.Y, uz = q.Z - p.Z;
        double vx = r.X - p.X, vy = r.Y - p.Y, vz = r.Z - p.Z;
        double wx = s.X - p.X, wy = s.Y - p.Y, wz = s.Z - p.Z;
        double yz = uy * vz, zy = uz * vy, zx = uz * vx, xz = ux * vz, xy = ux * vy, yx = uy * vx;
        var value = ((yz - zy) * wx) + ((zx - xz) * wy) + ((xy - yx) * wz);
        var all = ((Math.Abs(yz) + Math.Abs(zy)) * Math.Abs(wx)) + ((Math.Abs(zx) + Math.Abs(xz)) * Math.Abs(wy)) + ((Math.Abs(xy) + Math.Abs(yx)) * Math.Abs(wz));
        return value > bound * all ? 1 : value < -bound * all ? -1 : 0;
    }
}
