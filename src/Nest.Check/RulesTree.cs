using Nest.Core.Geometry;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>A layout on a saw is a sequence of cuts from edge to edge.</summary>
internal static class RulesTree
{
    /// <summary>The tree starts at the usable sheet, divides it by through-cuts of one kerf, and its leaves are exactly the layout's
    /// pieces and offcuts.</summary>
    /// <returns>Area that the cuts turn into chips, or null when there is no valid tree.</returns>
    public static Area? ThroughCuts(PlanFacts facts, LayoutFacts one)
    {
        var layout = one.Layout;
        if (one.Cutter)
        {
            if (layout.Tree is not null)
            {
                facts.Add("tree-on-cutter", one.Name, "a cutter makes no through-cuts, the tree must be absent");
            }

            return null;
        }

        if (layout.Tree is not { } root)
        {
            facts.Add("not-through-cuts", one.Name, "the tree of through-cuts is missing");
            return null;
        }

        var walk = new Walk(one);
        if (root.Area != one.Inner)
        {
            walk.Problems.Add("the tree does not start at the usable sheet");
        }

        walk.Visit(root, one.Bar && new ExpectedCuts(one).BarFromRight);
        foreach (var problem in walk.Problems)
        {
            facts.Add("not-through-cuts", one.Name, problem);
        }

        walk.MissingLeaves(facts);
        return walk.Problems.Count == 0 ? walk.Chips : null;
    }

    private sealed class Walk(LayoutFacts one)
    {
        private readonly int[] pieces = new int[one.Layout.Pieces.Length];
        private readonly int[] offcuts = new int[one.Layout.Offcuts.Length];
        private readonly List<string> mismatches = [];

        public List<string> Problems { get; } = [];

        public Area Chips { get; private set; }

        /// <param name="fromRight">The root of a bar that is measured from its right end: its dust lies at the left.</param>
        public void Visit(CutNode node, bool fromRight = false)
        {
            switch (node.Kind)
            {
                case CutNodeKind.Piece or CutNodeKind.Offcut when node.Children.Length > 0:
                    mismatches.Add("a piece or offcut of the tree is divided further");
                    break;
                case CutNodeKind.Piece when node.Index >= 0 && node.Index < pieces.Length:
                    pieces[node.Index]++;
                    if (one.Layout.Pieces[node.Index].Area != node.Area)
                    {
                        mismatches.Add($"{one.Piece(node.Index)} does not lie where the tree has it");
                    }

                    break;
                case CutNodeKind.Offcut when node.Index >= 0 && node.Index < offcuts.Length:
                    offcuts[node.Index]++;
                    if (one.Layout.Offcuts[node.Index].Area != node.Area)
                    {
                        mismatches.Add($"{one.Offcut(node.Index)} does not lie where the tree has it");
                    }

                    break;
                case CutNodeKind.Split:
                    Split(node, fromRight);
                    break;
                default:
                    mismatches.Add($"a leaf of the tree names no piece or offcut (number {node.Index})");
                    break;
            }
        }

        public void MissingLeaves(PlanFacts facts)
        {
            Count(pieces, one.Piece);
            Count(offcuts, one.Offcut);
            foreach (var mismatch in mismatches)
            {
                facts.Add("tree-leaves", one.Name, mismatch);
            }

            void Count(int[] seen, Func<int, string> name)
            {
                for (var index = 0; index < seen.Length; index++)
                {
                    if (seen[index] != 1)
                    {
                        mismatches.Add($"{name(index)} occurs {seen[index]} times in the tree");
                    }
                }
            }
        }

        private void Split(CutNode node, bool fromRight)
        {
            var area = node.Area;
            var rip = node.Direction == CutDirection.Rip;
            if (one.Bar && rip)
            {
                Problems.Add("a bar is not cut lengthwise");
            }

            if (node.Children.Length == 0)
            {
                Problems.Add("a split has no children");
                return;
            }

            var across = rip ? area.SizeX : area.SizeY;
            var end = rip ? area.Y + area.SizeY : area.X + area.SizeX;
            var at = rip ? area.Y : area.X;
            var kerf = one.Saw.Kerf;
            if (fromRight && node.Children[0].Area.X - at is var dust && dust > Length.Zero && dust <= kerf)
            {
                Chips += across * dust;
                at += dust;
            }

            for (var index = 0; index < node.Children.Length; index++)
            {
                var child = node.Children[index].Area;
                var start = rip ? child.Y : child.X;
                var fromEdgeToEdge = rip ? child.X == area.X && child.SizeX == across : child.Y == area.Y && child.SizeY == across;
                if (!fromEdgeToEdge)
                {
                    Problems.Add($"the cut beside {RulesSheet.Show(child)} at {child.X}, {child.Y} does not go from edge to edge");
                }

                if (index > 0)
                {
                    Chips += across * kerf;
                    at += kerf;
                }

                if (start != at)
                {
                    Problems.Add(index == 0
                        ? $"the first child of a split does not start at its corner ({child.X}, {child.Y})"
                        : $"between two children at {child.X}, {child.Y} lies {start - at + kerf}, not one kerf of {kerf}");
                }

                at = start + (rip ? child.SizeY : child.SizeX);
            }

            var rest = end - at;
            if (rest < Length.Zero || rest > (fromRight ? Length.Zero : kerf))
            {
                Problems.Add(fromRight
                    ? $"behind the last piece lie {rest}; the bar is measured from its right end"
                    : $"behind the last child of a split lie {rest}; at most one kerf may be left there");
            }

            Chips += across * rest;
            foreach (var child in node.Children)
            {
                Visit(child);
            }
        }
    }
}
