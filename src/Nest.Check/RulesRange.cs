using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Numbers so large or so negative that no arithmetic on them can be trusted.</summary>
internal static class RulesRange
{
    // A kilometre, and a billion of the currency: far above any stock, far below what overflows.
    internal const long LargestLength = 1_000_000_000_000;
    private const long LargestMoney = 10_000_000_000_000;
    private const int LargestCount = 1_000_000;
    private const int LargestStackedTree = 2_000;

    public static bool JobInRange(PlanFacts facts)
    {
        var plan = facts.Plan;
        var before = facts.Findings.Length;
        foreach (var part in plan.Job.Parts)
        {
            var demand = ((long)part.Quantity * plan.Job.Batch) + part.Extra;
            if (!All(part.Length, part.Width, part.Thickness) || demand is < 0 or > LargestCount
                || (part.Gang is { } gang && (gang.Rows is < 1 or > 1000 || gang.Columns is < 1 or > 1000 || gang.Blanks is < 1 or > (int)LargestCount)) || (part.PerBlank is { } several && (several.Gap < Length.Zero || several.Gap.Nanometres > LargestLength)))
            {
                facts.Add("out-of-range", $"part {part.Id}", "size or number of pieces is out of range");
            }
        }

        foreach (var stock in plan.Job.Stocks)
        {
            if (!All(stock.Length, stock.Width, stock.Thickness, stock.MinLength, stock.MinWidth, stock.MinThickness)
                || !Fine(stock.PiecePrice)
                || !Fine(stock.Terms.LineMinimum)
                || !stock.Terms.Breaks.All(step => step.From >= 1 && Fine(step.PiecePrice))
                || !stock.KeepOuts.All(IsDamage)
                || stock.Available is < 0 or > LargestCount)
            {
                facts.Add("out-of-range", $"stock {stock.Id}", "size or price is out of range");
            }
        }

        foreach (var saw in plan.Job.Saws)
        {
            if (!Fine(saw.Trims) || !Fine(saw.Kerf) || !Fine(saw.ShortestHeld))
            {
                facts.Add("out-of-range", $"saw {saw.Id}", "kerf, trims or shortest held piece are out of range");
            }
        }

        foreach (var supplier in plan.Job.Suppliers)
        {
            if (!Fine(supplier.MinimumOrder) || !Fine(supplier.Delivery))
            {
                facts.Add("out-of-range", $"supplier {supplier.Name}", "an amount is out of range");
            }
        }

        foreach (var cost in plan.PartCosts)
        {
            if (!Fine(cost.Metal) || !Fine(cost.Saw) || !Fine(cost.Facing))
            {
                facts.Add("out-of-range", $"cost of part {cost.PartId}", "an amount is out of range");
            }
        }

        if (!Fine(plan.TotalCost) || !Fine(plan.SpareCost) || !Fine(plan.Bound.Value ?? Money.Zero))
        {
            facts.Add("out-of-range", "plan", "total cost or lower bound is out of range");
        }

        return facts.Findings.Length == before;
    }

    public static bool LayoutInRange(PlanFacts facts, Layout layout)
    {
        var cost = layout.Cost;
        var fine = layout.Count is >= 1 and <= LargestCount
            && Fine(layout.Sheet)
            && Fine(layout.Trims)
            && layout.Pieces.All(piece => Fine(piece.Area))
            && layout.Offcuts.All(offcut => Fine(offcut.Area) && Fine(offcut.Value))
            && (layout.Tree is null || Fine(layout.Tree, 0))
            && Fine(cost.Metal) && Fine(cost.Saw) && Fine(cost.Facing) && Fine(cost.OffcutCredit) && Fine(cost.ScrapCredit);
        if (!fine)
        {
            facts.Add("out-of-range", $"layout {layout.Number}", "a count, coordinate, size or amount is out of range");
        }

        return fine;
    }

    private static bool All(params ReadOnlySpan<Length> lengths)
    {
        foreach (var length in lengths)
        {
            if (length <= Length.Zero || !Fine(length))
            {
                return false;
            }
        }

        return true;
    }

    private static bool Fine(CutNode node, int depth) =>
        depth < LargestStackedTree && Fine(node.Area) && !node.Children.IsDefault && node.Children.All(child => Fine(child, depth + 1));

    private static bool Fine(Rect rect) =>
        Fine(rect.X) && Fine(rect.Y) && Fine(rect.SizeX) && Fine(rect.SizeY)
        && rect.SizeX > Length.Zero && rect.SizeY > Length.Zero;

    // Damage may reach beyond the edge.
    private static bool IsDamage(Rect rect) => rect.SizeX > Length.Zero && rect.SizeY > Length.Zero && Fine(rect.SizeX) && Fine(rect.SizeY)
        && Math.Abs(rect.X.Nanometres) <= LargestLength && Math.Abs(rect.Y.Nanometres) <= LargestLength;

    private static bool Fine(EdgeTrims trims) => Fine(trims.Left) && Fine(trims.Right) && Fine(trims.Bottom) && Fine(trims.Top);

    private static bool Fine(Length length) => length.Nanometres is >= 0 and <= LargestLength;

    private static bool Fine(Money money) => money.Units is >= -LargestMoney and <= LargestMoney;
}
