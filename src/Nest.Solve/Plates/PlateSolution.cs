using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Plates;

/// <summary>What a node of a cut tree is.</summary>
public enum PlateNodeKind
{
    /// <summary>Divided by parallel cuts into its children, in order from the origin.</summary>
    Split,

    /// <summary>A piece; has exactly the piece's size.</summary>
    Piece,

    /// <summary>Left over: offcut or scrap, the caller decides.</summary>
    Rest,
}

/// <summary>A node of the tree of through-cuts. Children of a Split lie one behind the other along the divided direction, all as
/// wide as the node across it, with exactly one kerf between neighbours; what is left behind the last child is 0 (flush) or at most
/// one kerf (dust of the last cut). A rest wider than that is a child of kind Rest.</summary>
/// <param name="Direction">Of a Split's cuts.</param>
/// <param name="Item">Index of a Piece's item, else −1.</param>
/// <param name="Turned">Whether the Piece lies turned.</param>
public sealed record PlateNode(
    PlateNodeKind Kind,
    PlateRect Area,
    CutDirection Direction,
    ImmutableArray<PlateNode> Children,
    int Item = -1,
    bool Turned = false)
{
    /// <summary>Whether the last child of a placed Split ends where the node does, without dust behind it.</summary>
    public bool IsFlush => Children[^1].Area is var last && (Direction == CutDirection.Crosscut
        ? last.X + last.SizeX == Area.X + Area.SizeX : last.Y + last.SizeY == Area.Y + Area.SizeY);

    /// <summary>Cuts of a placed Split: one behind each child, but behind the last only where dust is left.</summary>
    public int Cuts => Children.Length - (IsFlush ? 1 : 0);
}

/// <summary>One placed piece.</summary>
public readonly record struct PlatePlacement(int Item, PlateRect Area, bool Turned);

/// <summary>How one plate is divided, and how many plates are divided so.</summary>
/// <param name="Stock">Index of the plate in the problem.</param>
/// <param name="Count">How many plates are cut alike.</param>
/// <param name="Pieces">All pieces, in a fixed order.</param>
/// <param name="Tree">The through-cuts; null in a free layout.</param>
public sealed record PlateLayout(int Stock, int Count, ImmutableArray<PlatePlacement> Pieces, PlateNode? Tree);

/// <summary>An answer: layouts, their cost, and a lower bound valid for the whole problem and way of cutting.</summary>
public sealed record PlateSolution
{
    public required SolveStatus Status { get; init; }

    /// <summary>Layouts in a fixed order; may cover more than the demand.</summary>
    public required ImmutableArray<PlateLayout> Layouts { get; init; }

    /// <summary>Exact cost of the layouts; 0 when there are none.</summary>
    public required long Cost { get; init; }

    /// <summary>No plan costs less (exact or rounded the safe way). As found: above the cost it is wrong.</summary>
    public required long Bound { get; init; }

    /// <summary>Name of the method that found the bound.</summary>
    public string BoundSource { get; init; } = Methods.PlateArea;

    /// <summary>Seconds until this plan was found, and until the bound met it (NaN: it did not).</summary>
    public double SecondsToBest { get; init; } = double.NaN;

    /// <inheritdoc cref="SecondsToBest"/>
    public double SecondsToProof { get; init; } = double.NaN;
}
