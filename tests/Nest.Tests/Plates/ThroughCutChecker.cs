using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Tests.Plates;

/// <summary>Replays the through-cuts of a plate solution on its own, sharing no code with the kernel, and lists everything that
/// could not be sawn so.</summary>
internal static class ThroughCutChecker
{
    /// <summary>Faults of the whole answer; empty when it can be sawn and covers the demand at the cost it states.</summary>
    public static List<string> Check(PlateProblem problem, PlateSolution solution)
    {
        var faults = new List<string>();
        var made = new long[problem.Items.Length];
        var used = new long[problem.Stocks.Length];
        Int128 cost = 0;
        foreach (var layout in solution.Layouts)
        {
            if (layout.Count < 1)
            {
                faults.Add("layout cut less than once");
            }

            faults.AddRange(CheckLayout(problem, layout));
            used[layout.Stock] += layout.Count;
            cost += (Int128)problem.Stocks[layout.Stock].Cost * layout.Count;
            foreach (var piece in layout.Pieces)
            {
                made[piece.Item] += layout.Count;
                var extra = problem.PieceCost is null ? 0 : problem.PieceCost[layout.Stock, piece.Item];
                if (extra == PlateProblem.Forbidden)
                {
                    faults.Add($"item {piece.Item} must not come from stock {layout.Stock}");
                }
                else
                {
                    cost += (Int128)extra * layout.Count;
                }
            }
        }

        if (solution.Status is SolveStatus.Proven or SolveStatus.BestFound)
        {
            for (var i = 0; i < made.Length; i++)
            {
                if (made[i] < problem.Items[i].Demand)
                {
                    faults.Add($"item {i}: {made[i]} of {problem.Items[i].Demand}");
                }
            }

            for (var s = 0; s < used.Length; s++)
            {
                if (problem.Stocks[s].Limit is { } limit && used[s] > limit)
                {
                    faults.Add($"stock {s}: {used[s]} of {limit}");
                }
            }

            if (cost != solution.Cost)
            {
                faults.Add($"cost {solution.Cost} is {cost}");
            }

            if (solution.Bound > solution.Cost)
            {
                faults.Add($"bound {solution.Bound} above cost {solution.Cost}");
            }

            if (solution.Status == SolveStatus.Proven && solution.Bound != solution.Cost)
            {
                faults.Add("proven without a bound that meets the cost");
            }
        }

        return faults;
    }

    /// <summary>Faults of one layout.</summary>
    public static List<string> CheckLayout(PlateProblem problem, PlateLayout layout)
    {
        var faults = new List<string>();
        var stock = problem.Stocks[layout.Stock];
        if (layout.Tree is not { } tree)
        {
            return ["no tree"];
        }

        if (tree.Area != new PlateRect(0, 0, stock.SizeX, stock.SizeY))
        {
            faults.Add("the tree is not the whole plate");
        }

        var pieces = new List<PlatePlacement>();
        Saw(problem, stock, tree, 0, null, pieces, faults);
        if (!pieces.OrderBy(p => (p.Item, p.Area.X, p.Area.Y)).SequenceEqual(layout.Pieces.OrderBy(p => (p.Item, p.Area.X, p.Area.Y))))
        {
            faults.Add("the tree's pieces are not the layout's");
        }

        return faults;
    }

    private static void Saw(
        PlateProblem problem, PlateStock stock, PlateNode node, int stage, CutDirection? last, List<PlatePlacement> pieces, List<string> faults)
    {
        var area = node.Area;
        if (area.SizeX <= 0 || area.SizeY <= 0)
        {
            faults.Add($"node without area {area}");
        }

        switch (node.Kind)
        {
            case PlateNodeKind.Piece:
                var item = problem.Items[node.Item];
                var size = node.Turned ? (item.SizeY, item.SizeX) : (item.SizeX, item.SizeY);
                if (size != (area.SizeX, area.SizeY))
                {
                    faults.Add($"piece {node.Item} has the wrong size {area}");
                }

                if (node.Turned && !item.MayTurn)
                {
                    faults.Add($"piece {node.Item} must not be turned");
                }

                foreach (var keep in stock.KeepOuts)
                {
                    if (keep.X < area.X + area.SizeX && area.X < keep.X + keep.SizeX && keep.Y < area.Y + area.SizeY && area.Y < keep.Y + keep.SizeY)
                    {
                        faults.Add($"piece {node.Item} touches a keep-out");
                    }
                }

                pieces.Add(new PlatePlacement(node.Item, area, node.Turned));
                break;
            case PlateNodeKind.Split:
                Split(problem, stock, node, stage, last, pieces, faults);
                break;
        }
    }

    private static void Split(
        PlateProblem problem, PlateStock stock, PlateNode node, int stage, CutDirection? last, List<PlatePlacement> pieces, List<string> faults)
    {
        var cutting = problem.Cutting;
        var across = node.Direction == CutDirection.Crosscut;
        var whole = across ? node.Area.SizeX : node.Area.SizeY;
        var start = across ? node.Area.X : node.Area.Y;
        if (node.Children.Length == 0)
        {
            faults.Add("split without children");
            return;
        }

        // A set of cuts parallel to the last set would be the same stage, but then it should be one split: it counts as another stage.
        stage++;
        if (stage == 1 && cutting.FirstCut is { } first && first != node.Direction)
        {
            faults.Add("first cut in the wrong direction");
        }

        if (cutting.Stages is { } most && stage > most)
        {
            var trims = cutting.TrimmingCut && stage == most + 1
                && node.Children.Count(c => c.Kind == PlateNodeKind.Piece) == 1 && node.Children.All(c => c.Kind != PlateNodeKind.Split);
            if (!trims)
            {
                faults.Add($"stage {stage} of {most}");
            }
        }

        var length = across ? node.Area.SizeY : node.Area.SizeX;
        if (cutting.LargestCut is { } largest && length > largest)
        {
            faults.Add($"cut of {length} is longer than {largest}");
        }

        var at = start;
        long held = 0;
        foreach (var child in node.Children)
        {
            var (from, size, side, otherFrom, otherFromNode, otherNode) = across
                ? (child.Area.X, child.Area.SizeX, child.Area.SizeY, child.Area.Y, node.Area.Y, node.Area.SizeY)
                : (child.Area.Y, child.Area.SizeY, child.Area.SizeX, child.Area.X, node.Area.X, node.Area.SizeX);
            if (from != at || side != otherNode || otherFrom != otherFromNode)
            {
                faults.Add($"child {child.Area} does not lie in its split {node.Area}");
            }

            held = Math.Max(held, size);
            at = from + size + problem.Kerf;
        }

        var behind = start + whole - (at - problem.Kerf);
        if (behind < 0 || behind > problem.Kerf)
        {
            faults.Add($"{behind} left behind the last child");
        }

        if (node.Children.Length == 1 && behind == 0)
        {
            faults.Add("split without a cut");
        }

        if (held < cutting.ShortestHeld)
        {
            faults.Add($"nothing to hold: {held} of {cutting.ShortestHeld}");
        }

        foreach (var child in node.Children)
        {
            Saw(problem, stock, child, stage, node.Direction, pieces, faults);
        }
    }
}
