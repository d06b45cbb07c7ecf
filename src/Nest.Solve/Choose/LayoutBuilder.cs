using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Plates;

namespace Nest.Solve.Choose;

/// <summary>Turns a kernel's answer (whole units, inside the trims) into a layout of the plan: exact lengths in the stock's own
/// coordinates, offcuts judged, cost by the one cost model.</summary>
internal static class LayoutBuilder
{
    /// <summary>A bar with these pieces, in the order in which they are cut from its clean end: long pieces first, but where what is left is
    /// too short for the vise, one that it can hold last (<see cref="BarSequence"/>). What is left lies behind them.</summary>
    public static Column Bar(Component component, int stock, ReadOnlySpan<int> counts)
    {
        var frame = component.Stocks[stock];
        var facing = Money.Zero;
        var order = Enumerable.Range(0, component.Items).ToArray();
        Array.Sort(order, (a, b) =>
        {
            var bySize = component.SizeX(stock, b).CompareTo(component.SizeX(stock, a));
            return bySize != 0 ? bySize : a.CompareTo(b);
        });
        var sizes = new List<(int Item, Length Size)>();
        foreach (var item in order)
        {
            for (var copy = 0; copy < counts[item]; copy++)
            {
                var size = component.Fits[stock, item]!.SizeX;
                sizes.Add((item, size));
                facing += component.Fits[stock, item]!.ExtraCost;
            }
        }

        var fromRight = TrimmedEdges.FromRight(frame.Stock, frame.Trims);
        sizes = BarSequence.WithLast(sizes, frame.Sheet.SizeX - (fromRight ? Length.Zero : frame.Trims.Left), frame.Saw);
        var pieces = ImmutableArray.CreateBuilder<PlacedPiece>();
        var children = ImmutableArray.CreateBuilder<CutNode>();
        var offcuts = ImmutableArray<Offcut>.Empty;
        var at = fromRight ? frame.Usable.Right : frame.Usable.X;
        foreach (var (item, size) in sizes)
        {
            var fit = component.Fits[stock, item]!;
            at -= fromRight ? size : Length.Zero;
            var area = new Rect(at, Length.Zero, size, frame.Sheet.SizeY);
            children.Add(new() { Kind = CutNodeKind.Piece, Area = area, Index = pieces.Count });
            pieces.Add(new(component.Blanks[item].Part.Id, area, fit.Turned) { Ends = fit.Ends });
            at += fromRight ? -frame.Saw.Kerf : size + frame.Saw.Kerf;
        }

        var rest = fromRight ? at - frame.Usable.X : frame.Usable.Right - at;
        if (rest > Length.Zero)
        {
            var area = new Rect(fromRight ? frame.Usable.X : at, Length.Zero, rest, frame.Sheet.SizeY);
            offcuts = [CostModel.Judge(component.Job, frame.Stock, area, frame.Sheet)];
            children.Add(new() { Kind = CutNodeKind.Offcut, Area = area, Index = 0 });
        }

        if (fromRight)
        {
            children.Reverse();
        }

        var tree = new CutNode
        {
            Kind = CutNodeKind.Split, Area = frame.Usable, Direction = CutDirection.Crosscut, Children = children.ToImmutable(),
        };
        return Finish(component, stock, counts.ToArray(), pieces.ToImmutable(), tree, offcuts, facing);
    }

    /// <summary>A plate divided as a kernel says. The kernel's items are the component's blanks through <paramref name="items"/>.</summary>
    public static Column Plate(Component component, int stock, ReadOnlySpan<int> items, PlateLayout layout)
    {
        var frame = component.Stocks[stock];
        var counts = new int[component.Items];
        var facing = Money.Zero;
        var pieces = ImmutableArray.CreateBuilder<PlacedPiece>();
        var offcuts = ImmutableArray.CreateBuilder<Offcut>();
        CutNode? tree = null;
        var map = items.ToArray();
        if (layout.Tree is { } root)
        {
            tree = Convert(RestJoiner.Join(root, Worth));
        }
        else
        {
            foreach (var placement in layout.Pieces)
            {
                AddPiece(placement.Item, ToStock(placement.Area), placement.Turned);
            }

            offcuts.AddRange(FreeOffcuts.Find(component.Job, frame, [.. pieces.Select(piece => piece.Area)]));
        }

        return Finish(component, stock, counts, pieces.ToImmutable(), tree, offcuts.ToImmutable(), facing);

        // Two pieces of waste must not become a leftover because there is damage in it.
        Money Worth(PlateRect rest)
        {
            var offcut = CostModel.Judge(component.Job, frame.Stock, ToStock(rest), frame.Sheet);
            return offcut.Keep && frame.Stock.KeepOuts.Any(offcut.Area.Overlaps) ? Money.FromUnits(-1) : offcut.Value;
        }

        CutNode Convert(PlateNode node)
        {
            var area = ToStock(node.Area);
            switch (node.Kind)
            {
                case PlateNodeKind.Piece:
                    return new() { Kind = CutNodeKind.Piece, Area = area, Index = AddPiece(node.Item, area, node.Turned) };
                case PlateNodeKind.Rest:
                    offcuts.Add(CostModel.Judge(component.Job, frame.Stock, area, frame.Sheet));
                    return new() { Kind = CutNodeKind.Offcut, Area = area, Index = offcuts.Count - 1 };
                default:
                    return new()
                    {
                        Kind = CutNodeKind.Split, Area = area, Direction = node.Direction,
                        Children = [.. node.Children.Select(Convert)],
                    };
            }
        }

        int AddPiece(int kernelItem, Rect area, bool turned)
        {
            var item = map[kernelItem];
            counts[item]++;
            facing += component.Fits[stock, item]!.ExtraCost;
            pieces.Add(new(component.Blanks[item].Part.Id, area, turned));
            return pieces.Count - 1;
        }

        Rect ToStock(PlateRect rect) => new(
            frame.Usable.X + At(rect.X), frame.Usable.Y + At(rect.Y), At(rect.SizeX), At(rect.SizeY));

        Length At(long units) => Length.FromNanometres(units * component.Unit);
    }

    private static Column Finish(
        Component component, int stock, int[] counts, ImmutableArray<PlacedPiece> pieces, CutNode? tree,
        ImmutableArray<Offcut> offcuts, Money facing)
    {
        var frame = component.Stocks[stock];
        var layout = new Layout
        {
            Number = 0, StockId = frame.Stock.Id, SawId = frame.Saw.Id, Count = 1, Sheet = frame.Sheet, Trims = frame.Trims,
            Pieces = pieces, Tree = tree, Offcuts = offcuts, Cost = default,
        };
        layout = TreeOrder.Arrange(component.Job, frame.Stock, frame.Saw, layout);
        layout = layout with { Cost = CostModel.Cost(component.Job, frame.Stock, frame.Saw, layout, facing) };
        var cost = layout.Cost.Total.Units;
        var lower = component.LowerCosts.Of(stock, counts, cost);
        return new(stock, [.. counts], cost, lower, layout);
    }
}
