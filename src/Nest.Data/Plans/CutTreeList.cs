using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Data.Plans;

/// <summary>A cut tree as a flat list and back, without recursion: a tree may be as deep as it has pieces, and nested JSON would
/// then break every reader's limit.</summary>
internal static class CutTreeList
{
    public static ImmutableArray<NodeDocument> Flatten(CutNode root)
    {
        var order = new List<CutNode>();
        var numbers = new List<List<int>>();
        var stack = new Stack<(CutNode Node, int Parent)>();
        stack.Push((root, -1));
        while (stack.TryPop(out var next))
        {
            var number = order.Count;
            order.Add(next.Node);
            numbers.Add([]);
            if (next.Parent >= 0)
            {
                numbers[next.Parent].Add(number);
            }

            // Pushed from the last to the first: the list reads in the order of the cuts.
            for (var i = next.Node.Children.Length - 1; i >= 0; i--)
            {
                stack.Push((next.Node.Children[i], number));
            }
        }

        return [.. order.Select((node, number) => new NodeDocument
        {
            Kind = node.Kind,
            Area = node.Area,
            Direction = node.Kind == CutNodeKind.Split ? node.Direction : null,
            Children = node.Kind == CutNodeKind.Split ? [.. numbers[number]] : null,
            Index = node.Kind == CutNodeKind.Split ? null : node.Index,
        })];
    }

    /// <summary>The tree, or what is wrong with the list.</summary>
    public static (CutNode? Root, string Error) Build(ImmutableArray<NodeDocument> list)
    {
        if (list.IsEmpty)
        {
            return (null, "the list has no root");
        }

        var nodes = new CutNode?[list.Length];
        for (var number = list.Length - 1; number >= 0; number--)
        {
            var document = list[number];
            var children = ImmutableArray.CreateBuilder<CutNode>();
            foreach (var child in document.Children ?? [])
            {
                if (child <= number || child >= list.Length || nodes[child] is not { } node)
                {
                    return (null, $"node {number} names {child} as a child, which is not a later node without a parent");
                }

                children.Add(node);
                nodes[child] = null;
            }

            if (document.Kind == CutNodeKind.Split ? children.Count == 0 || document.Direction is null : children.Count > 0 || document.Index is null)
            {
                return (null, $"node {number} is not complete: a split has direction and children, a piece or offcut has an index");
            }

            nodes[number] = new()
            {
                Kind = document.Kind,
                Area = document.Area,
                Direction = document.Direction ?? CutDirection.Rip,
                Children = children.ToImmutable(),
                Index = document.Index ?? -1,
            };
        }

        var orphan = Array.FindIndex(nodes, 1, node => node is not null);
        return orphan > 0 ? (null, $"node {orphan} has no parent") : (nodes[0], "");
    }
}
