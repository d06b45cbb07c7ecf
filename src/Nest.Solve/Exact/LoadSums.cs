namespace Nest.Solve.Exact;

/// <summary>Best worth by load, for one rectangle after the other: a hash table that is emptied at once, and small again for every rectangle.</summary>
/// <remarks>Open addressing, at most half full; an entry counts while its stamp is the present one. Few loads are kept close together, however many another rectangle had: else every
/// look misses the processor's cache. O(1) an entry.</remarks>
internal sealed class LoadSums
{
    private const int Least = 64;

    private Entry[] _entries = new Entry[Least];
    private int _size = Least;
    private int _stamp = 1;

    /// <summary>A load, and the best way to it.</summary>
    /// <param name="StripX">Width of the narrowest strip of its first crosscuts, the widest of all ways to this worth.</param>
    /// <param name="StripY">The same of rips.</param>
    internal record struct Entry(ulong Load, int Worth, int StripX, int StripY, int Stamp);

    public int Count { get; private set; }

    /// <summary>Empties it.</summary>
    public void Clear()
    {
        (Count, _size) = (0, Least);
        Next();
    }

    /// <summary>Keeps the worth where no higher one is known, and of all ways to the highest the widest strips.</summary>
    public void Offer(ulong load, int worth, int stripX, int stripY)
    {
        ref var entry = ref _entries[Find(load)];
        if (entry.Stamp != _stamp)
        {
            entry = new(load, worth, stripX, stripY, _stamp);
            if (++Count * 2 > _size)
            {
                Grow();
            }
        }
        else if (worth > entry.Worth)
        {
            (entry.Worth, entry.StripX, entry.StripY) = (worth, stripX, stripY);
        }
        else if (worth == entry.Worth)
        {
            (entry.StripX, entry.StripY) = (Math.Max(entry.StripX, stripX), Math.Max(entry.StripY, stripY));
        }
    }

    /// <summary>All entries, in no order that means anything.</summary>
    public IEnumerable<Entry> Entries()
    {
        for (var at = 0; at < _size; at++)
        {
            if (_entries[at].Stamp == _stamp)
            {
                yield return _entries[at];
            }
        }
    }

    /// <summary>The place of the load, or the free place where it belongs.</summary>
    private int Find(ulong load)
    {
        var mask = _size - 1;

        // Multiplicative hashing (Knuth, The Art of Computer Programming 3, 6.4, from memory): the factor is 2⁶⁴ by the golden ratio.
        var at = (int)(unchecked(load * 0x9E3779B97F4A7C15UL) >> 33) & mask;
        while (_entries[at].Stamp == _stamp && _entries[at].Load != load)
        {
            at = (at + 1) & mask;
        }

        return at;
    }

    private void Grow()
    {
        var entries = Entries().ToArray();
        _size *= 2;
        if (_size > _entries.Length)
        {
            _entries = new Entry[_size];
        }

        Next();
        foreach (var entry in entries)
        {
            _entries[Find(entry.Load)] = entry with { Stamp = _stamp };
        }
    }

    private void Next()
    {
        if (++_stamp == int.MaxValue)
        {
            Array.Clear(_entries);
            _stamp = 1;
        }
    }
}
