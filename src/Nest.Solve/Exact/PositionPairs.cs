namespace Nest.Solve.Exact;

/// <summary>All pairs of positions of the stop with which three or more sizes come about in one direction: the part of <see cref="StopPositions"/> with two positions, where most of its time goes.</summary>
/// <remarks>
/// With unknown positions p and q, a kerf added to each, a size s comes about as E − i p − j q = s for an extent E of the plate and i + j of 1 or more cuts, or as p − j q = s + kerf, or as q − i p = s + kerf. Two sizes give p and q; whether
/// the other sizes come about with them too is looked at in floating point first, and only what may be so in whole numbers. p and q may change places, so of each first equation only one of the two ways is taken.
/// O(ways², ways · cuts for each pair within the metal); ways = O(most²).
/// </remarks>
internal sealed class PositionPairs
{
    /// <summary>Share of a kerfed position by which a quotient may miss a whole number: far more than floating point does.</summary>
    private const double Rounding = 1e-7;

    private readonly long[] _sizes;
    private readonly long[] _extents;
    private readonly long _kerf;
    private readonly int _most;
    private readonly Action<long, long, long> _found;
    private readonly Func<bool> _ends;

    /// <summary>a p + b q = Right.</summary>
    private readonly record struct Way(long A, long B, long Right);

    /// <param name="sizes">Three or more, none an extent.</param>
    /// <param name="most">Cuts that a layout may have.</param>
    /// <param name="found">Told p, q and their denominator, kerfs in them.</param>
    /// <param name="ends">Asked now and then whether to stop.</param>
    public PositionPairs(long[] sizes, IReadOnlyList<long> extents, long kerf, int most, Action<long, long, long> found, Func<bool> ends)
    {
        (_sizes, _extents, _kerf, _most, _found, _ends) = (sizes, [.. extents], kerf, most, found, ends);
    }

    public void Look()
    {
        var ways = _sizes.Select(WaysOf).ToArray();
        foreach (var one in ways[0].Where(way => way.A >= way.B))
        {
            Beside(one, 1, ways);
        }
    }

    /// <summary>Solves an equation of a size together with each of another one.</summary>
    private void Beside(Way one, int size, List<Way>[] ways)
    {
        if (size == ways.Length || _ends())
        {
            return;
        }

        foreach (var other in ways[size])
        {
            if ((one.A * other.B) - (other.A * one.B) != 0)
            {
                Solve(one, other, size + 1);
            }
            else if ((one.A * other.Right) - (other.A * one.Right) == 0 && (one.B * other.Right) - (other.B * one.Right) == 0)
            {
                // Both are one equation: the next size fixes what is left.
                Beside(one, size + 1, ways);
            }
        }
    }

    /// <param name="from">Sizes from this one on are not in the equations.</param>
    private void Solve(Way one, Way other, int from)
    {
        var denominator = (one.A * other.B) - (other.A * one.B);
        var (p, q) = ((one.Right * other.B) - (other.Right * one.B), (one.A * other.Right) - (other.A * one.Right));
        (p, q, denominator) = denominator > 0 ? (p, q, denominator) : (-p, -q, -denominator);
        if (p <= _kerf * denominator || q <= _kerf * denominator)
        {
            return;
        }

        for (var size = from; size < _sizes.Length; size++)
        {
            if (!ComesAbout(_sizes[size], p, q, denominator))
            {
                return;
            }
        }

        _found(p, q, denominator);
    }

    private bool ComesAbout(long size, long p, long q, long denominator)
    {
        // As what a position leaves of the other, or as one itself.
        var whole = (size + _kerf) * denominator;
        if (IsMultiple(p - whole, q) || IsMultiple(q - whole, p))
        {
            return true;
        }

        foreach (var extent in _extents)
        {
            var left = (extent - size) * denominator;
            var (rest, step) = ((double)left / q, (double)p / q);
            for (var i = 0; i <= _most && rest > -Rounding; i++, rest -= step)
            {
                var j = Math.Round(rest);
                if (Math.Abs(rest - j) < Rounding && i + j >= 1 && i + j <= _most && left - (i * p) == (long)j * q)
                {
                    return true;
                }
            }
        }

        return false;

        bool IsMultiple(long length, long of) => length >= 0 && length % of == 0 && length / of <= _most;
    }

    private List<Way> WaysOf(long size)
    {
        var ways = new List<Way>();
        for (var i = 0; i <= _most; i++)
        {
            ways.Add(new(1, -i, size + _kerf));
            ways.Add(new(-i, 1, size + _kerf));
            for (var j = 0; i + j <= _most; j++)
            {
                if (i + j > 0)
                {
                    ways.AddRange(_extents.Select(extent => new Way(i, j, extent - size)));
                }
            }
        }

        return ways;
    }
}
