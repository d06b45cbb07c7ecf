namespace Nest.Core.Solids;

/// <summary>Turns the triangles of a closed mesh so that all face outward.</summary>
/// <remarks>Method: from one triangle of each shell across the edges, neighbours are turned to agree; then a shell that encloses a negative
/// volume is turned over. A cavity (a shell inside of another) is therefore counted as solid here; it is seldom damaged as well.
/// Cost: sorting the edges.</remarks>
internal static class MeshOrienter
{
    /// <summary>Corners of the mended triangles and how many were turned; null where the surface has one side only or more than two triangles
    /// share an edge.</summary>
    public static (int[] Corners, int Turned)? Mend(Vec3[] points, int[] corners)
    {
        var partners = MeshEdges.Partners(corners, points.Length);
        var mended = (int[])corners.Clone();
        var turned = new bool[corners.Length / 3];
        var seen = new bool[turned.Length];
        var shell = new List<int>();
        var count = 0;
        for (var first = 0; first < turned.Length; first++)
        {
            if (seen[first])
            {
                continue;
            }

            shell.Clear();
            shell.Add(first);
            seen[first] = true;
            for (var i = 0; i < shell.Count; i++)
            {
                if (!Spread(shell[i], corners, partners, turned, seen, shell))
                {
                    return null;
                }
            }

            count += Settle(points, corners, mended, turned, shell);
        }

        return (mended, count);
    }

    private static bool Spread(int triangle, int[] corners, int[] partners, bool[] turned, bool[] seen, List<int> shell)
    {
        for (var half = 3 * triangle; half < (3 * triangle) + 3; half++)
        {
            var partner = partners[half];
            if (partner < 0)
            {
                return false;
            }

            var other = partner / 3;
            // Equal starts: both run the same way along the edge, so one must be turned.
            var turn = turned[triangle] ^ (corners[half] == corners[partner]);
            if (!seen[other])
            {
                (seen[other], turned[other]) = (true, turn);
                shell.Add(other);
            }
            else if (turned[other] != turn)
            {
                return false;
            }
        }

        return true;
    }

    private static int Settle(Vec3[] points, int[] corners, int[] mended, bool[] turned, List<int> shell)
    {
        double volume = 0;
        var origin = points[corners[3 * shell[0]]];
        foreach (var triangle in shell)
        {
            var (a, b, c) = (points[corners[3 * triangle]] - origin, points[corners[(3 * triangle) + 1]] - origin, points[corners[(3 * triangle) + 2]] - origin);
            volume += Vec3.Dot(a, Vec3.Cross(b, c)) * (turned[triangle] ? -1 : 1);
        }

        var count = 0;
        foreach (var triangle in shell)
        {
            if (turned[triangle] ^ (volume < 0))
            {
                (mended[3 * triangle], mended[(3 * triangle) + 1]) = (corners[(3 * triangle) + 1], corners[3 * triangle]);
                count++;
            }
        }

        return count;
    }
}
