using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Orders;

namespace Nest.Planning;

/// <summary>What doing without one of the suppliers costs: for each of them a plan in which the layouts from all others stay, and only what was cut from
/// his stock is planned anew.</summary>
/// <remarks>So the answer is there in a small share of the search; its cost is an upper bound, and the bound of the plan stays valid: less
/// stock makes nothing cheaper. Deterministic with a limit in work. O(suppliers) short searches.</remarks>
public static class OneSupplierFewer
{
    /// <summary>Share of the search's limit that all of these plans together take on top of it.</summary>
    private const int Share = 10;

    /// <summary>In a share of less nothing is found that is worth its line.</summary>
    private const double LeastSeconds = 5;
    private const long LeastWork = 200_000;

    /// <summary>Suppliers that are looked at, those with the fewest goods first: it is they who may be spared.</summary>
    private const int Most = 6;

    /// <param name="options">As the plan was made.</param>
    /// <returns>No entry for a supplier of whom it was not found out: too little time, a layout of his that must stay.</returns>
    public static ImmutableArray<PlannedWithout> Of(Plan plan, PlanOptions options, CancellationToken cancel = default)
    {
        var orders = plan.Orders.Where(order => order.Supplier.Length > 0).OrderBy(order => order.Goods).ThenBy(order => order.Supplier, StringComparer.Ordinal).Take(Most).ToList();
        if (plan.Orders.Length < 2 || !plan.Unplaced.IsEmpty || (options.Work is { } work ? work < LeastWork : (options.Seconds ?? PlanOptions.DefaultSeconds) < LeastSeconds))
        {
            return [];
        }

        // What reading, checking and pricing take beside each search is in the share too.
        var began = TimeProvider.System.GetTimestamp();
        var all = (options.Seconds ?? PlanOptions.DefaultSeconds) / Share;
        return [.. orders.TakeWhile(_ => !cancel.IsCancellationRequested && (options.Work is not null || Spent() < all)).Select((order, n) => Without(plan, order.Supplier, Each(n), cancel)).OfType<PlannedWithout>()];

        double Spent() => TimeProvider.System.GetElapsedTime(began).TotalSeconds;

        PlanOptions Each(int n) => options with
        {
            Seconds = options.Work is null ? (all - Spent()) / (orders.Count - n) : null,
            Work = options.Work / Share / orders.Count,
        };
    }

    private static PlannedWithout? Without(Plan plan, string supplier, PlanOptions options, CancellationToken cancel)
    {
        var his = plan.Job.Stocks.Where(stock => string.Equals(stock.Supplier, supplier, StringComparison.OrdinalIgnoreCase)).Select(stock => stock.Id).ToHashSet(StringComparer.Ordinal);
        var job = plan.Job with { StockRules = [.. plan.Job.StockRules, new StockRule { NotFrom = [supplier] }], Kept = [] };
        var blanks = BlankSizer.Size(job);
        if (blanks.Where(blank => blank.Fits.IsEmpty).Select(blank => blank.Part.Id).ToImmutableArray() is { IsEmpty: false } onlyHis)
        {
            return new(supplier, null, onlyHis);
        }

        var stay = plan.Layouts.Where(layout => !layout.Pieces.IsEmpty && !his.Contains(layout.StockId)).Select(layout => layout.Number).ToList();
        if (plan.Layouts.Any(layout => layout.Kept && his.Contains(layout.StockId)) || KeptLayouts.On(job, plan, stay).Job is not { } kept)
        {
            return null;
        }

        return Planner.Plan(kept, options, null, cancel).Plan is { Unplaced.IsEmpty: true } found && found.Orders.All(order => order.Supplier != supplier) ? new(supplier, found, []) : null;
    }
}
