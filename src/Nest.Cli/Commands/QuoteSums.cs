using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Plans;

namespace Nest.Cli.Commands;

/// <summary>What a quote is made of, for the shop's own eyes: metal, saw, facing, mill, outside work, margin, and how good the plan is.</summary>
internal static class QuoteSums
{
    /// <param name="outside">For the whole batch.</param>
    public static IEnumerable<string> Of(Plan plan, Quote quote, decimal setUp, decimal outside)
    {
        var job = plan.Job;
        var fuss = FussCosts.Of(job, plan.Layouts);
        var (ordering, sizes) = (fuss.Orders.Amount, fuss.FurtherSizes.Amount);
        var metal = plan.PartCosts.Sum(part => part.Metal.Amount) - ordering;
        var saw = plan.PartCosts.Sum(part => part.Saw.Amount);
        var facing = plan.PartCosts.Sum(part => part.Facing.Amount) - sizes;
        var work = PartsMade.Of(plan);
        var minutes = work.Sum(one => Machining.Minutes(one.Part, one.Made));
        var mill = work.Sum(one => Machining.Cost(job, one.Part, one.Made));
        var cost = metal + saw + facing + mill + setUp + outside + ordering + sizes;
        var more = (ordering > 0m ? string.Create(CultureInfo.InvariantCulture, $", ordering {ordering:0.00}") : "")
            + (sizes > 0m ? string.Create(CultureInfo.InvariantCulture, $", further sizes {sizes:0.00}") : "");
        var gap = plan.Status == SolveStatus.Proven ? "the plan is proven the cheapest" : plan.Gap is { } above
            ? string.Create(CultureInfo.InvariantCulture, $"the plan is at most {decimal.Ceiling(above * 10_000m) / 100m:0.00} % above the cheapest") : "how close the plan is to the cheapest is not known";
        yield return $"{QuoteCommand.Sets(job.Batch)}, for your eyes only ({gap}):";
        yield return string.Create(
            CultureInfo.InvariantCulture,
            $"  metal {metal:0.00}, saw {saw:0.00}, facing {facing:0.00}{more}, mill {mill:0.00} ({minutes:0.#} minutes), set-up {setUp:0.00}, outside work {outside:0.00}: cost {cost:0.00}");
        yield return string.Create(
            CultureInfo.InvariantCulture,
            $"  margin and rounding {quote.Total - cost:0.00}: quote {quote.Total:0.00}{(job.Tax is { } tax ? string.Create(CultureInfo.InvariantCulture, $", {tax.Name} {tax.Percent:0.####} % {tax.On(quote.Total):0.00}, with it {quote.Total + tax.On(quote.Total):0.00}") : "")}");
        if (mill == 0m && minutes > 0m)
        {
            yield return "  note: an hour at the mill costs nothing here: 'hourly_rate' of [mill] in the job file says what it costs";
        }
    }
}
