namespace Nest.Solve.Plates.Free;

/// <summary>The empty maximal rectangles of one plate while pieces are put on it.</summary>
/// <remarks>
/// Method: difference process (Lai, Chan 1997; "maximal rectangles", Jylänki 2010): every space that a new piece meets is replaced by
/// its up to four parts beside the piece, then spaces held by others are dropped.
/// Complexity: O(n·c) per piece for n spaces of which c are cut. Guarantee: exact (no empty rectangle large enough is missed).
/// </remarks>
internal sealed class MaximalSpaces
{
    private FreeSpace[] _spaces = new FreeSpace[64];
    private FreeSpace[] _parts = new FreeSpace[64];

    public int Count { get; private set; }

    public ReadOnlySpan<FreeSpace> Spaces => _spaces.AsSpan(0, Count);

    public void Reset(ReadOnlySpan<FreeSpace> start)
    {
        if (_spaces.Length < start.Length)
        {
            _spaces = new FreeSpace[start.Length * 2];
        }

        start.CopyTo(_spaces);
        Count = start.Length;
    }

    /// <summary>Takes a rectangle out. Spaces narrower than <paramref name="leastX"/> or lower than <paramref name="leastY"/> can hold
    /// nothing more and are forgotten.</summary>
    public void Take(long x1, long y1, long x2, long y2, long leastX, long leastY)
    {
        var parts = 0;
        var kept = 0;
        var spaces = _spaces;
        for (var i = 0; i < Count; i++)
        {
            ref readonly var s = ref spaces[i];
            if (!s.Meets(x1, y1, x2, y2))
            {
                spaces[kept++] = s;
                continue;
            }

            if (_parts.Length < parts + 4)
            {
                Array.Resize(ref _parts, _parts.Length * 2);
            }

            if (unchecked(x1 - s.X1) >= leastX)
            {
                _parts[parts++] = new FreeSpace(s.X1, s.Y1, x1, s.Y2);
            }

            if (unchecked(s.X2 - x2) >= leastX)
            {
                _parts[parts++] = new FreeSpace(x2, s.Y1, s.X2, s.Y2);
            }

            if (unchecked(y1 - s.Y1) >= leastY)
            {
                _parts[parts++] = new FreeSpace(s.X1, s.Y1, s.X2, y1);
            }

            if (unchecked(s.Y2 - y2) >= leastY)
            {
                _parts[parts++] = new FreeSpace(s.X1, y2, s.X2, s.Y2);
            }
        }

        // A space that was not met is maximal still; only the new parts can be held by others.
        var old = kept;
        for (var p = 0; p < parts; p++)
        {
            ref readonly var part = ref _parts[p];
            var held = false;
            for (var i = 0; i < old && !held; i++)
            {
                held = spaces[i].Holds(part);
            }

            for (var q = 0; q < parts && !held; q++)
            {
                held = q != p && _parts[q].Holds(part) && (q < p || _parts[q] != part);
            }

            if (held)
            {
                continue;
            }

            if (kept == spaces.Length)
            {
                Array.Resize(ref _spaces, kept * 2);
                spaces = _spaces;
            }

            spaces[kept++] = part;
        }

        Count = kept;
    }
}
