namespace Nest.Core.Solids;

/// <summary>Farthest corners of a hull, found by walking from corner to neighbouring corner; on a convex body no walk gets stuck.</summary>
internal sealed class HullWalk
{
    private readonly Vec3[] corners;
    private readonly int[][] neighbours;

    public HullWalk(ConvexHull hull)
    {
        corners = [.. hull.Corners];
        var sets = new HashSet<int>[corners.Length];
        for (var i = 0; i < sets.Length; i++)
        {
            sets[i] = [];
        }

        foreach (var face in hull.Faces)
        {
            sets[face.A].Add(face.B);
            sets[face.B].Add(face.C);
            sets[face.C].Add(face.A);
        }

        neighbours = [.. sets.Select(set => set.Order().ToArray())];
    }

    public Vec3 this[int corner] => corners[corner];

    public int[] Neighbours(int corner) => neighbours[corner];

    /// <summary>The farthest corner in a direction of any length, starting near one.</summary>
    public int Farthest(Vec3 direction, int from)
    {
        var (at, reach) = (from, Vec3.Dot(corners[from], direction));
        for (var moved = true; moved;)
        {
            moved = false;
            foreach (var next in neighbours[at])
            {
                var value = Vec3.Dot(corners[next], direction);
                if (value > reach)
                {
                    (at, reach, moved) = (next, value, true);
                }
            }
        }

        return at;
    }
}
