using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Spares;

/// <summary>A row of spares in one piece of scrap of a plate, by through-cuts.</summary>
/// <remarks>The row lies along the scrap's lower or left edge: a cut beside it frees its strip, cuts across divide that. More rows follow as the fill goes on with
/// what is left. The saw's limits are looked at in the new cuts alone, as the others stay; the stages in the whole tree.</remarks>
internal static class SparesOnPlate
{
    /// <param name="most">No more spares than these.</param>
    /// <returns>The layout with a row of spares, for each scrap, way to lie and direction; costs are still those of the layout given.</returns>
    public static IEnumerable<Layout> Ways(Job job, StockFrame frame, Layout layout, Part part, BlankFit fit, int most)
    {
        if (layout.Tree is not { } tree || tree.Kind != CutNodeKind.Split)
        {
            yield break;
        }

        var trimmed = TrimmedEdges.Of(frame.Saw, frame.Stock, layout);
        most = Math.Min(most, (frame.Saw.MostPieces ?? int.MaxValue) - layout.Pieces.Length);
        for (var at = 0; at < layout.Offcuts.Length; at++)
        {
            if (layout.Offcuts[at].Keep)
            {
                continue;
            }

            foreach (var turned in fit.MayTurn && fit.SizeX != fit.SizeY ? new[] { false, true } : [false])
            {
                var (x, y) = turned ? (fit.SizeY, fit.SizeX) : (fit.SizeX, fit.SizeY);
                foreach (var along in new[] { CutDirection.Crosscut, CutDirection.Rip })
                {
                    if (Row(frame, layout.Offcuts[at].Area, x, y, along, most) is not { } row)
                    {
                        continue;
                    }

                    var to = Put(job, frame, layout, tree, at, row, new(part.Id, default, turned) { Spare = true });
                    if (IsCuttable(frame, to, trimmed))
                    {
                        yield return to;
                    }
                }
            }
        }
    }

    /// <summary>The scrap divided: a strip of spares, and what is left beside and behind them. Pieces and offcuts have no numbers yet.</summary>
    private static CutNode? Row(StockFrame frame, Rect scrap, Length x, Length y, CutDirection along, int most)
    {
        if (x > scrap.SizeX || y > scrap.SizeY || most < 1)
        {
            return null;
        }

        var kerf = frame.Saw.Kerf;
        var crosscut = along == CutDirection.Crosscut;
        var strip = crosscut ? scrap with { SizeY = y } : scrap with { SizeX = x };
        var pieces = new List<CutNode>();
        for (var place = new Rect(scrap.X, scrap.Y, x, y); pieces.Count < most && scrap.Contains(place) && !frame.Stock.KeepOuts.Any(place.Overlaps);
            place = crosscut ? place with { X = place.Right + kerf } : place with { Y = place.Top + kerf })
        {
            pieces.Add(new() { Kind = CutNodeKind.Piece, Area = place });
        }

        if (pieces.Count == 0)
        {
            return null;
        }

        var row = Split(strip, along, pieces, kerf);
        return Split(scrap, crosscut ? CutDirection.Rip : CutDirection.Crosscut, [row], kerf);
    }

    /// <summary>These children, and what is left behind them; the child itself where it is all.</summary>
    private static CutNode Split(Rect area, CutDirection direction, List<CutNode> children, Length kerf)
    {
        var last = children[^1].Area;
        var rest = direction == CutDirection.Rip
            ? area with { Y = last.Top + kerf, SizeY = area.Top - last.Top - kerf }
            : area with { X = last.Right + kerf, SizeX = area.Right - last.Right - kerf };
        if (rest.SizeX > Length.Zero && rest.SizeY > Length.Zero)
        {
            children = [.. children, new() { Kind = CutNodeKind.Offcut, Area = rest }];
        }

        return children is [var only] && only.Area == area ? only : new() { Kind = CutNodeKind.Split, Area = area, Direction = direction, Children = [.. children] };
    }

    private static Layout Put(Job job, StockFrame frame, Layout layout, CutNode tree, int scrap, CutNode row, PlacedPiece spare)
    {
        var pieces = layout.Pieces.ToBuilder();
        var offcuts = ImmutableArray.CreateBuilder<Offcut>();
        var root = Visit(tree, false);
        return layout with { Pieces = pieces.ToImmutable(), Offcuts = offcuts.ToImmutable(), Tree = root };

        CutNode Visit(CutNode node, bool isNew)
        {
            switch (node.Kind)
            {
                case CutNodeKind.Offcut when !isNew && node.Index == scrap:
                    return Visit(row, true);
                case CutNodeKind.Offcut:
                    offcuts.Add(isNew ? CostModel.Judge(job, frame.Stock, node.Area, layout.Sheet) : layout.Offcuts[node.Index]);
                    return node with { Index = offcuts.Count - 1 };
                case CutNodeKind.Piece when isNew:
                    pieces.Add(spare with { Area = node.Area });
                    return node with { Index = pieces.Count - 1 };
                case CutNodeKind.Piece:
                    return node;
                default:
                    return node with { Children = [.. node.Children.Select(child => Visit(child, isNew))] };
            }
        }
    }

    /// <summary>Whether the saw makes the new cuts: long enough to hold, not too long to cut, in no more stages than it may.</summary>
    private static bool IsCuttable(StockFrame frame, Layout layout, TrimmedEdges trimmed)
    {
        var saw = frame.Saw;

        // A raw edge that a spare needs cut off makes other cuts shorter and adds one of its own: with a limit of length it is left alone.
        return (saw.LargestCut is null || TrimmedEdges.Of(saw, frame.Stock, layout) == trimmed) && Visit(layout.Tree!, 0, null);

        bool Visit(CutNode node, int stage, CutDirection? before)
        {
            if (node.Kind != CutNodeKind.Split)
            {
                return true;
            }

            var rip = node.Direction == CutDirection.Rip;
            var last = node.Children[^1].Area;
            if (node.Children.Length > 1 || (rip ? last.Top != node.Area.Top : last.Right != node.Area.Right))
            {
                stage += node.Direction == before ? 0 : 1;
                before = node.Direction;
                var trimming = saw.TrimmingCut && stage == saw.Stages + 1 && node.Children.All(child => child.Kind != CutNodeKind.Split)
                    && node.Children.Count(child => child.Kind == CutNodeKind.Piece) <= 1;
                if ((stage > saw.Stages && !trimming) || (rip ? node.Area.SizeX : node.Area.SizeY) > (saw.LargestCut ?? Length.MaxValue)
                    || node.Children.Max(child => rip ? child.Area.SizeY : child.Area.SizeX) < saw.ShortestHeld)
                {
                    return false;
                }
            }

            return node.Children.All(child => Visit(child, stage, before));
        }
    }
}
