namespace Nest.Core.Solids;

/// <summary>How the triangles of a mesh hang together.</summary>
internal static class MeshEdges
{
    /// <summary>Open edges, and whether all others are used once in each direction.</summary>
    public static (int Open, bool Oriented) Count(int[] corners, int points)
    {
        var keys = Keys(corners, points);
        Array.Sort(keys);
        var (open, oriented) = (0, true);
        for (var i = 0; i < keys.Length;)
        {
            var (count, forward, edge) = (0, 0, keys[i] >> 1);
            for (; i < keys.Length && keys[i] >> 1 == edge; i++)
            {
                count++;
                forward += (int)(keys[i] & 1);
            }

            open += count % 2;
            oriented &= 2 * forward == count;
        }

        return (open, oriented);
    }

    /// <summary>For each half-edge (triangle × 3 + side) the one on its other side; −1 where more or fewer than two share the edge.</summary>
    public static int[] Partners(int[] corners, int points)
    {
        var keys = Keys(corners, points);
        var halves = new int[keys.Length];
        for (var i = 0; i < halves.Length; i++)
        {
            halves[i] = i;
        }

        Array.Sort(keys, halves);
        var partners = new int[keys.Length];
        Array.Fill(partners, -1);
        for (var i = 0; i < keys.Length;)
        {
            var start = i;
            while (i < keys.Length && keys[i] >> 1 == keys[start] >> 1)
            {
                i++;
            }

            if (i - start == 2)
            {
                partners[halves[start]] = halves[start + 1];
                partners[halves[start + 1]] = halves[start];
            }
        }

        return partners;
    }

    /// <summary>Pieces that share no corner (union–find, path halving).</summary>
    public static int Shells(int[] corners, int points)
    {
        var parent = new int[points];
        for (var i = 0; i < points; i++)
        {
            parent[i] = i;
        }

        var shells = points;
        for (var i = 0; i < corners.Length; i += 3)
        {
            Join(corners[i], corners[i + 1]);
            Join(corners[i], corners[i + 2]);
        }

        return shells;

        void Join(int a, int b)
        {
            (a, b) = (Root(a), Root(b));
            if (a != b)
            {
                parent[Math.Max(a, b)] = Math.Min(a, b);
                shells--;
            }
        }

        int Root(int a)
        {
            while (parent[a] != a)
            {
                parent[a] = parent[parent[a]];
                a = parent[a];
            }

            return a;
        }
    }

    // Smaller corner, larger corner, direction.
    private static ulong[] Keys(int[] corners, int points)
    {
        var keys = new ulong[corners.Length];
        var base_ = (ulong)points;
        for (var i = 0; i < corners.Length; i++)
        {
            var (a, b) = (corners[i], i % 3 == 2 ? corners[i - 2] : corners[i + 1]);
            var (low, high) = a < b ? (a, b) : (b, a);
            keys[i] = ((((ulong)low * base_) + (ulong)high) << 1) | (a < b ? 1UL : 0UL);
        }

        return keys;
    }
}
