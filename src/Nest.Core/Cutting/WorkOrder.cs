using System.Collections.Immutable;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>One layout in the order of work.</summary>
/// <param name="Layout">Number of the layout in the plan.</param>
/// <param name="Count">Stock pieces cut alike.</param>
/// <param name="StackedPieces">Stock pieces cut at once in a full stack; 1: one by one.</param>
/// <param name="Stacks">How many stacks (the last may be lower).</param>
/// <param name="Sequence">The cuts of one stack.</param>
/// <param name="Minutes">For all its stock pieces: every setting once, every cut handled once per stack, the whole section sawn.</param>
public sealed record WorkItem(int Layout, int Count, int StackedPieces, int Stacks, CutSequence Sequence, decimal Minutes);

/// <summary>Layouts of one material, thickness and stock, cut one after the other.</summary>
public sealed record WorkGroup(string SawId, string MaterialId, Length Thickness, string StockId, ImmutableArray<WorkItem> Items);

/// <summary>The order of work over the whole plan.</summary>
public sealed record WorkOrder(ImmutableArray<WorkGroup> Groups)
{
    /// <summary>All layouts in the order of work.</summary>
    public IEnumerable<WorkItem> Items => Groups.SelectMany(group => group.Items);

    /// <summary>Fence and stop settings, each layout's once.</summary>
    public int Settings => Items.Sum(item => item.Sequence.Settings);

    /// <inheritdoc cref="CutSequence.PlainSettings"/>
    public int PlainSettings => Items.Sum(item => item.Sequence.PlainSettings);

    /// <summary>Times that metal is brought to a saw, over all stacks.</summary>
    public int Handlings => Items.Sum(item => item.Sequence.Handlings * item.Stacks);

    /// <summary>Cuts, over all stacks.</summary>
    public int Cuts => Items.Sum(item => item.Sequence.Cuts * item.Stacks);

    public decimal Minutes => Items.Sum(item => item.Minutes);
}
