using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>An edge of the piece of metal on the saw, named as it lies in the stock's own coordinates.</summary>
public enum Edge
{
    /// <summary>Smallest X.</summary>
    Left,

    /// <summary>Largest X.</summary>
    Right,

    /// <summary>Smallest Y.</summary>
    Bottom,

    /// <summary>Largest Y.</summary>
    Top,
}

/// <summary>Why a cut is made.</summary>
public enum CutPurpose
{
    /// <summary>Makes a clean edge: cuts away a trim of the stock.</summary>
    Trim,

    /// <summary>Divides the metal.</summary>
    Divide,
}

/// <summary>What a piece of metal is while the stock is being cut up.</summary>
public enum WorkKind
{
    /// <summary>The stock piece, or what is left of it before the tree's first cut is done.</summary>
    Stock,

    /// <summary>To be divided further.</summary>
    Strip,

    /// <summary>A finished blank.</summary>
    Piece,

    /// <summary>A leftover worth keeping.</summary>
    Remnant,

    /// <summary>An offcut not worth keeping, or a trim.</summary>
    Scrap,
}

/// <summary>Where a piece of metal goes after a cut.</summary>
public enum Destination
{
    /// <summary>It stays on the saw: the next step cuts it.</summary>
    Saw,

    /// <summary>Back on the pile, to be cut later.</summary>
    Pile,

    /// <summary>To the finished blanks.</summary>
    Blanks,

    /// <summary>Label it and put it on the rack.</summary>
    Rack,

    /// <summary>Into the scrap bin.</summary>
    Bin,
}

/// <summary>A piece of metal that is on the saw or comes off it.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Name">What the sheet calls it: <c>sheet</c>, <c>bar</c>, <c>strip A</c>, <c>piece 7</c>, <c>offcut 2</c>, <c>trim left</c>.
/// Strips are lettered as they come off the saw; one keeps its letter while pieces are cut off it.</param>
/// <param name="Area">Where it lies in the stock's coordinates.</param>
/// <param name="To">Where it goes (of the metal on the saw: <see cref="Destination.Saw"/>).</param>
/// <param name="Index">Of a piece: index in the layout's pieces; of a remnant or scrap: in its offcuts, −1 for a trim.</param>
/// <param name="PartId">Of a piece: the part it is for.</param>
public sealed record Workpiece(
    WorkKind Kind, string Name, Rect Area, Destination To, int Index = -1, string PartId = "")
{
    /// <summary>Of a strip: whether something was cut off it before, so that it is no longer as it came off the saw.</summary>
    public bool IsRest { get; init; }

    /// <summary>Of a piece: a free spare.</summary>
    public bool Spare { get; init; }
}

/// <summary>One cut that a person makes.</summary>
public sealed record CutStep
{
    /// <summary>From 1.</summary>
    public required int Number { get; init; }

    public required CutPurpose Purpose { get; init; }

    /// <summary>Number of the fence or stop setting it is made with, from 1; consecutive steps with the same number need no new setting.</summary>
    public required int Setting { get; init; }

    /// <summary>Whether fence or stop has to be set anew before this cut.</summary>
    public required bool NewSetting { get; init; }

    /// <summary>Whether the cut is made at a mark on the metal, <see cref="Measure"/> from the edge, with fence and stop away: so the
    /// raw end of a bar is cut off, which would be caught between stop and blade, and a rest that is too short for the vise, which then
    /// holds the blank. Needs no setting; <see cref="Setting"/> is the one
    /// in force, 0 before the first.</summary>
    public bool Marked { get; init; }

    /// <summary>Whether it is cut at a mark because the rest is too short for the vise: the bar is turned round and the blank clamped.</summary>
    public bool BlankClamped => Marked && Yields[0].Kind != WorkKind.Scrap;

    /// <summary>What is on the saw, before the cut.</summary>
    public required Workpiece OnSaw { get; init; }

    /// <summary>Whether it was on the saw in the step before; else it is brought from the pile.</summary>
    public required bool StillOnSaw { get; init; }

    /// <summary>Whether it has to be turned first: another edge than in the step before lies against the fence.</summary>
    public required bool Turn { get; init; }

    /// <summary>The edge that lay against the fence in the step before, where the metal has to be turned first.</summary>
    public Edge? TurnedFrom { get; init; }

    public required CutDirection Direction { get; init; }

    /// <summary>The edge that lies against the fence or stop, or from which the mark is measured; <see cref="Measure"/> counts from here.</summary>
    public required Edge Against { get; init; }

    /// <summary>Distance from that edge to the near side of the cut: what fence or stop is set to, or where the mark is.</summary>
    public required Length Measure { get; init; }

    /// <summary>Where the saw turns metal into chips, in stock coordinates; narrower than the kerf only at the end of the metal.</summary>
    public required Rect Kerf { get; init; }

    /// <summary>The edge whose side the clamp holds: the larger of what the cut separates.</summary>
    public required Edge Held { get; init; }

    /// <summary>All metal that remains after the cut, one or two pieces: first what lay against the fence.</summary>
    public required ImmutableArray<Workpiece> Yields { get; init; }

    /// <summary>Length of the cut.</summary>
    public Length CutLength => Direction == CutDirection.Rip ? Kerf.SizeX : Kerf.SizeY;
}
