using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>The tree of cuts that a filled <see cref="WorthTable"/> stands for.</summary>
internal static class WorthTree
{
    /// <summary>A layout of the table's best worth; null when nothing beats leaving the plate whole.</summary>
    public static PlateNode? Best(WorthTable table)
    {
        var (shape, plate) = (table.Shape, table.Plate);
        var root = table.WorthOf(plate);
        return shape.Worth(plate.W, plate.H) >= root ? null : Node(table, 0, 0, plate, root, shape.FirstCut);
    }

    private static PlateNode Node(WorthTable table, int x, int y, Cell cell, int worth, CutDirection? only)
    {
        var (w, h) = (cell.W, cell.H);
        for (var i = 0; cell.Raw == 0 && i < table.Net.Length; i++)
        {
            if (table.Rules.IsPiece(i, w, h, out var turned) && table.Net[i] == worth)
            {
                return Leaf(table.Shape, x, y, w, h, i, turned);
            }
        }

        if (table.Shape.Worth(w, h) == worth)
        {
            return Leaf(table.Shape, x, y, w, h, -1, false);
        }

        foreach (var (one, other, cost) in table.Rules.Cuts(w, h, only, everyRip: true, cell.Raw))
        {
            var rest = other.W > 0 ? table[other] : 0;
            if (table[one] + rest - cost == worth)
            {
                return Split(table.Shape, x, y, w, h, one, other, (ox, oy, second) =>
                    second ? Node(table, ox, oy, other, rest, null) : Node(table, ox, oy, one, table[one], null));
            }
        }

        throw new InvalidOperationException("A table does not hold the worth that it was asked for.");
    }

    /// <summary>A piece, or a rest where <paramref name="item"/> is −1.</summary>
    public static PlateNode Leaf(PlateShape shape, int x, int y, int w, int h, int item, bool turned) => new(
        item < 0 ? PlateNodeKind.Rest : PlateNodeKind.Piece, Area(shape, x, y, w, h), default, [], item, turned);

    /// <summary>Two children, or one and dust, along the direction in which they differ from the parent; parallel cuts become one split.</summary>
    /// <param name="child">Makes a child at a place: the second one (true) or the first.</param>
    public static PlateNode Split(
        PlateShape shape, int x, int y, int w, int h, Cell one, Cell other, Func<int, int, bool, PlateNode> child)
    {
        var crosscut = one.H == h;
        var direction = crosscut ? CutDirection.Crosscut : CutDirection.Rip;
        var across = crosscut ? 1 : 2;
        var children = ImmutableArray.CreateBuilder<PlateNode>();
        var first = child(x, y, false);

        // Dust may only lie behind the last child, and what touches the raw edge is the last: the two change places.
        var swap = other.W > 0 && ((one.Raw & across) != 0 || ((other.Raw & across) == 0 && HasDust(first, direction)));
        var front = swap ? other : one;
        Add(swap ? child(x, y, true) : first, other.W == 0);
        if (other.W > 0)
        {
            Add(crosscut ? child(x + front.W + shape.Kerf, y, !swap) : child(x, y + front.H + shape.Kerf, !swap), true);
        }

        return new(PlateNodeKind.Split, Area(shape, x, y, w, h), direction, children.ToImmutable());

        void Add(PlateNode node, bool last)
        {
            if (node.Kind == PlateNodeKind.Split && node.Direction == direction && (last || !HasDust(node, direction)))
            {
                children.AddRange(node.Children);
            }
            else
            {
                children.Add(node);
            }
        }
    }

    private static bool HasDust(PlateNode node, CutDirection direction)
    {
        if (node.Kind != PlateNodeKind.Split || node.Direction != direction)
        {
            return false;
        }

        var last = node.Children[^1].Area;
        return direction == CutDirection.Crosscut
            ? last.X + last.SizeX < node.Area.X + node.Area.SizeX
            : last.Y + last.SizeY < node.Area.Y + node.Area.SizeY;
    }

    private static PlateRect Area(PlateShape shape, int x, int y, int w, int h) =>
        new(x * shape.Scale, y * shape.Scale, w * shape.Scale, h * shape.Scale);
}
