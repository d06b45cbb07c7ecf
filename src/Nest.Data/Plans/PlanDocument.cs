using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Data.Plans;

/// <summary>A plan file as it stands in JSON; see stock/plan-format.md. The order of the properties is the order in the file.</summary>
internal sealed record PlanDocument
{
    public const string FormatName = "nest-plan";

    public const int CurrentVersion = 3;

    /// <summary>The oldest version that is still read. What later versions added is null in its files.</summary>
    public const int OldestVersion = 1;

    public required string Format { get; init; }

    public required int Version { get; init; }

    public required string Name { get; init; }

    public required SolveStatus Status { get; init; }

    public required string Currency { get; init; }

    public required Money TotalCost { get; init; }

    /// <summary>What free spares cost on top of the total; null where that is nothing.</summary>
    public Money? SpareCost { get; init; }

    /// <summary>Null: none is known.</summary>
    public Money? LowerBound { get; init; }

    /// <summary>Name of the method that found the bound; null without a bound, and in version 1.</summary>
    public string? BoundSource { get; init; }

    /// <summary>What setting fence and stop costs, once per layout; part of the total; derived; null in version 1.</summary>
    public Money? Settings { get; init; }

    /// <summary>Saved by settings that are carried over from one layout to the next; taken off the total; derived; null in version 1.</summary>
    public Money? CarriedOver { get; init; }

    /// <summary>Fetching, loading and labelling stock; part of the layouts' saw cost; derived; null where there is none.</summary>
    public Money? Loading { get; init; }

    /// <summary>Work with order lines and suppliers; part of the total; derived; null where there is none.</summary>
    public Money? Ordering { get; init; }

    /// <summary>The mill set up for further sizes of blanks; part of the total; derived; null where there is none.</summary>
    public Money? FurtherSizes { get; init; }

    /// <summary>Null where nothing can be said in percent.</summary>
    public decimal? Gap { get; init; }

    public required double Seconds { get; init; }

    public required int Seed { get; init; }

    public required ImmutableArray<BuyDocument> Buy { get; init; }

    public required ImmutableArray<TakeDocument> Take { get; init; }

    public required ImmutableArray<OrderDocument> Orders { get; init; }

    public required ImmutableArray<LayoutDocument> Layouts { get; init; }

    public required ImmutableArray<LeftDocument> Offcuts { get; init; }

    public required ImmutableArray<UnplacedDocument> Unplaced { get; init; }

    public required ImmutableArray<PartCostDocument> PartCosts { get; init; }

    public required Job Job { get; init; }
}

/// <summary>What to buy of one stock; derived. The total is the order line's, or count × price without orders.</summary>
internal sealed record BuyDocument(
    string Stock, Form Form, string Material, int Count, Money PiecePrice, Money Total, string? Supplier = null);

/// <summary>What is bought from one supplier.</summary>
internal sealed record OrderDocument(
    string Supplier, ImmutableArray<OrderLineDocument> Lines, Money Goods, Money TopUp, Money Delivery, Money Total);

internal sealed record OrderLineDocument(string Stock, int Count, Money Listed, Money Cost);

/// <summary>A leftover that the plan takes from the rack; derived.</summary>
internal sealed record TakeDocument(string Stock, string Mark, string? Place = null);

/// <summary>Offcuts of one layout of the same size; derived.</summary>
internal sealed record LeftDocument(int Layout, string Stock, bool Keep, Length Length, Length Width, int Count, Money Value);

internal sealed record UnplacedDocument(string Part, int Count, string Reason);

internal sealed record PartCostDocument(string Part, int Pieces, Money Metal, Money Saw, Money Facing, Money Total);

internal sealed record LayoutDocument
{
    public required int Number { get; init; }

    public required string Stock { get; init; }

    public required Form Form { get; init; }

    public required string Saw { get; init; }

    public required int Count { get; init; }

    /// <summary>It stays as an earlier plan has it; null: no.</summary>
    public bool? Kept { get; init; }

    public required Rect Sheet { get; init; }

    public required EdgeTrims Trims { get; init; }

    /// <summary>How often fence, stop or angle is set; derived from the tree.</summary>
    public int? Settings { get; init; }

    public required ImmutableArray<PieceDocument> Pieces { get; init; }

    public required ImmutableArray<OffcutDocument> Offcuts { get; init; }

    /// <summary>Nodes of the cut tree, the root first, each node before its children; null on a cutter.</summary>
    public ImmutableArray<NodeDocument>? Tree { get; init; }

    public required CostDocument Cost { get; init; }
}

internal sealed record PieceDocument(string Part, Rect Area, bool Turned, EndAngles? Ends = null, bool? Spare = null);

internal sealed record OffcutDocument(Rect Area, bool Keep, Money Value);

internal sealed record CostDocument(Money Metal, Money Saw, Money Facing, Money OffcutCredit, Money ScrapCredit, Money Total);

internal sealed record NodeDocument
{
    public required CutNodeKind Kind { get; init; }

    public required Rect Area { get; init; }

    /// <summary>Of a split's cuts.</summary>
    public CutDirection? Direction { get; init; }

    /// <summary>Of a split: numbers of its children in the list.</summary>
    public ImmutableArray<int>? Children { get; init; }

    /// <summary>Of a piece or offcut: its number in the layout's pieces or offcuts, from 0.</summary>
    public int? Index { get; init; }
}
