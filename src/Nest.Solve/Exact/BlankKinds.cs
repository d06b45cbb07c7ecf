using System.Collections.Immutable;
using Nest.Solve.Choose;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>Blanks of a component that are equal on every stock are one kind: what is cut does not depend on which part it is for.</summary>
/// <remarks>A part whose stocks are tied (<see cref="SizeGroups"/>) is a kind of its own. Two left and two right brackets are four pieces of one kind; a plan that mixes them is the same plan. O(items · stocks).</remarks>
internal sealed class BlankKinds
{
    public BlankKinds(Component component)
    {
        Component = component;
        var groups = Enumerable.Range(0, component.Items)
            .GroupBy(i => (component.Sizes.Matters(i) ? $"{i};" : "") + string.Join(';', Enumerable.Range(0, component.Stocks.Length).Select(s => KeyOf(s, i))), StringComparer.Ordinal)
            .Select(group => group.ToImmutableArray()).ToImmutableArray();
        Members = groups;
        Demand = [.. groups.Select(group => group.Sum(i => component.Blanks[i].Demand))];
        Of = new int[component.Items];
        for (var k = 0; k < groups.Length; k++)
        {
            foreach (var i in groups[k])
            {
                Of[i] = k;
            }
        }

        string KeyOf(int s, int i) => component.Fits[s, i] is { } fit
            ? $"{fit.SizeX.Nanometres},{fit.SizeY.Nanometres},{fit.MayTurn},{fit.ExtraCost.Units},{fit.AngledCuts.Units},{fit.Ends}"
            : "-";
    }

    public Component Component { get; }

    /// <summary>Items of each kind.</summary>
    public ImmutableArray<ImmutableArray<int>> Members { get; }

    /// <summary>Pieces of each kind.</summary>
    public ImmutableArray<int> Demand { get; }

    /// <summary>Kind of each item.</summary>
    public int[] Of { get; }

    public int Count => Members.Length;

    /// <summary>Counts of items as counts of kinds.</summary>
    public int[] CountsOf(ReadOnlySpan<int> items)
    {
        var counts = new int[Count];
        for (var i = 0; i < items.Length; i++)
        {
            counts[Of[i]] += items[i];
        }

        return counts;
    }

    /// <summary>Hands the pieces of a plan's layouts out to the parts, each part's one after the other.</summary>
    public sealed class Dealer(BlankKinds kinds)
    {
        private readonly int[] _left = [.. kinds.Component.Demand];

        /// <summary>The item that the next piece of a kind is for; what is beyond the demand goes to the kind's last item.</summary>
        public int Next(int kind)
        {
            foreach (var item in kinds.Members[kind])
            {
                if (_left[item] > 0)
                {
                    _left[item]--;
                    return item;
                }
            }

            return kinds.Members[kind][^1];
        }

        /// <summary>A tree of kinds as a tree of items.</summary>
        public PlateNode Deal(PlateNode node) => node.Kind switch
        {
            PlateNodeKind.Piece => node with { Item = Next(node.Item) },
            PlateNodeKind.Split => node with { Children = [.. node.Children.Select(Deal)] },
            _ => node,
        };
    }
}
