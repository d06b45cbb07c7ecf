using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Lays the rows of a through-cut plate in the order in which a person cuts them.</summary>
/// <remarks>
/// Within each split the children lie by size, the smallest first, and what is left over behind them as one piece: so equal sizes are cut with
/// one setting on all strips of a level, the largest is there to be held to the end, the waste is where no raw edge need be cut off, and the
/// offcut takes all errors. A split inside one of the same direction becomes part of it; the dust behind its last child goes to the end. Never
/// less in one offcut. Where that order would bring a blank to a raw edge which else stays on the rest, what was last stays last, or the whole tree
/// stays as it was: a cut less is worth more than the order. The last child is never measured: where a size of its own comes last that may save its setting, and is taken where it does.
/// Plates with damage are left as they are: there it matters what lies where. O(n log n).
/// </remarks>
internal static class TreeOrder
{
    /// <summary>Which child of a split comes last.</summary>
    private enum LastChild
    {
        Largest,

        AsItWas,

        /// <summary>The largest of those whose size comes once.</summary>
        OfItsOwnSize,
    }

    /// <summary>The same pieces with a tree in order; offcuts judged anew.</summary>
    /// <param name="forSettings">Whether the order that may need fewer settings is looked at too.</param>
    public static Layout Arrange(Job job, Stock stock, Saw saw, Layout layout, bool forSettings = true)
    {
        if (layout.Tree is not { } tree || layout.Pieces.IsEmpty || stock.Form.IsBar() || !stock.KeepOuts.IsEmpty)
        {
            return layout;
        }

        // One after the other: nearly always the first will do.
        var whole = SawWork.Of(saw, stock, layout);
        var first = ((LastChild[])[LastChild.Largest, LastChild.AsItWas]).Select(last => Placed(job, stock, saw, layout, Ordered(tree, last).Node)).FirstOrDefault(NoMore);
        return forSettings && SettingCosts.One(saw) > Money.Zero && Placed(job, stock, saw, layout, Ordered(tree, LastChild.OfItsOwnSize).Node) is var other && NoMore(other) && Settings(other) < Settings(first ?? layout)
            ? other
            : first ?? layout;

        bool NoMore(Layout ordered) => SawWork.Of(saw, stock, ordered) is var work && work.Cuts <= whole.Cuts && work.Section <= whole.Section;

        int Settings(Layout ordered) => LayoutSettings.Of(stock, saw, ordered, job.Unit).Count;
    }

    private static Layout Placed(Job job, Stock stock, Saw saw, Layout layout, CutNode tree)
    {
        var pieces = layout.Pieces.ToArray();
        var offcuts = ImmutableArray.CreateBuilder<Offcut>();
        var placed = Place(tree, layout.Tree!.Area);
        return layout with { Tree = placed, Pieces = [.. pieces], Offcuts = offcuts.ToImmutable() };

        CutNode Place(CutNode node, Rect area)
        {
            switch (node.Kind)
            {
                case CutNodeKind.Piece:
                    pieces[node.Index] = pieces[node.Index] with { Area = area };
                    return node with { Area = area };
                case CutNodeKind.Offcut:
                    offcuts.Add(CostModel.Judge(job, stock, area, layout.Sheet));
                    return node with { Area = area, Index = offcuts.Count - 1 };
            }

            var along = node.Direction == CutDirection.Rip;
            var (at, end) = along ? (area.Y, area.Top) : (area.X, area.Right);
            var children = ImmutableArray.CreateBuilder<CutNode>(node.Children.Length + 1);
            foreach (var child in node.Children)
            {
                var size = along ? child.Area.SizeY : child.Area.SizeX;
                children.Add(Place(child, Slice(at, size)));
                at += size + saw.Kerf;
            }

            if (end > at)
            {
                children.Add(Place(new() { Kind = CutNodeKind.Offcut, Area = area }, Slice(at, end - at)));
            }

            return node with { Area = area, Children = children.ToImmutable() };

            Rect Slice(Length from, Length size) => along ? area with { Y = from, SizeY = size } : area with { X = from, SizeX = size };
        }
    }

    /// <summary>Without offcuts inside splits, by size; areas tell sizes only.</summary>
    /// <returns>With its shape: strips that are cut alike lie side by side.</returns>
    private static Shaped Ordered(CutNode node, LastChild which)
    {
        if (node.Kind != CutNodeKind.Split)
        {
            return Leaf(node);
        }

        var children = new List<Shaped>();
        Gather(node, children, which);
        if (children.Count == 0)
        {
            return Leaf(new() { Kind = CutNodeKind.Offcut, Area = node.Area });
        }

        var along = node.Direction == CutDirection.Rip;
        var last = which switch
        {
            LastChild.AsItWas when node.Children[^1].Kind != CutNodeKind.Offcut => children[^1].Node,
            LastChild.OfItsOwnSize => children.GroupBy(SizeOf).Where(alike => alike.Count() == 1).OrderBy(alike => alike.Key).LastOrDefault()?.First().Node,
            _ => null,
        };
        if (children.Count == 1 && children[0].Node.Area.SizeX == node.Area.SizeX && children[0].Node.Area.SizeY == node.Area.SizeY)
        {
            return children[0];
        }

        // The sort keeps the order of equals.
        Shaped[] sorted = [.. children.OrderBy(child => ReferenceEquals(child.Node, last)).ThenBy(SizeOf).ThenBy(child => child.Shape, StringComparer.Ordinal)];
        return new(node with { Children = [.. sorted.Select(child => child.Node)] }, $"{node.Direction}({string.Join(',', sorted.Select(child => child.Shape))})", sorted);

        Length SizeOf(Shaped child) => along ? child.Node.Area.SizeY : child.Node.Area.SizeX;
    }

    private static void Gather(CutNode node, List<Shaped> into, LastChild which)
    {
        foreach (var child in node.Children)
        {
            if (child.Kind == CutNodeKind.Split && child.Direction == node.Direction)
            {
                Gather(child, into, which);
            }
            else if (child.Kind != CutNodeKind.Offcut && Ordered(child, which) is { Node.Kind: not CutNodeKind.Offcut } ordered)
            {
                if (ordered.Node.Kind == CutNodeKind.Split && ordered.Node.Direction == node.Direction)
                {
                    // What was a split of one child is that child.
                    into.AddRange(ordered.Children);
                }
                else
                {
                    into.Add(ordered);
                }
            }
        }
    }

    private static Shaped Leaf(CutNode node) => new(node, FormattableString.Invariant($"{node.Kind}{node.Area.SizeX.Nanometres}x{node.Area.SizeY.Nanometres}"), []);

    /// <param name="Shape">Equal for what is cut alike.</param>
    /// <param name="Children">Of a split.</param>
    private sealed record Shaped(CutNode Node, string Shape, Shaped[] Children);
}
