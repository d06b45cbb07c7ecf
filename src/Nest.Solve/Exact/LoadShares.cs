namespace Nest.Solve.Exact;

/// <summary>Loads within the demand of a plate, and how each may be shared between the two parts of a cut.</summary>
internal static class LoadShares
{
    /// <summary>All loads within the demand, none first and the demand last, and of each all ordered ways to share it between two rectangles.</summary>
    public static (int[][] Counts, (int A, int B)[][] Shares) Of(PlateShape shape)
    {
        var counts = CountsOf(shape);
        var index = counts.Select((load, at) => (Key: string.Join(',', load), at)).ToDictionary(entry => entry.Key, entry => entry.at, StringComparer.Ordinal);
        return (counts, [.. counts.Select(load => counts.Select((part, a) => (a, Other: load.Zip(part, (whole, some) => whole - some).ToArray()))
            .Where(share => share.Other.All(n => n >= 0)).Select(share => (share.a, index[string.Join(',', share.Other)])).ToArray())]);
    }

    private static int[][] CountsOf(PlateShape shape)
    {
        var all = new List<int[]> { new int[shape.Pieces.Length] };
        for (var k = 0; k < shape.Pieces.Length; k++)
        {
            var before = all.Count;
            for (var n = 1; shape.Pieces[k].SizeX > 0 && n <= shape.Pieces[k].Demand; n++)
            {
                for (var at = 0; at < before; at++)
                {
                    var more = (int[])all[at].Clone();
                    more[k] = n;
                    all.Add(more);
                }
            }
        }

        return [.. all];
    }
}
