using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>The tree of cuts that a filled table stands for. Made from sizes alone; <see cref="Placed"/> then gives each rectangle its place.</summary>
internal static class WorthTree
{
    /// <summary>A layout of the table's best worth; null when nothing beats leaving the plate whole.</summary>
    public static PlateNode? Best(WorthTable table)
    {
        var (shape, plate) = (table.Shape, table.Plate);
        var root = table.WorthOf(plate);
        return shape.Worth(plate.W, plate.H) >= root ? null : Placed(shape, Node(table, plate, root, shape.FirstCut));
    }

    private static PlateNode Node(WorthTable table, Cell cell, int worth, CutDirection? only)
    {
        for (var i = 0; cell.Raw == 0 && i < table.Net.Length; i++)
        {
            if (table.Rules.IsPiece(i, cell.W, cell.H, out var turned) && table.Net[i] == worth)
            {
                return Leaf(table.Shape, cell, i, turned);
            }
        }

        if (table.Shape.Worth(cell.W, cell.H) == worth)
        {
            return Leaf(table.Shape, cell, -1, false);
        }

        foreach (var (one, other, cost) in table.Rules.Cuts(cell.W, cell.H, only, everyRip: true, cell.Raw))
        {
            var rest = other.W > 0 ? table[other] : 0;
            if (table[one] + rest - cost == worth)
            {
                return Split(table.Shape, cell, one, other, Node(table, one, table[one], null), other.W > 0 ? Node(table, other, rest, null) : null);
            }
        }

        throw new InvalidOperationException("A table does not hold the worth that it was asked for.");
    }

    /// <summary>A piece, or a rest where <paramref name="item"/> is −1.</summary>
    public static PlateNode Leaf(PlateShape shape, Cell cell, int item, bool turned) => new(
        item < 0 ? PlateNodeKind.Rest : PlateNodeKind.Piece, Area(shape, cell), default, [], item, turned);

    /// <summary>Two children, or one and dust, along the direction in which they differ from the parent; parallel cuts become one split.</summary>
    public static PlateNode Split(PlateShape shape, Cell cell, Cell one, Cell other, PlateNode first, PlateNode? second)
    {
        if (one.W == cell.W && one.H == cell.H)
        {
            // What a thin cut leaves in coarser units.
            return first;
        }

        var direction = one.H == cell.H ? CutDirection.Crosscut : CutDirection.Rip;
        var across = direction == CutDirection.Crosscut ? 1 : 2;
        var children = ImmutableArray.CreateBuilder<PlateNode>();

        // Dust may only lie behind the last child, and what touches the raw edge is the last: the two change places.
        var swap = second is not null && ((one.Raw & across) != 0 || ((other.Raw & across) == 0 && HasDust(shape, first, direction)));
        Add(swap ? second! : first, second is null);
        if (second is not null)
        {
            Add(swap ? first : second, true);
        }

        return new(PlateNodeKind.Split, Area(shape, cell), direction, children.ToImmutable());

        void Add(PlateNode node, bool last)
        {
            if (node.Kind == PlateNodeKind.Split && node.Direction == direction && (last || !HasDust(shape, node, direction)))
            {
                children.AddRange(node.Children);
            }
            else
            {
                children.Add(node);
            }
        }
    }

    /// <summary>The whole tree with every rectangle at its place, from the corner of the usable plate on. O(nodes).</summary>
    public static PlateNode Placed(PlateShape shape, PlateNode tree)
    {
        var kerf = shape.Kerf * shape.Scale;
        return Place(tree, 0, 0);

        PlateNode Place(PlateNode node, long x, long y)
        {
            var children = ImmutableArray.CreateBuilder<PlateNode>(node.Children.Length);
            var (cx, cy) = (x, y);
            foreach (var child in node.Children)
            {
                children.Add(Place(child, cx, cy));
                (cx, cy) = node.Direction == CutDirection.Crosscut ? (cx + child.Area.SizeX + kerf, cy) : (cx, cy + child.Area.SizeY + kerf);
            }

            return node with { Area = node.Area with { X = x, Y = y }, Children = children.MoveToImmutable() };
        }
    }

    private static bool HasDust(PlateShape shape, PlateNode node, CutDirection direction)
    {
        if (node.Kind != PlateNodeKind.Split || node.Direction != direction)
        {
            return false;
        }

        var kerfs = (node.Children.Length - 1) * shape.Kerf * shape.Scale;
        return direction == CutDirection.Crosscut
            ? node.Children.Sum(child => child.Area.SizeX) + kerfs < node.Area.SizeX
            : node.Children.Sum(child => child.Area.SizeY) + kerfs < node.Area.SizeY;
    }

    private static PlateRect Area(PlateShape shape, Cell cell) => new(0, 0, cell.W * shape.Scale, cell.H * shape.Scale);
}
