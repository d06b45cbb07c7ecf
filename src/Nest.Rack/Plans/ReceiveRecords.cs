using System.Collections.Immutable;
using Nest.Core.Racks;

namespace Nest.Rack.Plans;

/// <summary>What came of what a plan buys. With neither layouts, items, material nor supplier: all that is still to come.</summary>
public sealed record ReceiveEntry
{
    public required long PlanId { get; init; }

    /// <summary>Only the stock of these layouts.</summary>
    public ImmutableArray<int> Layouts { get; init; } = [];

    /// <summary>Only stock of these names, as in the price list and on the order.</summary>
    public ImmutableArray<string> Items { get; init; } = [];

    /// <summary>Only of this material; empty: of all.</summary>
    public string Material { get; init; } = "";

    /// <summary>Only from this supplier, or how its name begins; empty: from all.</summary>
    public string Supplier { get; init; } = "";

    /// <summary>Pieces of one stock; null: all that are still to come.</summary>
    public int? Count { get; init; }

    public string Heat { get; init; } = "";

    public string Certificate { get; init; } = "";

    public string Place { get; init; } = "";
}

/// <summary>What came.</summary>
/// <param name="Pieces">New on the rack.</param>
/// <param name="Ready">Blanks that the supplier cut to size for the plan: nothing is left to saw, so they count as made.</param>
/// <param name="State">Of the plan, now.</param>
public sealed record ReceiveResult(ImmutableArray<ReceivedPiece> Pieces, ImmutableArray<PartCount> Ready, PlanState State);

/// <summary>A piece that came.</summary>
/// <param name="StockId">What the plan bought it as.</param>
/// <param name="Layouts">Layouts that cut such stock.</param>
/// <param name="Kept">Only for the plan; else free: bought whole for the rack, or for a plan that is over.</param>
public sealed record ReceivedPiece(RackPiece Piece, string StockId, ImmutableArray<int> Layouts, bool Kept);
