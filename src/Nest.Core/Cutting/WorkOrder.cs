using System.Collections.Immutable;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>One layout in the order of work.</summary>
/// <param name="Layout">Number of the layout in the plan.</param>
/// <param name="Count">Stock pieces cut alike.</param>
/// <param name="StackedPieces">Stock pieces cut at once in a full stack; 1: one by one.</param>
/// <param name="Stacks">How many stacks (the last may be lower).</param>
/// <param name="Sequence">The cuts of one stack.</param>
/// <param name="StillFrom">Number of the layout from which the stop still stands as the first cut needs it; null: it is set.</param>
/// <param name="Minutes">For all its stock pieces: every setting once, less the one that is carried over; every cut of every stock piece, as
/// it is paid for (a stack is brought and clamped in no less time than its pieces).</param>
public sealed record WorkItem(int Layout, int Count, int StackedPieces, int Stacks, CutSequence Sequence, int? StillFrom, decimal Minutes)
{
    /// <summary>Whether the layout before it on this saw was of another group of materials (<see cref="MaterialOrder"/>): the chips are cleaned
    /// out, and blade, speed and coolant changed.</summary>
    public bool ChangesMaterial { get; init; }

    /// <summary>Fence and stop settings, the one that is carried over left out.</summary>
    public int Settings => Sequence.Settings - (StillFrom is null ? 0 : 1);
}

/// <summary>Layouts of one material, thickness and stock, cut one after the other.</summary>
public sealed record WorkGroup(string SawId, string MaterialId, Length Thickness, string StockId, ImmutableArray<WorkItem> Items);

/// <summary>The order of work over the whole plan.</summary>
public sealed record WorkOrder(ImmutableArray<WorkGroup> Groups)
{
    /// <summary>All layouts in the order of work.</summary>
    public IEnumerable<WorkItem> Items => Groups.SelectMany(group => group.Items);

    /// <summary>Fence and stop settings, each layout's once, what is carried over left out.</summary>
    public int Settings => Items.Sum(item => item.Settings);

    /// <summary>Times that metal is brought to a saw, over all stacks.</summary>
    public int Handlings => Items.Sum(item => item.Sequence.Handlings * item.Stacks);

    /// <summary>Cuts, over all stacks.</summary>
    public int Cuts => Items.Sum(item => item.Sequence.Cuts * item.Stacks);

    public decimal Minutes => Items.Sum(item => item.Minutes);
}
