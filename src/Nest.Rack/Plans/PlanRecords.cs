using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Pieces;

namespace Nest.Rack.Plans;

/// <summary>Where a plan is in its life.</summary>
public enum PlanState
{
    /// <summary>Known to the rack; others may still take its leftovers.</summary>
    Planned = 0,

    /// <summary>Its leftovers are its own.</summary>
    Reserved = 1,

    /// <summary>Some of its layouts are cut.</summary>
    Cutting = 2,

    /// <summary>All is cut.</summary>
    Finished = 3,

    /// <summary>All layouts are cut or lost, but parts are missing: plan the rest anew.</summary>
    Incomplete = 4,

    Cancelled = 5,

    /// <summary>Another plan does the rest.</summary>
    Replaced = 6,
}

/// <summary>How far a layout is.</summary>
/// <param name="Mark">Mark of the leftover it cuts; null for bought stock.</param>
/// <param name="Open">Pieces still to cut.</param>
public sealed record LayoutProgress(int Number, string StockId, string? Mark, int Count, int Cut, int Lost, int Open);

/// <summary>How far a part is.</summary>
/// <param name="Wanted">By this plan.</param>
/// <param name="Made">Good blanks from this plan's layouts.</param>
public sealed record PartProgress(string PartId, int Wanted, int Made)
{
    public int Missing => Math.Max(0, Wanted - Made);
}

/// <summary>How far a purchase of a plan is.</summary>
/// <param name="Wanted">Pieces that the plan buys, those bought whole for the rack among them.</param>
/// <param name="Came">Entered as delivered, or cut as bought just now.</param>
/// <param name="InHand">Marks of those that are on the rack and kept for the plan.</param>
public sealed record PurchaseProgress(string StockId, string Supplier, int Wanted, int Came, ImmutableArray<string> InHand)
{
    public int ToCome => Math.Max(0, Wanted - Came);
}

/// <summary>A plan as the rack knows it.</summary>
public sealed record PlanRecord
{
    public required long Id { get; init; }

    public required string Name { get; init; }

    public required PlanState State { get; init; }

    public required DateTimeOffset Created { get; init; }

    /// <summary>The plan of which it does the rest.</summary>
    public long? Continues { get; init; }

    public ImmutableArray<LayoutProgress> Layouts { get; init; } = [];

    public ImmutableArray<PartProgress> Parts { get; init; } = [];

    public ImmutableArray<PurchaseProgress> Purchases { get; init; } = [];

    /// <summary>Orders that were given; one that is not here was not entered as given.</summary>
    public ImmutableArray<OrderGiven> Orders { get; init; } = [];

    /// <summary>As it is written: P7.</summary>
    public string Number => PlanNumber.Format(Id);
}

/// <summary>Numbers of plans as text.</summary>
public static class PlanNumber
{
    public static string Format(long id) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"P{id}");

    /// <summary>Reads P7, p7 or 7.</summary>
    public static bool TryRead(string text, out long id) => long.TryParse(
        text.Trim().TrimStart('P', 'p'), System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out id);
}

/// <summary>A leftover as it really came out.</summary>
/// <param name="Length">Along the stock's length.</param>
/// <param name="Width">Across it; on bars not used.</param>
public sealed record ActualLeftover(Length Length, Length Width)
{
    public CleanEdges CleanEdges { get; init; }

    public ImmutableArray<Rect> KeepOuts { get; init; } = [];

    /// <summary>Null: as the piece it was cut from.</summary>
    public PieceCondition? Condition { get; init; }

    /// <summary>The damage of the piece it was cut from is not on it.</summary>
    public bool Sound { get; init; }

    /// <summary>Cost it carries; null: its share of what the stock piece cost, by plan area, times 0.6 (0.9 of a leftover).</summary>
    public Money? Value { get; init; }
}

/// <summary>So many good blanks of a part.</summary>
public readonly record struct PartCount(string PartId, int Count);

/// <summary>What was cut.</summary>
public sealed record CutEntry
{
    public required long PlanId { get; init; }

    public required int Layout { get; init; }

    /// <summary>Stock pieces cut just now.</summary>
    public int Count { get; init; } = 1;

    /// <summary>Marks of the pieces taken, where the layout's stock stood on the rack though the plan meant to buy it. Empty: the
    /// layout's own leftover, or stock bought just now.</summary>
    public ImmutableArray<string> From { get; init; } = [];

    /// <summary>Of stock bought just now.</summary>
    public string Heat { get; init; } = "";

    public string Certificate { get; init; } = "";

    /// <summary>Where the leftovers go; null: where the stock stood.</summary>
    public string? Place { get; init; }

    /// <summary>Batch of the blanks; empty: the plan's number, or of the plan whose rest it does.</summary>
    public string Batch { get; init; } = "";

    /// <summary>Blanks of the layout that were spoiled though the rest is as planned.</summary>
    public ImmutableArray<PartCount> Spoiled { get; init; } = [];

    /// <summary>Leftovers other than planned, of one stock piece (then <see cref="Count"/> must be 1); null: as planned.</summary>
    public ImmutableArray<ActualLeftover>? Leftovers { get; init; }

    public string Note { get; init; } = "";
}

/// <summary>A stock piece that went wrong: what was saved of it.</summary>
public sealed record MiscutEntry
{
    public required long PlanId { get; init; }

    public required int Layout { get; init; }

    /// <summary>Mark of the piece taken; null: the layout's own leftover, or stock bought just now.</summary>
    public string? From { get; init; }

    public string Heat { get; init; } = "";

    public string Certificate { get; init; } = "";

    public string? Place { get; init; }

    public string Batch { get; init; } = "";

    /// <summary>Good blanks that came out all the same.</summary>
    public ImmutableArray<PartCount> Made { get; init; } = [];

    /// <summary>Leftovers that go back to the rack.</summary>
    public ImmutableArray<ActualLeftover> Leftovers { get; init; } = [];

    /// <summary>What happened.</summary>
    public required string Note { get; init; }
}

/// <summary>What a cut changed on the rack.</summary>
/// <param name="Change">Number in the history, for undo.</param>
/// <param name="Consumed">Marks of the pieces that are gone.</param>
/// <param name="Leftovers">New pieces, to be marked.</param>
/// <param name="Parts">Good blanks.</param>
public sealed record CutResult(
    long Change, ImmutableArray<string> Consumed, ImmutableArray<RackPiece> Leftovers, ImmutableArray<PartCount> Parts, PlanState State);
