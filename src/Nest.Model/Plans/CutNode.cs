using System.Collections.Immutable;
using Nest.Core.Geometry;

namespace Nest.Core.Plans;

/// <summary>What a node of a cut tree is.</summary>
public enum CutNodeKind
{
    /// <summary>Divided by parallel through-cuts into its children.</summary>
    Split,

    /// <summary>A blank of exactly this size.</summary>
    Piece,

    /// <summary>Left over; listed in the layout's offcuts.</summary>
    Offcut,
}

/// <summary>A node of the tree of through-cuts of one layout.</summary>
/// <remarks>Children of a Split lie one behind the other from the node's lower left corner along the divided direction (Rip divides
/// Y, Crosscut divides X), each exactly as wide as the node across it, with exactly one kerf between neighbours. What is left behind
/// the last child is nothing (flush) or at most one kerf: the dust of the last cut. A rest wider than that is a child of kind Offcut.</remarks>
public sealed record CutNode
{
    public required CutNodeKind Kind { get; init; }

    public required Rect Area { get; init; }

    /// <summary>Of a Split's cuts.</summary>
    public CutDirection Direction { get; init; }

    public ImmutableArray<CutNode> Children { get; init; } = [];

    /// <summary>Of a Piece: index in the layout's pieces; of an Offcut: index in the layout's offcuts.</summary>
    public int Index { get; init; } = -1;
}
