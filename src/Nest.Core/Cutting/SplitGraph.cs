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
/// <param name="Tail">One more cut behind the last child: the dust of a row that does not end flush, or a bar's right trim.</param>
/// <param name="TailSolid">What that cut leaves as solid metal (a bar's right trim).</param>
/// <param name="TailFromEnd">That cut is marked from the raw end: what is before it is an offcut.</param>
internal sealed record Split(
    string Name, bool Root, CutDirection Direction, Rect Area, IReadOnlyList<SplitChild> Children,
    bool Tail, Length TailSolid, bool TailFromEnd)
{
    private int[]? holders;

    /// <summary>Of a bar: no stop stands across its length, so what is not measured comes off at a mark.</summary>
    public bool Bar { get; init; }

    public bool Rip => Direction == CutDirection.Rip;

    /// <summary>Metal of the children from one to another, with the tail when it is still on.</summary>
    public Rect Extent(int from, int to, bool tail)
    {
        var first = Children[from].Metal.Area;
        var last = Children[to].Metal.Area;
        return Rip
            ? Area with { Y = first.Y, SizeY = (tail ? Area.Top : last.Top) - first.Y }
            : Area with { X = first.X, SizeX = (tail ? Area.Right : last.Right) - first.X };
    }

    /// <summary>Whether the first of these children falls free: an offcut in front of something that is wanted, or of more waste.</summary>
    public bool FreeFirst(int from, int to)
    {
        if (from >= to || !Children[from].Offcut)
        {
            return false;
        }

        for (var index = from + 1; index <= to; index++)
        {
            if (!Children[index].Offcut)
            {
                return true;
            }
        }

        return SizeOf(Extent(from + 1, to, false)) >= Children[from].Size;
    }

    /// <summary>Of metal of this split: its size in the direction divided.</summary>
    public Length SizeOf(Rect metal) => Rip ? metal.SizeY : metal.SizeX;

    /// <summary>Whether one of these children is at least so long.</summary>
    public bool HasHolder(int from, int to, Length shortest)
    {
        if (shortest <= Length.Zero)
        {
            return true;
        }

        // Children up to each index that are long enough.
        if (holders is null)
        {
            holders = new int[Children.Count + 1];
            for (var index = 0; index < Children.Count; index++)
            {
                holders[index + 1] = holders[index] + (Children[index].Size >= shortest ? 1 : 0);
            }
        }

        return holders[to + 1] > holders[from];
    }
}

/// <summary>All splits of one layout, the first one on top; splits that make no cut are passed over.</summary>
internal sealed class SplitGraph
{
    private readonly Layout layout;
    private readonly Saw saw;
    private readonly bool bar;
    private readonly List<Split> splits = [];

    private SplitGraph(Layout layout, Saw saw, Stock stock)
    {
        this.layout = layout;
        this.saw = saw;
        bar = stock.Form.IsBar();
    }

    public IReadOnlyList<Split> Splits => splits;

    public bool IsBar => bar;

    /// <summary>What the stock piece is called.</summary>
    public string StockName => bar ? "bar" : "sheet";

    /// <summary>The only piece of metal when the tree makes no cut at all.</summary>
    public Workpiece? Whole { get; private init; }

    public static SplitGraph Of(Layout layout, Saw saw, Stock stock)
    {
        var tree = PassOver(layout.Tree ?? throw new ArgumentException("A layout on a saw has a tree.", nameof(layout)));
        if (tree.Kind != CutNodeKind.Split)
        {
            return new(layout, saw, stock) { Whole = Leaf(layout, tree) };
        }

        var graph = new SplitGraph(layout, saw, stock);
        graph.Add(tree, graph.StockName, true);
        return graph;
    }

    private static CutNode PassOver(CutNode node)
    {
        while (node.Kind == CutNodeKind.Split && node.Children.Length == 1 && node.Children[0].Area == node.Area)
        {
            node = node.Children[0];
        }

        return node;
    }

    private int Add(CutNode node, string name, bool root)
    {
        var number = splits.Count;
        splits.Add(null!);
        var rip = node.Direction == CutDirection.Rip;
        var children = new List<SplitChild>();
        foreach (var raw in node.Children)
        {
            var child = PassOver(raw);
            var size = rip ? child.Area.SizeY : child.Area.SizeX;
            if (child.Kind == CutNodeKind.Split)
            {
                var childName = $"strip {splits.Count}";
                children.Add(new(new(WorkKind.Strip, childName, child.Area, Destination.Pile), size, Add(child, childName, false)));
            }
            else
            {
                children.Add(new(Leaf(layout, child), size, -1));
            }
        }

        splits[number] = (root && bar ? BarRoot(node, name, children) : Plain(node, name, root, children)) with { Bar = bar };
        return number;
    }

    private static Split Plain(CutNode node, string name, bool root, List<SplitChild> children)
    {
        var last = children[^1].Metal.Area;
        var flush = node.Direction == CutDirection.Rip ? last.Top == node.Area.Top : last.Right == node.Area.Right;
        return new(name, root, node.Direction, node.Area, children, !flush, Length.Zero, false);
    }

    /// <summary>A bar keeps its right trim to the end: the cut behind the last piece takes it off. Behind scrap no cut is needed;
    /// behind a remnant the trim is measured from the raw end.</summary>
    private Split BarRoot(CutNode node, string name, List<SplitChild> children)
    {
        var end = layout.Sheet.Right;
        var last = children[^1];
        var rest = end - last.Metal.Area.Right;
        var area = node.Area with { SizeX = end - node.Area.X };
        var solid = Length.Max(Length.Zero, rest - saw.Kerf);
        if (rest > Length.Zero && (last.Metal.Kind == WorkKind.Scrap || (last.Offcut && solid == Length.Zero)))
        {
            // The offcut simply ends with the bar.
            var whole = last.Metal.Area with { SizeX = end - last.Metal.Area.X };
            children[^1] = new(last.Metal with { Area = whole }, whole.SizeX, -1);
            rest = Length.Zero;
        }

        return new(name, true, node.Direction, area, children, rest > Length.Zero, solid, last.Offcut);
    }

    private static Workpiece Leaf(Layout layout, CutNode node)
    {
        if (node.Kind == CutNodeKind.Piece)
        {
            var piece = layout.Pieces[node.Index];
            return new(WorkKind.Piece, $"piece {node.Index + 1}", node.Area, Destination.Blanks, node.Index, piece.PartId);
        }

        var keep = layout.Offcuts[node.Index].Keep;
        return new(keep ? WorkKind.Remnant : WorkKind.Scrap, $"offcut {node.Index + 1}", node.Area,
            keep ? Destination.Rack : Destination.Bin, node.Index);
    }
}
