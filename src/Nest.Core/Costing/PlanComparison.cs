using System.Globalization;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>What is compared of plans: its name for people and for programs, its value (null: not known), its decimals.</summary>
public sealed record ComparedRow(string Label, string Name, Func<Plan, decimal?> Of, int Decimals);

/// <summary>Two plans side by side, and what is proven of their difference.</summary>
public static class PlanComparison
{
    /// <summary>With a wider gap on either side an amount that is not proven tells nothing.</summary>
    private const decimal WideGap = 0.25m;

    public static IReadOnlyList<ComparedRow> Rows(string currency) =>
    [
        new($"cost, {currency}", "cost", plan => plan.TotalCost.Amount, 2),
        new("  nothing is cheaper than", "lower_bound", plan => plan.Bound.Value?.Amount, 2),
        new("  gap, %", "gap_percent", plan => plan.Gap * 100m, 2),
        new($"orders with delivery, {currency}", "orders", plan => plan.Orders.Sum(order => order.Total.Amount), 2),
        new("suppliers", "suppliers", plan => plan.Orders.Length, 0),
        new("stock pieces", "stock_pieces", plan => plan.Layouts.Sum(layout => layout.Count), 0),
        new("  from the rack", "rack_pieces", plan => CostSheet.BuyLines(plan).Where(line => line.FromRack).Sum(line => line.Count), 0),
        new("metal taken, kg", "metal_taken_kg", plan => MassBalance.Of(plan).Taken.Kilograms, 2),
        new("yield (blanks of metal), %", "yield_percent", plan => MassBalance.Of(plan) is { } mass && mass.Taken.Kilograms > 0 ? mass.Blanks.Kilograms / mass.Taken.Kilograms * 100m : 0m, 2),
        new("cuts", "cuts", plan => CutSequencer.Order(plan).Cuts, 0),
        new($"leftovers kept, {currency}", "leftovers_kept", Kept, 2),
        new("pieces not cut", "pieces_not_cut", plan => plan.Unplaced.Sum(entry => entry.Count), 0),
    ];

    /// <summary>Whether both cut all their parts: else their costs say nothing about each other.</summary>
    public static bool AreComparable(Plan first, Plan other) => first.Unplaced.IsEmpty && other.Unplaced.IsEmpty;

    /// <summary>The dearer plan's lower bound is above the cheaper plan's cost; equal costs: both are proven.</summary>
    public static bool IsProven(Plan first, Plan other)
    {
        var (cheap, dear) = Ordered(first, other);
        return cheap.TotalCost == dear.TotalCost
            ? cheap.Status == SolveStatus.Proven && dear.Status == SolveStatus.Proven
            : !dear.IsContradicted && dear.Bound.Value is { } bound && cheap.TotalCost < bound;
    }

    /// <summary>The difference in a sentence, and whether it is proven.</summary>
    /// <param name="longer">What to do where too little is known.</param>
    public static string Verdict(string firstName, Plan first, string otherName, Plan other, string longer)
    {
        if (!AreComparable(first, other))
        {
            return $"{otherName}: not all parts are cut in both, so the costs cannot be compared.";
        }

        var difference = other.TotalCost - first.TotalCost;
        var (cheap, dear) = Ordered(first, other);
        if (!IsProven(first, other) && Math.Max(first.Gap ?? 1m, other.Gap ?? 1m) > WideGap)
        {
            return string.Create(
                CultureInfo.InvariantCulture,
                $"{otherName} against {firstName}: the difference is smaller than what is not known yet (gaps of {Up(other.Gap)} and {Up(first.Gap)}): {longer}.");
        }

        var words = difference == Money.Zero ? "costs the same"
            : string.Create(CultureInfo.InvariantCulture, $"costs {Math.Abs(difference.Amount):0.00} {first.Job.Currency} {(difference < Money.Zero ? "less" : "more")}");
        var proven = (IsProven(first, other), difference == Money.Zero) switch
        {
            (true, true) => "both are proven",
            (true, false) => string.Create(
                CultureInfo.InvariantCulture, $"proven: at least {dear.Bound.Value!.Value.Amount - cheap.TotalCost.Amount:0.00} of it remains however well both are planned"),
            _ => "not proven: it lies within the gap of the plans",
        };
        return $"{otherName} against {firstName}: {words} ({proven}).";
    }

    /// <summary>Pieces of each stock, leftovers too, that the other plan takes more.</summary>
    public static IEnumerable<(string Id, int Change)> Changes(Plan first, Plan other)
    {
        var before = CostSheet.BuyLines(first).ToDictionary(line => line.Stock.Id, line => line.Count, StringComparer.Ordinal);
        var after = CostSheet.BuyLines(other).ToDictionary(line => line.Stock.Id, line => line.Count, StringComparer.Ordinal);
        return before.Keys.Union(after.Keys).Order(StringComparer.Ordinal)
            .Select(id => (id, after.GetValueOrDefault(id) - before.GetValueOrDefault(id))).Where(entry => entry.Item2 != 0);
    }

    private static (Plan Cheap, Plan Dear) Ordered(Plan first, Plan other) => other.TotalCost < first.TotalCost ? (other, first) : (first, other);

    private static decimal? Kept(Plan plan) => plan.Layouts.Sum(layout =>
        layout.Offcuts.Where(offcut => offcut.Keep).Sum(offcut => offcut.Value.Amount) * layout.Count);

    /// <summary>In percent, rounded up: never closer than proven.</summary>
    private static string Up(decimal? gap) =>
        gap is { } part ? string.Create(CultureInfo.InvariantCulture, $"{decimal.Ceiling(part * 1000m) / 10m:0.0} %") : "unknown size";
}
