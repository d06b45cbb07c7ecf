namespace Nest.Core.Solids;

/// <summary>The work of <see cref="ConvexHull"/>.</summary>
internal sealed class QuickHull
{
    private readonly WholePoints points;
    private readonly int[] nextOutside;
    private readonly double tolerance;
    private readonly List<Work> faces = [];
    private readonly PriorityQueue<int, double> queue = new();
    private readonly List<(int Face, int Edge)> horizon = [];
    private readonly Dictionary<int, int> startsAt = [];
    private int corners;

    public QuickHull(IReadOnlyList<Vec3> from, Vec3 low, double tolerance)
    {
        points = new(from, low);
        nextOutside = new int[from.Count];
        this.tolerance = Math.Max(tolerance, 0.5);
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
        for (var i = 1; i < points.Count; i++)
        {
            a = points.Less(i, a) ? i : a;
            b = points.Less(b, i) ? i : b;
        }

        var along = (points[b] - points[a]).Unit;
        var c = Best(p => Vec3.Cross(p - points[a], along).Norm);
        var normal = Vec3.Cross(points[b] - points[a], points[c] - points[a]).Unit;
        var d = Best(p => Math.Abs(Vec3.Dot(p - points[a], normal)));
        var side = points.Side(a, b, c, d);
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
        for (var i = 0; i < points.Count; i++)
        {
            Place(i, 0);
        }

        Enqueue(0);
        return true;

        int Best(Func<Vec3, double> measure)
        {
            var (best, at) = (-1.0, 0);
            for (var i = 0; i < points.Count; i++)
            {
                var value = measure(points[i]);
                if (value > best)
                {
                    (best, at) = (value, i);
                }
            }

            return at;
        }

        void Link(int face, int[] next) => next.CopyTo(faces[face].Next, 0);
    }

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

                if (points.Side(other.V[0], other.V[1], other.V[2], point) > 0)
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
        var at = points[a];
        var normal = Vec3.Cross(points[b] - at, points[c] - at).Unit;
        faces.Add(new(a, b, c) { Normal = normal, Offset = Vec3.Dot(normal, at) });
        return faces.Count - 1;
    }

    private void Place(int point, int firstFace)
    {
        var at = points[point];
        for (var i = firstFace; i < faces.Count; i++)
        {
            var face = faces[i];
            var height = Vec3.Dot(face.Normal, at) - face.Offset;
            if (height <= tolerance || points.Side(face.V[0], face.V[1], face.V[2], point) <= 0)
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
                list.Add(points[point] * 1e-6);
            }

            return number;
        }
    }
}
