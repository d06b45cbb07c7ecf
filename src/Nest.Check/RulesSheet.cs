using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The sheet and its trims are those of stock and saw.</summary>
internal static class RulesSheet
{
    /// <summary>The first saw that takes the stock cuts it.</summary>
    public static void RightSaw(PlanFacts facts, LayoutFacts one)
    {
        if (one.Stock.CutFor is not null || one.Saw.Id == Saw.SupplierId)
        {
            if (one.Stock.CutFor is null || one.Saw.Id != Saw.SupplierId)
            {
                facts.Add("wrong-saw", one.Name, one.Stock.CutFor is null
                    ? $"{one.Stock.Id} does not come cut to size: it must be sawn"
                    : $"{one.Stock.Id} comes cut to size: {one.Saw.Id} has nothing to saw");
            }

            return;
        }

        foreach (var saw in facts.Job.Saws)
        {
            if (Takes(saw, one.Stock))
            {
                if (!string.Equals(saw.Id, one.Saw.Id, StringComparison.Ordinal))
                {
                    facts.Add("wrong-saw", one.Name, $"{one.Stock.Id} is cut by {saw.Id}, not by {one.Saw.Id}");
                }

                return;
            }
        }

        facts.Add("wrong-saw", one.Name, $"no saw of the job takes {one.Stock.Id}");
    }

    /// <summary>The sheet is the stock's smallest usable size, from the origin.</summary>
    public static void Size(PlanFacts facts, LayoutFacts one)
    {
        var right = new Rect(Length.Zero, Length.Zero, one.Stock.MinLength, one.Stock.MinWidth);
        if (one.Layout.Sheet != right)
        {
            facts.Add("sheet-size", one.Name,
                $"the sheet is {Show(one.Layout.Sheet)}, the smallest usable size of {one.Stock.Id} is {Show(right)}");
        }
    }

    /// <summary>Trims are the saw's on edges that are not clean; a cutter's border is kept on all edges.</summary>
    public static void Trims(PlanFacts facts, LayoutFacts one)
    {
        var saw = one.BoughtWhole ? default : one.Saw.Trims;
        var clean = one.Cutter ? default : one.Stock.CleanEdges;
        var trims = one.Layout.Trims;
        Edge("left", trims.Left, saw.Left, clean.Left);
        Edge("right", trims.Right, saw.Right, clean.Right);
        Edge("bottom", trims.Bottom, saw.Bottom, clean.Bottom || one.Bar);
        Edge("top", trims.Top, saw.Top, clean.Top || one.Bar);
        if (trims.Left + trims.Right >= one.Layout.Sheet.SizeX || trims.Bottom + trims.Top >= one.Layout.Sheet.SizeY)
        {
            facts.Add("trim-wrong", one.Name, "the trims leave nothing of the sheet");
        }

        void Edge(string name, Length is_, Length ofSaw, bool needsNone)
        {
            var right = needsNone ? Length.Zero : ofSaw;
            if (is_ != right)
            {
                facts.Add("trim-wrong", one.Name, $"the {name} trim is {is_}, it must be {right}");
            }
        }
    }

    /// <summary>A plate saw can make the trimming cuts.</summary>
    public static void TrimsWithinReach(PlanFacts facts, LayoutFacts one)
    {
        if (one.Saw.Kind != SawKind.PlateSaw || one.Saw.LargestCut is not { } largest)
        {
            return;
        }

        var trims = one.Layout.Trims;
        var inner = one.Layout.Sheet.SizeX - trims.Left - trims.Right;
        if ((trims.Left > Length.Zero || trims.Right > Length.Zero) && one.Layout.Sheet.SizeY > largest)
        {
            facts.Add("cut-too-long", one.Name, $"trimming the ends takes a cut of {one.Layout.Sheet.SizeY}, {one.Saw.Id} cuts {largest}");
        }

        if ((trims.Bottom > Length.Zero || trims.Top > Length.Zero) && inner > largest)
        {
            facts.Add("cut-too-long", one.Name, $"trimming the long edges takes a cut of {inner}, {one.Saw.Id} cuts {largest}");
        }
    }

    public static string Show(Rect rect) => $"{rect.SizeX} × {rect.SizeY}";

    private static bool Takes(Saw saw, Stock stock)
    {
        var bar = stock.Form != Form.Plate;
        if ((saw.Kind == SawKind.BarSaw) != bar || stock.Thickness > (saw.LargestThickness ?? stock.Thickness))
        {
            return false;
        }

        if (saw.LongestStock is { } longest && (stock.Length > longest || stock.Width > longest))
        {
            return false;
        }

        return !bar || stock.Width <= (saw.LargestCut ?? stock.Width);
    }
}
