namespace Nest.Solve.Exact;

/// <summary>Best worth by load, for one rectangle after the other: a hash table that is emptied at once, however large it has grown.</summary>
/// <remarks>Open addressing, at most half full; an entry counts while its stamp is the present one. O(1) an entry.</remarks>
internal sealed class LoadSums
{
    private ulong[] _loads = new ulong[64];
    private int[] _worth = new int[64];
    private int[] _stamps = new int[64];
    private int _stamp = 1;

    public int Count { get; private set; }

    /// <summary>Empties it.</summary>
    public void Clear()
    {
        Count = 0;
        if (++_stamp == int.MaxValue)
        {
            Array.Clear(_stamps);
            _stamp = 1;
        }
    }

    /// <summary>Keeps the worth where no higher one is known.</summary>
    public void Offer(ulong load, int worth)
    {
        var at = Find(load);
        if (_stamps[at] == _stamp)
        {
            _worth[at] = Math.Max(_worth[at], worth);
            return;
        }

        (_loads[at], _worth[at], _stamps[at]) = (load, worth, _stamp);
        if (++Count * 2 > _loads.Length)
        {
            Grow();
        }
    }

    /// <summary>All entries, in no order that means anything.</summary>
    public IEnumerable<(ulong Load, int Worth)> Entries()
    {
        for (var at = 0; at < _loads.Length; at++)
        {
            if (_stamps[at] == _stamp)
            {
                yield return (_loads[at], _worth[at]);
            }
        }
    }

    /// <summary>The place of the load, or the free place where it belongs.</summary>
    private int Find(ulong load)
    {
        var mask = _loads.Length - 1;

        // Multiplicative hashing (Knuth, The Art of Computer Programming 3, 6.4, from memory): the factor is 2⁶⁴ by the golden ratio.
        var at = (int)(unchecked(load * 0x9E3779B97F4A7C15UL) >> 33) & mask;
        while (_stamps[at] == _stamp && _loads[at] != load)
        {
            at = (at + 1) & mask;
        }

        return at;
    }

    private void Grow()
    {
        var entries = Entries().ToArray();
        (_loads, _worth, _stamps) = (new ulong[2 * _loads.Length], new int[2 * _worth.Length], new int[2 * _stamps.Length]);
        (_stamp, Count) = (1, 0);
        foreach (var (load, worth) in entries)
        {
            Offer(load, worth);
        }
    }
}
