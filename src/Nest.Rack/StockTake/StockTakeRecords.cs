using System.Collections.Immutable;

namespace Nest.Rack.StockTake;

/// <summary>Where a stock-take is.</summary>
public enum StockTakeState
{
    Open = 0,
    Applied = 1,
    Dropped = 2,
}

/// <summary>What a stock-take shows of one mark.</summary>
public enum CountVerdict
{
    /// <summary>Found where it should be.</summary>
    Agrees,

    /// <summary>On the rack by the books, not found.</summary>
    Missing,

    /// <summary>Not found, though a plan counts on it: it stays as it is.</summary>
    MissingReserved,

    /// <summary>Found in another place.</summary>
    Moved,

    /// <summary>Found, though the books had lost it or thrown it away.</summary>
    Returned,

    /// <summary>Found, though the books say it was cut: someone must look.</summary>
    Contradicts,

    /// <summary>Found, but the books have no such mark.</summary>
    Unknown,
}

/// <summary>A mark of a stock-take.</summary>
/// <param name="Expected">On the count sheet.</param>
/// <param name="Place">Where it was found; empty: not said.</param>
/// <param name="ReservedFor">The plan that has reserved it.</param>
public sealed record CountLine(string Mark, bool Expected, bool Found, string Place, CountVerdict Verdict, string BookPlace, long? ReservedFor);

/// <summary>A stock-take.</summary>
/// <param name="Place">What was counted: places that begin so; empty: the whole rack.</param>
public sealed record StockTakeRecord(long Id, DateTimeOffset Started, string Place, StockTakeState State, ImmutableArray<CountLine> Lines)
{
    public IEnumerable<CountLine> Differences => Lines.Where(line => line.Verdict != CountVerdict.Agrees);
}
