using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Whether the components of a job have to be solved together (<see cref="JointSolver"/>), whatever settings cost.</summary>
internal static class JobTies
{
    /// <summary>Whether purchase terms, fuss or rules for a part's stocks matter for this job at all.</summary>
    public static bool Any(Job job, ImmutableArray<Component> components)
    {
        if (components.Any(component => Enumerable.Range(0, component.Items).Any(component.Sizes.Matters)))
        {
            return true;
        }

        // What layouts that stay have on order counts too: a piece bought whole beside it may be worth its break or minimum.
        var taken = KeptLayouts.Stocks(job.Kept);
        var bought = components.SelectMany(component => component.Stocks).Select(frame => frame.Stock)
            .Concat(job.Stocks.Where(stock => taken.ContainsKey(stock.Id))).Where(stock => !stock.IsLeftover).ToList();
        var suppliers = bought.Select(Scenario.Key).Distinct(StringComparer.Ordinal).Count();
        return (bought.Count > 0 && (FussCosts.OfLine(job) + FussCosts.OfSupplier(job)) > Money.Zero)
            || bought.Any(stock => !stock.Terms.IsPlain || (job.SupplierOf(stock.Supplier ?? "") is { IsPlain: false }))
            || (job.MostSuppliers is { } most && most < suppliers);
    }
}
