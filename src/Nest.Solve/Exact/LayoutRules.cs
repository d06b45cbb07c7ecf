using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Choose;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>Whether a layout that the tables found without looking at stages and damage obeys them after all, if need be with the children of
/// its splits in another order.</summary>
/// <remarks>Cuts, rests and pieces stay the same; the plan that takes the layout counts anew which raw edges stay. Depth first, two orders a split (as they are, turned round), cut off by
/// the number of splits looked at. What is not found obeyed may still be possible.</remarks>
internal sealed class LayoutRules
{
    private const int MostVisits = 4000;

    private readonly ImmutableArray<PlateRect> _damage;
    private int _visits;

    private LayoutRules(ImmutableArray<PlateRect> damage) => _damage = damage;

    /// <returns>The layout as it may be cut; null where no order was found that obeys.</returns>
    public static PlateNode? Obeyed(Component component, int stock, PlateNode tree)
    {
        var frame = component.Stocks[stock];
        if (frame.Saw.Stages is { } most && Deepest(tree, 0, null, most, frame.Saw.TrimmingCut) > most)
        {
            return null;
        }

        var damage = GroupSolver.PlateStockOf(component, stock, null).KeepOuts;
        return damage.IsEmpty ? tree : new LayoutRules(damage).Place(tree, tree.Area.X, tree.Area.Y, component.Units(frame.Saw.Kerf));
    }

    /// <summary>Stages of parallel cuts, a trimming cut that frees one piece beyond the last not counted.</summary>
    private static int Deepest(PlateNode node, int stage, CutDirection? before, int most, bool trimming)
    {
        if (node.Kind != PlateNodeKind.Split)
        {
            return stage;
        }

        var own = stage + (node.Direction == before ? 0 : 1);
        if (trimming && own == most + 1 && node.Children.All(child => child.Kind != PlateNodeKind.Split)
            && node.Children.Count(child => child.Kind == PlateNodeKind.Piece) <= 1)
        {
            return most;
        }

        return node.Children.Max(child => Deepest(child, own, node.Direction, most, trimming));
    }

    /// <summary>The node with its corner here and no piece on damage.</summary>
    private PlateNode? Place(PlateNode node, long x, long y, long kerf)
    {
        var area = node.Area with { X = x, Y = y };
        if (node.Kind != PlateNodeKind.Split)
        {
            return node.Kind == PlateNodeKind.Piece && _damage.Any(spot => Overlap(spot, area)) ? null : node with { Area = area };
        }

        if (++_visits > MostVisits)
        {
            return null;
        }

        foreach (var order in new[] { node.Children, [.. node.Children.Reverse()] })
        {
            var children = ImmutableArray.CreateBuilder<PlateNode>(order.Length);
            var (cx, cy) = (x, y);
            foreach (var child in order)
            {
                if (Place(child, cx, cy, kerf) is not { } placed)
                {
                    break;
                }

                children.Add(placed);
                (cx, cy) = node.Direction == CutDirection.Crosscut ? (cx + child.Area.SizeX + kerf, cy) : (cx, cy + child.Area.SizeY + kerf);
            }

            if (children.Count == order.Length)
            {
                return node with { Area = area, Children = children.ToImmutable() };
            }
        }

        return null;
    }

    private static bool Overlap(PlateRect a, PlateRect b) =>
        a.X < b.X + b.SizeX && b.X < a.X + a.SizeX && a.Y < b.Y + b.SizeY && b.Y < a.Y + a.SizeY;
}
