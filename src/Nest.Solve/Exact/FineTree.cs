using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>A layout that was found in coarser units (<see cref="CoarsePlate"/>) in the plate's own: the same tree of cuts, each part as large as its pieces need, what is left with the rests.</summary>
/// <remarks>Pieces of almost one length, which shared a strip in coarse units, may need a cut more. It costs more than the tables say; what does not fit, or cannot be held or cut, has no such layout. O(nodes · depth).</remarks>
internal sealed class FineTree
{
    private readonly PlateShape _shape;

    private FineTree(PlateShape shape) => _shape = shape;

    /// <param name="shape">The plate in its own units.</param>
    /// <returns>Null: there is none.</returns>
    public static PlateNode? Of(PlateShape shape, PlateNode coarse)
    {
        var fine = new FineTree(shape);
        if (fine.Need(coarse, true) > shape.SizeX || fine.Need(coarse, false) > shape.SizeY)
        {
            return null;
        }

        var tree = WorthTree.Placed(shape, fine.Node(coarse, new(shape.SizeX, shape.SizeY, 0)));
        return (shape.FirstCut is not { } first || tree.Kind != PlateNodeKind.Split || tree.Direction == first) && fine.MayBeCut(tree) ? tree : null;
    }

    /// <summary>What a layout costs beside the price of its plate, in grains: trims, cuts and facing less its rests. O(nodes).</summary>
    public static long CostOf(CutRules rules, PlateNode tree)
    {
        var shape = rules.Shape;
        return shape.Prices.Fixed + shape.Raw.CostOf(tree, rules) + Visit(tree);

        long Visit(PlateNode node)
        {
            var (w, h) = ((int)(node.Area.SizeX / shape.Scale), (int)(node.Area.SizeY / shape.Scale));
            if (node.Kind != PlateNodeKind.Split)
            {
                return node.Kind == PlateNodeKind.Piece ? shape.Pieces[node.Item].Facing : -shape.Worth(w, h);
            }

            return (node.Cuts * (long)rules.Costs[node.Direction == CutDirection.Crosscut ? h : w]) + node.Children.Sum(Visit);
        }
    }

    /// <summary>Least extent of what a node has in it; 0 for a rest.</summary>
    private int Need(PlateNode node, bool alongX)
    {
        if (node.Kind != PlateNodeKind.Split)
        {
            return node.Kind == PlateNodeKind.Rest ? 0 : alongX != node.Turned ? _shape.Pieces[node.Item].SizeX : _shape.Pieces[node.Item].SizeY;
        }

        var needs = node.Children.Select(child => Need(child, alongX)).Where(need => need > 0).ToList();
        return needs.Count == 0 ? 0 : IsAlong(node, alongX) ? needs.Sum() + (_shape.Kerf * (needs.Count - 1)) : needs.Max();
    }

    private static bool IsAlong(PlateNode node, bool alongX) => node.Direction == CutDirection.Crosscut == alongX;

    /// <summary>Whether it may be longer without a further cut.</summary>
    private static bool Takes(PlateNode node, bool alongX) => node.Kind switch
    {
        PlateNodeKind.Rest => true,
        PlateNodeKind.Piece => false,
        _ => IsAlong(node, alongX) ? node.Children.Any(child => Takes(child, alongX)) : node.Children.All(child => Takes(child, alongX)),
    };

    private PlateNode Node(PlateNode node, Cell cell)
    {
        if (node.Kind == PlateNodeKind.Piece)
        {
            return Piece(node, cell);
        }

        var alongX = node.Kind == PlateNodeKind.Split && node.Direction == CutDirection.Crosscut;
        var parts = node.Children.Where(child => Need(child, alongX) > 0).ToList();
        if (parts.Count == 0)
        {
            return WorthTree.Leaf(_shape, cell, -1, false);
        }

        var more = (alongX ? cell.W : cell.H) - parts.Sum(part => Need(part, alongX)) - (_shape.Kerf * (parts.Count - 1));
        var taker = node.Children.Any(child => child.Kind == PlateNodeKind.Rest) ? null : parts.Find(part => Takes(part, alongX));
        var children = ImmutableArray.CreateBuilder<PlateNode>();
        foreach (var part in parts)
        {
            children.Add(Node(part, Part(Need(part, alongX) + (ReferenceEquals(part, taker) ? more : 0))));
        }

        if (taker is null && more > _shape.Kerf)
        {
            children.Add(WorthTree.Leaf(_shape, Part(more - _shape.Kerf), -1, false));
        }

        return children is [var only] && (taker is not null || more == 0) ? only : new(PlateNodeKind.Split, Area(cell), node.Direction, children.ToImmutable());

        Cell Part(int extent) => alongX ? cell with { W = extent } : cell with { H = extent };
    }

    /// <summary>A piece, cut from a rectangle that may be larger than it.</summary>
    private PlateNode Piece(PlateNode node, Cell cell)
    {
        var (x, y) = (Need(node, true), Need(node, false));
        if (cell.W == x && cell.H == y)
        {
            return WorthTree.Leaf(_shape, cell, node.Item, node.Turned);
        }

        var crosscut = cell.W > x && (cell.H == y || cell.H + x <= cell.W + y);
        var own = crosscut ? cell with { W = x } : cell with { H = y };
        var rest = crosscut ? cell.W - x - _shape.Kerf : cell.H - y - _shape.Kerf;
        var children = ImmutableArray.Create(Piece(node, own));
        if (rest > 0)
        {
            children = children.Add(WorthTree.Leaf(_shape, crosscut ? cell with { W = rest } : cell with { H = rest }, -1, false));
        }

        return new(PlateNodeKind.Split, Area(cell), crosscut ? CutDirection.Crosscut : CutDirection.Rip, children);
    }

    /// <summary>Whether the saw makes every cut, and there is enough to hold: of parallel strips the widest is parted last.</summary>
    private bool MayBeCut(PlateNode node)
    {
        if (node.Kind != PlateNodeKind.Split)
        {
            return true;
        }

        var crosscut = node.Direction == CutDirection.Crosscut;
        var length = (crosscut ? node.Area.SizeY : node.Area.SizeX) / _shape.Scale;
        var widest = node.Children.Max(child => crosscut ? child.Area.SizeX : child.Area.SizeY) / _shape.Scale;
        return length <= _shape.Longest && widest >= _shape.Held && node.Children.All(MayBeCut);
    }

    private PlateRect Area(Cell cell) => new(0, 0, cell.W * _shape.Scale, cell.H * _shape.Scale);
}
