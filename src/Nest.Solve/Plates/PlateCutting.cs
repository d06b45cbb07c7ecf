using Nest.Core.Plans;

namespace Nest.Solve.Plates;

/// <summary>How a plate may be divided.</summary>
public sealed record PlateCutting
{
    /// <summary>Free layout (milled or profiled out of the plate) instead of through-cuts.</summary>
    public bool Free { get; init; }

    /// <summary>Most stages of through-cuts (a stage is a set of parallel cuts of the pieces at hand); null: any depth.</summary>
    public int? Stages { get; init; }

    /// <summary>One more cut is allowed that only separates a piece from waste.</summary>
    public bool TrimmingCut { get; init; }

    /// <summary>Direction of the first cut; null: either.</summary>
    public CutDirection? FirstCut { get; init; }

    /// <summary>Longest cut the saw makes; null: no limit.</summary>
    public long? LargestCut { get; init; }

    /// <summary>Shortest size the clamp can hold: every set of parallel cuts must leave at least one child (piece, strip or
    /// leftover) that is this long in the direction divided; 0: no such rule.</summary>
    public long ShortestHeld { get; init; }
}
