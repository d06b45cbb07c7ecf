using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>One child of a split: a leaf, or another split.</summary>
/// <param name="Metal">As a leaf: what it is and where it goes. As a split: its name; area and destination follow from the steps.</param>
/// <param name="Size">In the direction divided.</param>
/// <param name="Split">Number of the child split, −1 for a leaf.</param>
internal sealed record SplitChild(Workpiece Metal, Length Size, int Split)
{
    /// <summary>Not measured: its size is what remains.</summary>
    public bool Offcut => Metal.Kind is WorkKind.Remnant or WorkKind.Scrap;
}

/// <summary>A node of the cut tree with at least one cut.</summary>
/// <param name="Depth">Splits above it.</param>
/// <param name="Area">Its metal: raw edges that stay on it included.</param>
/// <param name="Tail">One more cut behind the last child, which does not end with the metal.</param>
internal sealed record Split(
    string Name, int Depth, CutDirection Direction, Rect Area, IReadOnlyList<SplitChild> Children, bool Tail)
{
    public bool Root => Depth == 0;

    public bool Along => Direction == CutDirection.Rip;

    /// <summary>Metal of the children from one to another, with the tail when it is still on.</summary>
    public Rect Extent(int from, int to, bool tail)
    {
        var first = Children[from].Metal.Area;
        var last = Children[to].Metal.Area;
        return Along
            ? Area with { Y = first.Y, SizeY = (tail ? Area.Top : last.Top) - first.Y }
            : Area with { X = first.X, SizeX = (tail ? Area.Right : last.Right) - first.X };
    }

    /// <summary>Of metal of this split: its size in the direction divided.</summary>
    public Length SizeOf(Rect metal) => Along ? metal.SizeY : metal.SizeX;
}

/// <summary>All splits of a plate's layout, the first one on top; splits that make no cut are passed over.</summary>
internal sealed class SplitGraph
{
    private readonly Layout layout;
    private readonly TrimmedEdges trimmed;
    private readonly List<Split> splits = [];

    private SplitGraph(Layout layout, TrimmedEdges trimmed)
    {
        this.layout = layout;
        this.trimmed = trimmed;
    }

    public IReadOnlyList<Split> Splits => splits;

    /// <summary>The only piece of metal when the tree makes no cut at all.</summary>
    public Workpiece? Whole { get; private init; }

    public static SplitGraph Of(Layout layout, TrimmedEdges trimmed)
    {
        var tree = PassOver(layout.Tree ?? throw new ArgumentException("A layout on a saw has a tree.", nameof(layout)));
        if (tree.Kind != CutNodeKind.Split)
        {
            return new(layout, trimmed) { Whole = Leaf(layout, tree, trimmed) };
        }

        var graph = new SplitGraph(layout, trimmed);
        graph.Add(tree, "sheet", 0);
        return graph;
    }

    /// <summary>What a leaf of the tree is, with the raw edges that stay on it.</summary>
    public static Workpiece Leaf(Layout layout, CutNode node, TrimmedEdges trimmed)
    {
        if (node.Kind == CutNodeKind.Piece)
        {
            var piece = layout.Pieces[node.Index];
            return new(WorkKind.Piece, $"piece {node.Index + 1}", node.Area, Destination.Blanks, node.Index, piece.PartId) { Spare = piece.Spare };
        }

        var keep = layout.Offcuts[node.Index].Keep;
        return new(keep ? WorkKind.Remnant : WorkKind.Scrap, $"offcut {node.Index + 1}", trimmed.Metal(layout, node.Area),
            keep ? Destination.Rack : Destination.Bin, node.Index);
    }

    /// <summary>The first node below, or this one, that makes a cut or is a leaf.</summary>
    public static CutNode PassOver(CutNode node)
    {
        while (node.Kind == CutNodeKind.Split && node.Children.Length == 1 && node.Children[0].Area == node.Area)
        {
            node = node.Children[0];
        }

        return node;
    }

    private int Add(CutNode node, string name, int depth)
    {
        var number = splits.Count;
        splits.Add(null!);
        var along = node.Direction == CutDirection.Rip;
        var children = new List<SplitChild>();
        foreach (var raw in node.Children)
        {
            var child = PassOver(raw);
            if (child.Kind == CutNodeKind.Split)
            {
                var childName = $"strip {splits.Count}";
                var metal = trimmed.Metal(layout, child.Area);
                children.Add(new(new(WorkKind.Strip, childName, metal, Destination.Pile), along ? metal.SizeY : metal.SizeX, Add(child, childName, depth + 1)));
            }
            else
            {
                var leaf = Leaf(layout, child, trimmed);
                children.Add(new(leaf, along ? leaf.Area.SizeY : leaf.Area.SizeX, -1));
            }
        }

        var area = trimmed.Metal(layout, node.Area);
        var last = children[^1].Metal.Area;
        var tail = along ? last.Top != area.Top : last.Right != area.Right;
        splits[number] = new(name, depth, node.Direction, area, children, tail);
        return number;
    }
}
