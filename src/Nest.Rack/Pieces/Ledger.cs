using Nest.Rack.History;

namespace Nest.Rack.Pieces;

/// <summary>Why metal came to the rack or left it.</summary>
public enum LedgerKind
{
    /// <summary>In: whole stock bought.</summary>
    Bought = 0,

    /// <summary>In: a piece that was there already.</summary>
    Found = 1,

    /// <summary>In, or out below zero: measured anew.</summary>
    Corrected = 2,

    /// <summary>Out: good blanks.</summary>
    Parts = 3,

    /// <summary>Out: chips of the saw.</summary>
    Kerf = 4,

    /// <summary>Out: solid scrap of a cut, spoiled blanks among it.</summary>
    Waste = 5,

    /// <summary>Out: a whole piece thrown away.</summary>
    Scrapped = 6,

    /// <summary>Out: not found in a stock-take.</summary>
    Lost = 7,
}

/// <summary>The books of metal: in = out + what is on the rack, always.</summary>
internal static class Ledger
{
    public static void Add(ChangeSet change, LedgerKind kind, long pieceId, long? cutId, long micrograms)
    {
        if (micrograms != 0)
        {
            change.Insert("ledger", ("kind", (long)kind), ("piece_id", pieceId), ("cut_id", cutId), ("micrograms", micrograms), ("at", change.At));
        }
    }
}
