namespace Nest.Core.Solids;

/// <summary>The work of <see cref="ConvexHull"/>.</summary>
internal sealed class QuickHull
{
    private readonly Int3[] points;
    private readonly int[] nextOutside;
    private readonly double tolerance;
    private readonly List<Work> faces = [];
    private readonly PriorityQueue<int, double> queue = new();
    private readonly List<(int Face, int Edge)> horizon = [];
    private readonly Dictionary<int, int> startsAt = [];
    private int corners;

    public QuickHull(IReadOnlyList<Vec3> from, Vec3 low, double tolerance)
    {
        points = new Int3[from.Count];
        nextOutside = new int[from.Count];
        this.tolerance = Math.Max(tolerance, 0.5);
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

    private sealed class Work(int a, int b, int c)
    {
        public readonly int[] V = [a, b, c];
        public readonly int[] Next = [-1, -1, -1];
        public Vec3 Normal;
        public double Offset;
        public bool Dead;
        public bool Seen;
        public int First = -1;
        public int Farthest = -1;
        public double Height;
    }

    /// <summary>Corners in mm, faces with neighbours, and what was missed in mm; null where the points are flat.</summary>
    /// <param name="most">Corners at most of each result, rising.</param>
    public List<(Vec3[] Corners, List<ConvexHull.HullFace> Faces, double Missed)>? Run(int[] most)
    {
        if (!Start())
        {
            return null;
        }

        var results = new List<(Vec3[], List<ConvexHull.HullFace>, double)>();
        foreach (var limit in most)
        {
            while (corners < limit && queue.TryDequeue(out var number, out _))
            {
                var face = faces[number];
                if (!face.Dead && face.Farthest >= 0)
                {
                    Add(number, face.Farthest);
                }
            }

            results.Add(Result());
        }

        return results;
    }

    private bool Start()
    {
        int a = 0, b = 0;
        for (var i = 1; i < points.Length; i++)
        {
            a = Less(points[i], points[a]) ? i : a;
            b = Less(points[b], points[i]) ? i : b;
        }

        var along = (points[b].ToVec - points[a].ToVec).Unit;
        var c = Best(p => Vec3.Cross(p - points[a].ToVec, along).Norm);
        var normal = Vec3.Cross(points[b].ToVec - points[a].ToVec, points[c].ToVec - points[a].ToVec).Unit;
        var d = Best(p => Math.Abs(Vec3.Dot(p - points[a].ToVec, normal)));
        var side = Side(a, b, c, d);
        if (side == 0)
        {
            return false;
        }

        if (side > 0)
        {
            (b, c) = (c, b);
        }

        // d lies below a-b-c.
        NewFace(a, b, c);
        NewFace(a, d, b);
        NewFace(b, d, c);
        NewFace(c, d, a);
        Link(0, [1, 2, 3]);
        Link(1, [3, 2, 0]);
        Link(2, [1, 3, 0]);
        Link(3, [2, 1, 0]);
        corners = 4;
        for (var i = 0; i < points.Length; i++)
        {
            Place(i, 0);
        }

        Enqueue(0);
        return true;

        int Best(Func<Vec3, double> measure)
        {
            var (best, at) = (-1.0, 0);
            for (var i = 0; i < points.Length; i++)
            {
                var value = measure(points[i].ToVec);
                if (value > best)
                {
                    (best, at) = (value, i);
                }
            }

            return at;
        }

        void Link(int face, int[] next) => next.CopyTo(faces[face].Next, 0);
    }

    private static bool Less(Int3 a, Int3 b) => a.X != b.X ? a.X < b.X : a.Y != b.Y ? a.Y < b.Y : a.Z < b.Z;

    // All faces that the point sees go; a fan from the point to their rim comes.
    private void Add(int first, int point)
    {
        horizon.Clear();
        startsAt.Clear();
        var gone = new List<int> { first };
        faces[first].Seen = true;
        for (var i = 0; i < gone.Count; i++)
        {
            var face = faces[gone[i]];
            for (var edge = 0; edge < 3; edge++)
            {
                var other = faces[face.Next[edge]];
                if (other.Seen)
                {
                    continue;
                }

                if (Side(other.V[0], other.V[1], other.V[2], point) > 0)
                {
                    other.Seen = true;
                    gone.Add(face.Next[edge]);
                }
                else
                {
                    horizon.Add((gone[i], edge));
                }
            }
        }

        var start = faces.Count;
        foreach (var (number, edge) in horizon)
        {
            var old = faces[number];
            var (from, to) = (old.V[edge], old.V[(edge + 1) % 3]);
            var made = NewFace(from, to, point);
            var outside = old.Next[edge];
            faces[made].Next[0] = outside;
            var back = Array.FindIndex(faces[outside].V, v => v == to);
            faces[outside].Next[back] = made;
            startsAt[from] = made;
        }

        for (var i = start; i < faces.Count; i++)
        {
            var next = startsAt[faces[i].V[1]];
            faces[i].Next[1] = next;
            faces[next].Next[2] = i;
        }

        corners++;
        foreach (var number in gone)
        {
            var face = faces[number];
            face.Dead = true;
            for (var p = face.First; p >= 0;)
            {
                var following = nextOutside[p];
                if (p != point)
                {
                    Place(p, start);
                }

                p = following;
            }

            face.First = -1;
        }

        Enqueue(start);
    }

    private int NewFace(int a, int b, int c)
    {
        var at = points[a].ToVec;
        var normal = Vec3.Cross(points[b].ToVec - at, points[c].ToVec - at).Unit;
        faces.Add(new(a, b, c) { Normal = normal, Offset = Vec3.Dot(normal, at) });
        return faces.Count - 1;
    }

    private void Place(int point, int firstFace)
    {
        var at = points[point].ToVec;
        for (var i = firstFace; i < faces.Count; i++)
        {
            var face = faces[i];
            var height = Vec3.Dot(face.Normal, at) - face.Offset;
            if (height <= tolerance || Side(face.V[0], face.V[1], face.V[2], point) <= 0)
            {
                continue;
            }

            nextOutside[point] = face.First;
            face.First = point;
            if (height > face.Height)
            {
                face.Height = height;
                face.Farthest = point;
            }

            return;
        }
    }

    private void Enqueue(int firstFace)
    {
        for (var i = firstFace; i < faces.Count; i++)
        {
            if (faces[i].Farthest >= 0)
            {
                queue.Enqueue(i, -faces[i].Height);
            }
        }
    }

    /// <summary>Exact: above zero where d lies on the side from which a, b, c run counter-clockwise.</summary>
    private int Side(int a, int b, int c, int d)
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

    // Half of the distance from 1 to the next number.
    private const double Half = 1.0 / (1L << 53);

    private (Vec3[] Corners, List<ConvexHull.HullFace> Faces, double Missed) Result()
    {
        var alive = new int[faces.Count];
        var numbers = new Dictionary<int, int>();
        var list = new List<Vec3>();
        var result = new List<ConvexHull.HullFace>();
        double missed = 0;
        for (var i = 0; i < faces.Count; i++)
        {
            var face = faces[i];
            alive[i] = face.Dead ? -1 : result.Count;
            if (!face.Dead)
            {
                missed = Math.Max(missed, face.Height);
                result.Add(new(Number(face.V[0]), Number(face.V[1]), Number(face.V[2]), face.Normal));
            }
        }

        for (var i = 0; i < faces.Count; i++)
        {
            for (var edge = 0; alive[i] >= 0 && edge < 3; edge++)
            {
                result[alive[i]].Next[edge] = alive[faces[i].Next[edge]];
            }
        }

        return ([.. list], result, Math.Max(missed, tolerance) / 1e6);

        int Number(int point)
        {
            if (!numbers.TryGetValue(point, out var number))
            {
                number = list.Count;
                numbers[point] = number;
                list.Add(points[point].ToVec * 1e-6);
            }

            return number;
        }
    }
}
