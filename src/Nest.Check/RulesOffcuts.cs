using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Offcuts are kept and valued by the job's rule, and no metal is lost or made.</summary>
internal static class RulesOffcuts
{
    /// <summary>The mark to keep and the value of each offcut.</summary>
    public static void Judged(PlanFacts facts, LayoutFacts one)
    {
        for (var index = 0; index < one.Layout.Offcuts.Length; index++)
        {
            var offcut = one.Layout.Offcuts[index];
            var right = Right(facts, one, offcut.Area);
            if (offcut.Keep != right.Keep)
            {
                facts.Add("offcut-keep", one.Offcut(index),
                    $"{RulesSheet.Show(offcut.Area)} is {(offcut.Keep ? "kept" : "scrapped")}, by the rule it is {(right.Keep ? "kept" : "scrap")}");
                continue;
            }

            if (offcut.Value != right.Value)
            {
                facts.Add("offcut-value", one.Offcut(index), $"is valued at {offcut.Value.Amount}, by the rule {right.Value.Amount}");
            }
        }
    }

    /// <summary>An offcut of this area with mark and value by the rule.</summary>
    public static Offcut Right(PlanFacts facts, LayoutFacts one, Rect area)
    {
        var keep = RuleFor(facts.Job, one.Stock) is { } rule && LargeEnough(rule, one, area);
        return new(area, keep, keep ? Worth.Share(Worth.Keep(facts.Job, one.Stock, one.Material), area.Area, one) : Money.Zero);
    }

    /// <summary>Pieces + kerf + trims + offcuts = sheet; on a cutter pieces and offcuts are no more than what the border leaves.</summary>
    /// <param name="kerf">Chips of a valid tree; null: there is none.</param>
    public static void Areas(PlanFacts facts, LayoutFacts one, Area? kerf)
    {
        var layout = one.Layout;
        var solid = Area.Zero;
        foreach (var piece in layout.Pieces)
        {
            solid += piece.Area.Area;
        }

        foreach (var offcut in layout.Offcuts)
        {
            solid += offcut.Area.Area;
        }

        var trims = layout.Trims;
        var inner = (layout.Sheet.SizeX - trims.Left - trims.Right) * (layout.Sheet.SizeY - trims.Bottom - trims.Top);
        if (one.Cutter ? solid > inner : kerf is { } chips && solid + chips != inner)
        {
            facts.Add("areas", one.Name, "pieces, kerf and offcuts do not add up to the sheet within its trims");
        }
    }

    public static OffcutRule? RuleFor(Job job, Stock stock)
    {
        foreach (var rule in job.OffcutRules)
        {
            if ((rule.Form ?? stock.Form) == stock.Form
                && (rule.MaterialId ?? stock.MaterialId).Equals(stock.MaterialId, StringComparison.OrdinalIgnoreCase))
            {
                return rule;
            }
        }

        return null;
    }

    private static bool LargeEnough(OffcutRule rule, LayoutFacts one, Rect area)
    {
        var (x, y) = (area.SizeX, area.SizeY);
        return one.Bar
            ? x >= rule.KeepLength
            : (x >= rule.KeepLength && y >= rule.KeepWidth && x >= y) || (y >= rule.KeepLength && x >= rule.KeepWidth && y >= x);
    }
}
