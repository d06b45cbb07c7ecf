using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The layouts without their free spares, worked out a second time from the written rule: the plan's money is of these.</summary>
internal static class SparesTaken
{
    /// <param name="layouts">In the order of their numbers.</param>
    public static List<LayoutFacts> Out(PlanFacts facts, IReadOnlyList<LayoutFacts> layouts)
    {
        var found = new List<(LayoutFacts One, bool Bared)>();
        foreach (var one in layouts)
        {
            var bared = one.Layout.Pieces.Any(piece => piece.Spare);
            var bare = bared ? Bare(facts, one) : one;
            if (found.Count > 0 && found[^1] is var before && (bared || before.Bared) && Same(before.One, bare))
            {
                var sum = before.One.Layout.Count + bare.Layout.Count;
                found[^1] = (before.One with { Layout = before.One.Layout with { Count = sum } }, true);
            }
            else
            {
                found.Add((bare, bared));
            }
        }

        return found.ConvertAll(entry => entry.One);
    }

    private static LayoutFacts Bare(PlanFacts facts, LayoutFacts one)
    {
        var layout = one.Layout;
        var (pieces, offcuts, tree) = (layout.Pieces.Where(piece => !piece.Spare).ToImmutableArray(), layout.Offcuts, layout.Tree);
        if (tree is not null && one.Bar)
        {
            (pieces, offcuts, tree) = MovedUp(facts, one, pieces);
        }
        else if (tree is not null)
        {
            var left = new List<Offcut>();
            tree = Joined(facts, one, tree, left);
            offcuts = [.. left];
        }

        var facing = layout.Cost.Facing;
        foreach (var spare in layout.Pieces.Where(piece => piece.Spare))
        {
            var sizes = ExpectedBlanks.Of(facts.Job, facts.Parts[spare.PartId], one.Material, one.Stock, one.Saw);
            facing -= sizes.FirstOrDefault(size => RulesFit.Matches(one, facts.Parts[spare.PartId], size, spare))?.Facing ?? Money.Zero;
        }

        var bare = one with { Layout = layout with { Pieces = pieces, Offcuts = offcuts, Tree = tree } };
        return bare with { Layout = bare.Layout with { Cost = RulesMoney.Right(bare, facing) } };
    }

    /// <summary>On a bar the blanks that stay move up to the clean end, a kerf apart, in their order; what is left lies behind them.</summary>
    private static (ImmutableArray<PlacedPiece> Pieces, ImmutableArray<Offcut> Offcuts, CutNode Tree) MovedUp(PlanFacts facts, LayoutFacts one, ImmutableArray<PlacedPiece> stay)
    {
        var inner = one.Inner;
        var right = new ExpectedCuts(one).BarFromRight;
        var moved = stay.ToArray();
        var nodes = new List<CutNode>();
        var used = Length.Zero;
        var rows = Enumerable.Range(0, moved.Length).OrderBy(index => moved[index].Area.X).ToList();
        if (right)
        {
            rows.Reverse();
        }

        foreach (var index in rows)
        {
            var area = moved[index].Area;
            area = area with { X = right ? inner.X + inner.SizeX - used - area.SizeX : inner.X + used };
            moved[index] = moved[index] with { Area = area };
            nodes.Add(new() { Kind = CutNodeKind.Piece, Area = area, Index = index });
            used += area.SizeX + one.Saw.Kerf;
        }

        var offcuts = ImmutableArray<Offcut>.Empty;
        if (inner.SizeX - used is var rest && rest > Length.Zero)
        {
            var area = new Rect(right ? inner.X : inner.X + used, Length.Zero, rest, one.Layout.Sheet.SizeY);
            offcuts = [RulesOffcuts.Right(facts, one, area)];
            nodes.Add(new() { Kind = CutNodeKind.Offcut, Area = area, Index = 0 });
        }

        if (right)
        {
            nodes.Reverse();
        }

        return ([.. moved], offcuts, new() { Kind = CutNodeKind.Split, Area = inner, Direction = CutDirection.Crosscut, Children = [.. nodes] });
    }

    /// <summary>On a plate the largest parts of the tree that hold nothing but spares and scrap are one offcut each.</summary>
    private static CutNode Joined(PlanFacts facts, LayoutFacts one, CutNode node, List<Offcut> offcuts)
    {
        var leaves = Leaves(node).ToList();
        var scrap = leaves.TrueForAll(leaf => leaf.Kind == CutNodeKind.Offcut ? !one.Layout.Offcuts[leaf.Index].Keep : one.Layout.Pieces[leaf.Index].Spare);
        if (node.Kind == CutNodeKind.Offcut || (scrap && leaves.Exists(leaf => leaf.Kind == CutNodeKind.Piece)))
        {
            offcuts.Add(node.Kind == CutNodeKind.Offcut ? one.Layout.Offcuts[node.Index] : RulesOffcuts.Right(facts, one, node.Area));
            return new() { Kind = CutNodeKind.Offcut, Area = node.Area, Index = offcuts.Count - 1 };
        }

        return node.Kind == CutNodeKind.Piece
            ? node with { Index = one.Layout.Pieces.Take(node.Index).Count(piece => !piece.Spare) }
            : node with { Children = [.. node.Children.Select(child => Joined(facts, one, child, offcuts))] };
    }

    private static IEnumerable<CutNode> Leaves(CutNode node) => node.Kind == CutNodeKind.Split ? node.Children.SelectMany(Leaves) : [node];

    private static bool Same(LayoutFacts a, LayoutFacts b) =>
        a.Stock.Id == b.Stock.Id && a.Saw.Id == b.Saw.Id && a.Layout.Kept == b.Layout.Kept && a.Layout.Trims == b.Layout.Trims && a.Layout.Cost == b.Layout.Cost
        && a.Layout.Pieces.SequenceEqual(b.Layout.Pieces) && (a.Layout.Tree is { } tree ? b.Layout.Tree is { } other && Same(a, tree, b, other)
            : b.Layout.Tree is null && a.Layout.Offcuts.SequenceEqual(b.Layout.Offcuts));

    private static bool Same(LayoutFacts a, CutNode one, LayoutFacts b, CutNode other) =>
        one.Kind == other.Kind && one.Area == other.Area && one.Children.Length == other.Children.Length
        && (one.Kind != CutNodeKind.Split || one.Direction == other.Direction)
        && (one.Kind != CutNodeKind.Offcut || a.Layout.Offcuts[one.Index] == b.Layout.Offcuts[other.Index])
        && Enumerable.Range(0, one.Children.Length).All(at => Same(a, one.Children[at], b, other.Children[at]));
}
