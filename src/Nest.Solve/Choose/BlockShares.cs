namespace Nest.Solve.Choose;

/// <summary>How wanted pieces of up to four kinds are shared between two rests. Counts are packed, 8 bits a kind.</summary>
internal sealed class BlockShares((long X, long Y, bool MayTurn)[] sizes, long kerf)
{
    private readonly Dictionary<long, Share[]> _known = [];

    /// <summary>A part of what is wanted, with the area that it takes with a kerf at two sides.</summary>
    internal readonly record struct Share(long Counts, double Area);

    public static long Pack(ReadOnlySpan<int> counts)
    {
        long packed = 0;
        for (var k = 0; k < counts.Length; k++)
        {
            packed |= (long)counts[k] << (8 * k);
        }

        return packed;
    }

    public static int Count(long counts, int kind) => (int)((counts >> (8 * kind)) & 255);

    /// <summary>The area of these pieces, each grown by a kerf.</summary>
    public double AreaOf(long counts, long grown)
    {
        double area = 0;
        for (var k = 0; k < sizes.Length; k++)
        {
            area += (double)Count(counts, k) * (sizes[k].X + grown) * (sizes[k].Y + grown);
        }

        return area;
    }

    public Share[] Of(long rest)
    {
        if (!_known.TryGetValue(rest, out var shares))
        {
            shares = [.. Parts(rest).Select(share => new Share(share, AreaOf(share, kerf)))];
            _known.Add(rest, shares);
        }

        return shares;
    }

    /// <summary>None or all of each kind, and any number of one of them.</summary>
    private IEnumerable<long> Parts(long rest)
    {
        var kinds = Enumerable.Range(0, sizes.Length).Where(k => Count(rest, k) > 0).ToArray();
        var seen = new HashSet<long>();
        for (var bits = 0; bits < 1 << kinds.Length; bits++)
        {
            var whole = kinds.Where((_, at) => (bits & (1 << at)) != 0).Sum(k => (long)Count(rest, k) << (8 * k));
            if (seen.Add(whole))
            {
                yield return whole;
            }

            foreach (var k in kinds)
            {
                var without = whole & ~(255L << (8 * k));
                for (var n = 1; n < Count(rest, k); n++)
                {
                    if (seen.Add(without | ((long)n << (8 * k))))
                    {
                        yield return without | ((long)n << (8 * k));
                    }
                }
            }
        }
    }
}
