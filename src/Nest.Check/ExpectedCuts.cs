using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Where fence or stop stands, as the checker counts settings.</summary>
internal readonly record struct Stop(CutDirection Direction, long Nanometres, Angle Angle);

/// <summary>The cuts of one layout by the written rules, worked out a second time: how long they are and how often something is set.</summary>
internal sealed class ExpectedCuts
{
    private readonly LayoutFacts one;
    private readonly bool right;
    private readonly bool top;

    public ExpectedCuts(LayoutFacts one)
    {
        this.one = one;
        var (sheet, trims) = (one.Layout.Sheet, one.Layout.Trims);
        var reach = one.Saw.LargestCut ?? Length.MaxValue;
        right = !one.Bar && trims.Right > Length.Zero
            && (sheet.SizeX > reach || one.Layout.Pieces.Any(piece => piece.Area.X + piece.Area.SizeX == sheet.SizeX - trims.Right));
        top = !one.Bar && trims.Top > Length.Zero
            && (sheet.SizeY > reach || one.Layout.Pieces.Any(piece => piece.Area.Y + piece.Area.SizeY == sheet.SizeY - trims.Top));
    }

    /// <summary>Whether a bar's left end is cut off: only where neither end is clean.</summary>
    public bool BarTrim => one.Bar && one.Layout.Trims.Left > Length.Zero && !one.Stock.CleanEdges.Right;

    /// <summary>Whether a bar is cut from its right end, the only clean one.</summary>
    public bool BarFromRight => one.Bar && one.Layout.Trims.Left > Length.Zero && one.Stock.CleanEdges.Right;

    /// <summary>Lengths of all cuts of a plate: the raw edges that are cut off, then the tree.</summary>
    public List<Length> PlateCuts()
    {
        var (sheet, trims) = (one.Layout.Sheet, one.Layout.Trims);
        var cuts = new List<Length>();
        var inner = sheet.SizeX;
        foreach (var (made, trim) in new[] { (trims.Left > Length.Zero, trims.Left), (right, trims.Right) })
        {
            if (made)
            {
                cuts.Add(sheet.SizeY);
                inner -= trim;
            }
        }

        cuts.AddRange(Enumerable.Repeat(inner, (trims.Bottom > Length.Zero ? 1 : 0) + (top ? 1 : 0)));
        if (one.Layout.Tree is { } tree)
        {
            Rows(tree, 0, (_, node, measures) => cuts.AddRange(Enumerable.Repeat(Across(node), measures.Count)));
        }

        return cuts;
    }

    /// <summary>Number of settings, the first position of the stop and the last.</summary>
    public (int Count, Stop? First, Stop? Last) Settings(LengthUnit unit)
    {
        if (one.Cutter || one.BoughtWhole || one.Saw.Id == Saw.SupplierId || one.Layout.Tree is null)
        {
            return (0, null, null);
        }

        var (count, stops) = one.Bar ? BarStops() : (0, PlateStops());
        stops.AddRange(one.Layout.Pieces.Where(piece => piece.Ends is not null)
            .SelectMany(piece => EndStops(piece, unit)).Distinct()
            .OrderBy(stop => stop.Angle).ThenByDescending(stop => stop.Nanometres));
        for (var at = 0; at < stops.Count; at++)
        {
            count += at > 0 && stops[at] == stops[at - 1] ? 0 : 1;
        }

        return (count, stops.Count == 0 ? null : stops[0], stops.Count == 0 ? null : stops[^1]);
    }

    private IEnumerable<Stop> EndStops(PlacedPiece piece, LengthUnit unit)
    {
        var left = piece.Area.SizeX;
        Angle[] ends = piece.Ends!.End.Size < piece.Ends.Start.Size ? [piece.Ends.End, piece.Ends.Start] : [piece.Ends.Start, piece.Ends.End];
        foreach (var angle in ends.Where(angle => angle != Angle.Square))
        {
            left -= AngledCuts.Taken(angle, one.Saw.Kerf, unit);
            yield return new(CutDirection.Crosscut, left.Nanometres, angle.Size);
        }
    }

    /// <summary>Each blank from the clean end to the stop; at a mark where what remains is too short for the vise.</summary>
    private (int Marks, List<Stop> Stops) BarStops()
    {
        var marks = BarTrim ? 1 : 0;
        var metal = one.Layout.Sheet.SizeX - (BarTrim ? one.Layout.Trims.Left : Length.Zero);
        var stops = new List<Stop>();
        var sizes = one.Layout.Pieces.OrderBy(piece => piece.Area.X).Select(piece => piece.Area.SizeX);
        foreach (var size in BarFromRight ? sizes.Reverse() : sizes)
        {
            metal = Length.Max(Length.Zero, metal - size - one.Saw.Kerf);
            if (metal < one.Saw.ShortestHeld)
            {
                marks++;
            }
            else
            {
                stops.Add(new(CutDirection.Crosscut, size.Nanometres, Angle.Square));
            }
        }

        return (marks, stops);
    }

    private List<Stop> PlateStops()
    {
        var (sheet, trims) = (one.Layout.Sheet, one.Layout.Trims);
        var stops = new List<Stop>();
        Trim(trims.Left > Length.Zero, CutDirection.Crosscut, sheet.SizeX - trims.Left);
        Trim(right, CutDirection.Crosscut, sheet.SizeX - trims.Left - trims.Right);
        Trim(trims.Bottom > Length.Zero, CutDirection.Rip, sheet.SizeY - trims.Bottom);
        Trim(top, CutDirection.Rip, sheet.SizeY - trims.Bottom - trims.Top);
        var levels = new SortedDictionary<int, List<List<Stop>>>();
        Rows(one.Layout.Tree!, 0, (depth, node, measures) =>
        {
            levels.TryAdd(depth, []);
            levels[depth].Add([.. measures.Select(measure => new Stop(node.Direction, measure.Nanometres, Angle.Square))]);
        });
        var now = default(Stop?);
        foreach (var rows in levels.Values)
        {
            var at = new int[rows.Count];
            while (true)
            {
                var next = Enumerable.Range(0, rows.Count).Where(row => at[row] < rows[row].Count).Select(row => rows[row][at[row]]).ToList();
                if (next.Count == 0)
                {
                    break;
                }

                now = now is { } same && next.Contains(same) ? same : next.OrderBy(stop => stop.Nanometres).ThenBy(stop => stop.Direction).First();
                stops.Add(now.Value);
                for (var row = 0; row < rows.Count; row++)
                {
                    while (at[row] < rows[row].Count && rows[row][at[row]] == now)
                    {
                        at[row]++;
                    }
                }
            }
        }

        return stops;

        void Trim(bool made, CutDirection direction, Length measure)
        {
            if (made)
            {
                stops.Add(new(direction, measure.Nanometres, Angle.Square));
            }
        }
    }

    /// <summary>Every set of parallel cuts with what its cuts are measured to, in order.</summary>
    private void Rows(CutNode node, int depth, Action<int, CutNode, List<Length>> row)
    {
        while (node.Kind == CutNodeKind.Split && node.Children.Length == 1 && node.Children[0].Area == node.Area)
        {
            node = node.Children[0];
        }

        if (node.Kind != CutNodeKind.Split || node.Children.Length == 0)
        {
            return;
        }

        row(depth, node, Measures(node));
        foreach (var child in node.Children)
        {
            Rows(child, depth + 1, row);
        }
    }

    private List<Length> Measures(CutNode node)
    {
        var along = node.Direction == CutDirection.Rip;
        var children = node.Children;
        var (last, end) = (children.Length - 1, End(node));
        var sizes = children.Select(child => End(child) - Start(child)).ToList();
        var stays = sizes.FindLastIndex(size => size >= one.Saw.ShortestHeld);
        stays = stays < 0 ? last : stays;
        var tail = end != End(children[last]);
        var measures = new List<Length>();
        for (var at = 0; at < stays; at++)
        {
            // Waste is not measured, but where only less waste lies behind it.
            var behind = End(children[last]) - Start(children[at + 1]);
            var free = IsWaste(children[at]) && (children.Skip(at + 1).Any(child => !IsWaste(child)) || behind >= sizes[at]);
            measures.Add(free ? (tail ? end : End(children[last])) - Start(children[at + 1]) : sizes[at]);
        }

        if (tail)
        {
            measures.Add(End(children[last]) - Start(children[stays]));
        }

        for (var at = last; at > stays; at--)
        {
            measures.Add(IsWaste(children[at]) ? End(children[at - 1]) - Start(children[stays]) : sizes[at]);
        }

        return measures;

        Length Start(CutNode child) => along ? child.Area.Y : child.Area.X;

        // A raw edge that is not cut off stays on what lies beside it.
        Length End(CutNode child)
        {
            var (sheet, trims) = (one.Layout.Sheet, one.Layout.Trims);
            var (edge, whole, cutOff) = along ? (sheet.SizeY - trims.Top, sheet.SizeY, top) : (sheet.SizeX - trims.Right, sheet.SizeX, right);
            var reach = along ? child.Area.Y + child.Area.SizeY : child.Area.X + child.Area.SizeX;
            return reach == edge && !cutOff ? whole : reach;
        }
    }

    private static bool IsWaste(CutNode node)
    {
        while (node.Kind == CutNodeKind.Split && node.Children.Length == 1 && node.Children[0].Area == node.Area)
        {
            node = node.Children[0];
        }

        return node.Kind == CutNodeKind.Offcut;
    }

    private Length Across(CutNode node)
    {
        var (sheet, trims) = (one.Layout.Sheet, one.Layout.Trims);
        return node.Direction == CutDirection.Rip
            ? node.Area.SizeX + (!right && node.Area.X + node.Area.SizeX == sheet.SizeX - trims.Right ? trims.Right : Length.Zero)
            : node.Area.SizeY + (!top && node.Area.Y + node.Area.SizeY == sheet.SizeY - trims.Top ? trims.Top : Length.Zero);
    }
}
