using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Dxf;

/// <summary>Joins loose lines and arcs to closed outlines.</summary>
/// <remarks>Ends that lie within <paramref name="near"/> are one; the corner is then that of the first. Where more than two meet, which belong
/// together is not known: all of that chain counts as open. Cost: linear, by a grid.</remarks>
internal sealed class OutlineChains(double near)
{
    private readonly Dictionary<(long X, long Y), List<int>> grid = [];
    private readonly List<(double X, double Y)> nodes = [];

    /// <summary>Outlines, and where chains are open (one place each).</summary>
    public (List<OutlineCorner[]> Closed, List<(double X, double Y)> Open, int Twice) Join(IReadOnlyList<(OutlineCorner From, OutlineCorner To)> loose)
    {
        var sides = new List<(int From, int To, double Bulge)>();
        var known = new HashSet<(int, int, long)>();
        var twice = 0;
        foreach (var (from, to) in loose)
        {
            var (a, b) = (Node(from.X, from.Y), Node(to.X, to.Y));
            if (a == b)
            {
                continue;
            }

            // The same line drawn twice is one.
            var key = a < b ? (a, b, (long)Math.Round(from.Bulge * 1e6)) : (b, a, (long)Math.Round(-from.Bulge * 1e6));
            if (known.Add(key))
            {
                sides.Add((a, b, from.Bulge));
            }
            else
            {
                twice++;
            }
        }

        var at = new List<int>[nodes.Count];
        for (var i = 0; i < sides.Count; i++)
        {
            (at[sides[i].From] ??= []).Add(i);
            (at[sides[i].To] ??= []).Add(i);
        }

        var (used, closed, open) = (new bool[sides.Count], new List<OutlineCorner[]>(), new List<(double X, double Y)>());
        // Open chains first: their ends are nodes that do not have just two sides.
        for (var node = 0; node < nodes.Count; node++)
        {
            foreach (var side in at[node] ?? [])
            {
                if (at[node].Count != 2 && !used[side])
                {
                    Walk(side, node);
                    open.Add(nodes[node]);
                }
            }
        }

        for (var i = 0; i < sides.Count; i++)
        {
            if (!used[i])
            {
                closed.Add([.. Walk(i, sides[i].From)]);
            }
        }

        return (closed, open, twice);

        List<OutlineCorner> Walk(int side, int node)
        {
            var corners = new List<OutlineCorner>();
            while (side >= 0 && !used[side])
            {
                used[side] = true;
                var (from, to, bulge) = sides[side];
                corners.Add(new(nodes[node].X, nodes[node].Y, node == from ? bulge : -bulge));
                node = node == from ? to : from;
                side = at[node].Count == 2 ? at[node].Find(next => !used[next], -1) : -1;
            }

            return corners;
        }
    }

    private int Node(double x, double y)
    {
        var (cx, cy) = ((long)Math.Floor(x / near), (long)Math.Floor(y / near));
        for (var i = 0; i < 9; i++)
        {
            foreach (var node in grid.GetValueOrDefault((cx + (i % 3) - 1, cy + (i / 3) - 1)) ?? [])
            {
                var (dx, dy) = (nodes[node].X - x, nodes[node].Y - y);
                if ((dx * dx) + (dy * dy) <= near * near)
                {
                    return node;
                }
            }
        }

        if (!grid.TryGetValue((cx, cy), out var cell))
        {
            grid[(cx, cy)] = cell = [];
        }

        cell.Add(nodes.Count);
        nodes.Add((x, y));
        return nodes.Count - 1;
    }
}

/// <summary>Finding with a value for "none".</summary>
internal static class ListFind
{
    public static int Find(this List<int> list, Predicate<int> match, int none)
    {
        var at = list.FindIndex(match);
        return at < 0 ? none : list[at];
    }
}
