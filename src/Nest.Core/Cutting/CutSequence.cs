using System.Collections.Immutable;
using Nest.Core.Geometry;

namespace Nest.Core.Cutting;

/// <summary>One piece that a cutter mills or profiles out of the plate.</summary>
/// <param name="Number">Order, from 1.</param>
/// <param name="Index">Index in the layout's pieces.</param>
/// <param name="PartId">The part it is for.</param>
/// <param name="Area">Where it lies in the stock's coordinates.</param>
public sealed record Outline(int Number, int Index, string PartId, Rect Area);

/// <summary>How one stock piece of a layout is cut, step by step.</summary>
public sealed record CutSequence
{
    /// <summary>Number of the layout in the plan.</summary>
    public required int Layout { get; init; }

    public required string SawId { get; init; }

    /// <summary>Saw: the cuts in order. Cutter: empty.</summary>
    public required ImmutableArray<CutStep> Steps { get; init; }

    /// <summary>Bars: the angled cuts at the blanks' ends, behind the steps.</summary>
    public ImmutableArray<AngledCut> AngledCuts { get; init; } = [];

    /// <summary>Cuts of all kinds.</summary>
    public int Cuts => Steps.Length + Outlines.Length + AngledCuts.Sum(cut => cut.Pieces);

    /// <summary>Cutter: the pieces in order. Saw: empty.</summary>
    public ImmutableArray<Outline> Outlines { get; init; } = [];

    /// <summary>Times that fence, stop or the saw's angle is set, and that a cut is measured and marked; see <see cref="LayoutSettings"/>.</summary>
    public required int Settings { get; init; }

    /// <summary>Times that metal is brought to the saw.</summary>
    public required int Handlings { get; init; }

    /// <summary>Times that the metal on the saw is turned to lay another edge against the fence.</summary>
    public required int Turns { get; init; }

    /// <summary>Minutes for one stock piece, settings included.</summary>
    public required decimal Minutes { get; init; }
}
