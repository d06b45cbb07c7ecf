using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;

namespace Nest.Planning.Design;

/// <summary>How a job's parts are compared with the stock.</summary>
/// <param name="Most">Changes that are planned.</param>
/// <param name="Share">Of a dimension, most that it may change where the list does not say.</param>
/// <param name="Seconds">For all plans together.</param>
/// <param name="Work">Limit of work of each plan instead; null: by time.</param>
public sealed record DesignOptions(int Most, decimal Share, double Seconds, long? Work);

/// <summary>What the job costs as it is, and with each change.</summary>
/// <param name="Plan">The job as it is.</param>
/// <param name="Hints">Changes that save something, best first.</param>
/// <param name="Together">The best change of each part at once; null: there are not two parts with one.</param>
/// <param name="Rooms">Dimensions that may grow.</param>
/// <param name="Tried">Changes that were planned.</param>
/// <param name="Found">Changes that reach a threshold and promise something.</param>
public sealed record DesignResult(
    Plan Plan, ImmutableArray<DesignHint> Hints, DesignHint? Together, ImmutableArray<DesignRoom> Rooms, int Tried, int Found);

/// <summary>Compares the parts of a job with its stock: which small changes to a part save what.</summary>
/// <remarks>The job is planned as it is, with a quarter of the time; then with each change by itself, the most promising first
/// (<see cref="Thresholds"/>), and with the best change of each part at once. What a change saves is always the difference of two plans; it is proven
/// where the bound of the first is above the cost of the second.</remarks>
public static class DesignStudy
{
    /// <param name="planned">Plans a job; its last argument says which one it is. Null ends the study.</param>
    /// <returns>Null where the job could not be planned.</returns>
    public static DesignResult? Of(JobInput input, DesignOptions options, Func<Job, PlanOptions, string, Plan?> planned, CancellationToken cancel)
    {
        var job = input.Job;
        var first = new PlanOptions { Seconds = Math.Max(1, options.Seconds / 4), Work = options.Work, Seed = input.Seed };
        if (planned(job, first, "as it is") is not { } plan)
        {
            return null;
        }

        var format = LengthFormat.For(job.Unit, 0); // a threshold is seldom a fraction
        var all = job.Parts.Where(part => job.DemandOf(part) > 0)
            .SelectMany(part => new Thresholds(job, plan, part, format).All(input.DesignLimits.GetValueOrDefault(part.Id), options.Share))
            .OrderByDescending(change => change.Promise).ToList();
        var chosen = all.Take(options.Most).ToList();
        var each = first with { Seconds = Math.Max(1, options.Seconds * 3 / 4 / Math.Max(1, chosen.Count + 1)) };
        var hints = new List<DesignHint>();
        var tried = 0;
        foreach (var change in chosen)
        {
            if (cancel.IsCancellationRequested || planned(With(job, [change]), each, $"{change.PartId}: {change.What}") is not { } changed)
            {
                break;
            }

            tried++;
            if (Hint(plan, change, changed) is { } hint)
            {
                hints.Add(hint);
            }
        }

        hints = [.. hints.OrderByDescending(hint => hint.Saves)];
        var best = hints.DistinctBy(hint => hint.Change.PartId).ToList();
        DesignHint? together = null;
        if (best.Count > 1 && !cancel.IsCancellationRequested && planned(With(job, [.. best.Select(hint => hint.Change)]), each, "the best of each part at once") is { } joined)
        {
            together = Hint(plan, best[0].Change, joined);
        }

        var rooms = job.Parts.SelectMany(part => new Room(job, plan, part, format).Of(input.DesignLimits.GetValueOrDefault(part.Id), options.Share));
        return new(plan, [.. hints], together, [.. rooms], tried, all.Count);
    }

    /// <summary>The job with changed parts; pieces that a supplier cuts to size for them are cut anew.</summary>
    public static Job With(Job job, IReadOnlyList<DesignChange> changes)
    {
        foreach (var change in changes)
        {
            job = job with { Parts = [.. job.Parts.Select(part => part.Id == change.PartId ? change.Changed : part)] };
            job = job with
            {
                Stocks = [.. job.Stocks.Select(stock => stock.CutFor == change.PartId ? CutToSize.Again(job, change.Changed, stock) : stock).OfType<Stock>()],
            };
        }

        return job;
    }

    private static DesignHint? Hint(Plan plan, DesignChange change, Plan changed)
    {
        var saves = (plan.TotalCost - changed.TotalCost).Amount;
        if (!changed.Unplaced.IsEmpty || (saves < 0.01m && plan.Unplaced.IsEmpty))
        {
            return null;
        }

        var sure = plan is { IsContradicted: false, Bound.Value: { } bound } ? (bound - changed.TotalCost).Amount : 0m;
        return new(change, changed, saves, sure > 0m && plan.Unplaced.IsEmpty ? sure : null);
    }
}
