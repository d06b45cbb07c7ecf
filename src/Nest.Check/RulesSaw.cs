using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The limits of the saw.</summary>
internal static class RulesSaw
{
    /// <summary>Most pieces of one stock piece that the saw allows.</summary>
    public static void MostPieces(PlanFacts facts, LayoutFacts one)
    {
        if (one.Saw.MostPieces is { } most && one.Layout.Pieces.Length > most)
        {
            facts.Add("too-many-pieces", one.Name, $"{one.Layout.Pieces.Length} pieces, {one.Saw.Id} allows {most}");
        }
    }

    /// <summary>The first cut has the direction that the saw asks for.</summary>
    public static void FirstCut(PlanFacts facts, LayoutFacts one)
    {
        if (one.Bar || one.Saw.FirstCut is not { } first)
        {
            return;
        }

        // A split whose one child is flush makes no cut.
        var node = one.Layout.Tree!;
        while (node.Kind == CutNodeKind.Split && Cuts(node) == 0)
        {
            node = node.Children[0];
        }

        if (node.Kind == CutNodeKind.Split && node.Direction != first)
        {
            facts.Add("first-cut", one.Name, $"the first cut is a {node.Direction}, {one.Saw.Id} begins with a {first}");
        }
    }

    /// <summary>No more stages of parallel cuts than the saw allows, one trimming cut more where it says so.</summary>
    public static void Stages(PlanFacts facts, LayoutFacts one)
    {
        if (one.Saw.Stages is not { } most)
        {
            return;
        }

        var deepest = 0;
        Visit(one.Layout.Tree!, 0, null);
        if (deepest > most)
        {
            facts.Add("too-many-stages", one.Name, $"{deepest} stages of cuts, {one.Saw.Id} allows {most}"
                + (one.Saw.TrimmingCut ? " and one trimming cut" : ""));
        }

        void Visit(CutNode node, int stage, CutDirection? before)
        {
            if (node.Kind != CutNodeKind.Split)
            {
                return;
            }

            if (Cuts(node) > 0)
            {
                stage += node.Direction == before ? 0 : 1;
                before = node.Direction;
                var trimming = one.Saw.TrimmingCut && stage == most + 1 && SeparatesOnePiece(node);
                deepest = Math.Max(deepest, trimming ? most : stage);
            }

            foreach (var child in node.Children)
            {
                Visit(child, stage, before);
            }
        }
    }

    /// <summary>No cut is longer than the saw can make.</summary>
    public static void LargestCut(PlanFacts facts, LayoutFacts one)
    {
        if (one.Bar || one.Saw.LargestCut is not { } largest)
        {
            return;
        }

        foreach (var node in Splits(one.Layout.Tree!))
        {
            var cut = node.Direction == CutDirection.Rip ? node.Area.SizeX : node.Area.SizeY;
            if (Cuts(node) > 0 && cut > largest)
            {
                facts.Add("cut-too-long", one.Name, $"a cut of {cut} at {node.Area.X}, {node.Area.Y}; {one.Saw.Id} cuts {largest}");
            }
        }
    }

    /// <summary>Every trim and every set of parallel cuts leaves something long enough to be held; on a bar one piece or offcut is.</summary>
    public static void Held(PlanFacts facts, LayoutFacts one)
    {
        var shortest = one.Saw.ShortestHeld;
        if (shortest <= Length.Zero)
        {
            return;
        }

        var (trims, usable) = (one.Layout.Trims, one.Inner);
        if (one.Bar)
        {
            var longest = one.Layout.Pieces.Select(piece => piece.Area.SizeX)
                .Concat(one.Layout.Offcuts.Select(offcut => offcut.Area.SizeX))
                .DefaultIfEmpty()
                .Max();
            if (longest < shortest)
            {
                facts.Add("held-too-short", one.Name, $"nothing on the bar is as long as the {shortest} that {one.Saw.Id} must hold");
            }

            return;
        }

        TrimHeld(trims.Left + trims.Right, usable.SizeX, "left and right");
        TrimHeld(trims.Bottom + trims.Top, usable.SizeY, "bottom and top");
        foreach (var node in Splits(one.Layout.Tree!))
        {
            var longest = node.Children.Max(child => node.Direction == CutDirection.Rip ? child.Area.SizeY : child.Area.SizeX);
            if (Cuts(node) > 0 && longest < shortest)
            {
                facts.Add("held-too-short", one.Name,
                    $"the cuts at {node.Area.X}, {node.Area.Y} leave at most {longest} to hold; {one.Saw.Id} needs {shortest}");
            }
        }

        void TrimHeld(Length trim, Length rest, string edges)
        {
            if (trim > Length.Zero && rest < shortest)
            {
                facts.Add("held-too-short", one.Name, $"trimming {edges} leaves {rest} to hold; {one.Saw.Id} needs {shortest}");
            }
        }
    }

    /// <summary>On a bar every blank is cut to the stop from the clean end; what is left over comes last and takes all errors. Each cut has
    /// something to hold: what remains, or the blank.</summary>
    public static void BarRestLast(PlanFacts facts, LayoutFacts one)
    {
        if (!one.Bar || one.BoughtWhole || one.Saw.Id == Saw.SupplierId)
        {
            return;
        }

        var cuts = new ExpectedCuts(one);
        var pieces = one.Layout.Pieces.Select(piece => piece.Area).OrderBy(area => area.X).ToList();
        var offcuts = one.Layout.Offcuts;
        if (offcuts.Length > 1 || offcuts.Any(offcut => cuts.BarFromRight ? offcut.Area.X > pieces[0].X : offcut.Area.X < pieces[^1].X))
        {
            facts.Add("bar-rest-last", one.Name,
                $"what is left of a bar is one piece at its {(cuts.BarFromRight ? "left" : "right")} end, behind all blanks");
        }

        var metal = one.Layout.Sheet.SizeX - (cuts.BarTrim ? one.Layout.Trims.Left : Length.Zero);
        if (cuts.BarFromRight)
        {
            pieces.Reverse();
        }

        foreach (var area in pieces)
        {
            metal -= area.SizeX + one.Saw.Kerf;
            if (metal < one.Saw.ShortestHeld && area.SizeX < one.Saw.ShortestHeld)
            {
                facts.Add("held-too-short", one.Name,
                    $"cutting off {area.SizeX} leaves {Length.Max(metal, Length.Zero)}: neither is as long as the {one.Saw.ShortestHeld} that {one.Saw.Id} must hold");
                break;
            }
        }
    }

    // One cut between any two children, and one behind the last where it is not flush.
    private static int Cuts(CutNode node)
    {
        var last = node.Children[^1].Area;
        var flush = node.Direction == CutDirection.Rip
            ? last.Y + last.SizeY == node.Area.Y + node.Area.SizeY
            : last.X + last.SizeX == node.Area.X + node.Area.SizeX;
        return node.Children.Length - (flush ? 1 : 0);
    }

    private static bool SeparatesOnePiece(CutNode node) =>
        node.Children.All(child => child.Kind != CutNodeKind.Split)
        && node.Children.Count(child => child.Kind == CutNodeKind.Piece) <= 1;

    private static IEnumerable<CutNode> Splits(CutNode root)
    {
        var open = new Stack<CutNode>([root]);
        while (open.TryPop(out var node))
        {
            if (node.Kind == CutNodeKind.Split)
            {
                yield return node;
                foreach (var child in node.Children)
                {
                    open.Push(child);
                }
            }
        }
    }
}
