using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Why;

/// <summary>What each part would cost in the next best form.</summary>
/// <remarks>Problem: the price of a choice. Method: the job is planned again with the part allowed in one other form only, for each
/// form that serves it; the cheapest counts. Without purchase terms only the parts that share stock with it are planned again, by the
/// same solver, so that both plans are as good as each other. Guarantee: none, an estimate from re-solving.
/// O(parts · forms) short plans.</remarks>
public static class FormReasons
{
    /// <param name="limits">Seconds: for all together. Work: of each plan.</param>
    public static ImmutableArray<FormReason> Of(Plan plan, ImmutableArray<Blank> blanks, SolveLimits limits, CancellationToken cancel = default)
    {
        var clock = Stopwatch.StartNew();
        var job = plan.Job;
        var components = Components.Of(job, blanks);
        var tied = JointSolver.IsTied(job, components);
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var questions = blanks.Select(blank => (Blank: blank, Used: Used(plan, blank, stocks), Others: Others(plan, blank, stocks))).ToList();
        var left = questions.Sum(question => question.Others.Count);
        var reasons = ImmutableArray.CreateBuilder<FormReason>();
        foreach (var (blank, used, others) in questions.Where(question => question.Used.Count > 0))
        {
            (string Form, Money Cost)? best = null;
            var group = tied
                ? blanks
                : [.. (components.FirstOrDefault(component => component.Blanks.Any(one => one.Part.Id == blank.Part.Id))?.Blanks ?? [])];
            var before = tied ? plan.TotalCost : CostOf(plan, group);
            foreach (var form in others)
            {
                var seconds = Math.Max(0.2, (limits.Seconds - clock.Elapsed.TotalSeconds) / Math.Max(1, left--));
                var forced = group.Select(one => one.Part.Id == blank.Part.Id
                    ? one with { Fits = [.. one.Fits.Where(fit => Kind(stocks[fit.StockId]) == form)] }
                    : one).ToImmutableArray();
                var other = JobSolver.Solve(job, forced, limits with { Seconds = seconds }, null, cancel);
                if (other.Unplaced.IsEmpty && (best is null || other.TotalCost < best.Value.Cost))
                {
                    best = (form, other.TotalCost);
                }
            }

            reasons.Add(new(
                blank.Part.Id, string.Join(", ", used.Select(entry => $"{entry.Value} from {entry.Key}")), best?.Form,
                best is { } found ? found.Cost - before : null));
        }

        return reasons.ToImmutable();
    }

    /// <summary>Cost of the layouts of these blanks at listed prices (for jobs without terms).</summary>
    private static Money CostOf(Plan plan, ImmutableArray<Blank> group)
    {
        var parts = group.Select(blank => blank.Part.Id).ToHashSet(StringComparer.Ordinal);
        return plan.Layouts.Where(layout => layout.Pieces.Any(piece => parts.Contains(piece.PartId)))
            .Aggregate(Money.Zero, (sum, layout) => sum + (layout.Cost.Total * layout.Count));
    }

    private static SortedDictionary<string, int> Used(Plan plan, Blank blank, Dictionary<string, Stock> stocks)
    {
        var used = new SortedDictionary<string, int>(StringComparer.Ordinal);
        foreach (var layout in plan.Layouts)
        {
            var count = layout.Pieces.Count(piece => piece.PartId == blank.Part.Id) * layout.Count;
            if (count > 0)
            {
                var kind = Kind(stocks[layout.StockId]);
                used[kind] = used.GetValueOrDefault(kind) + count;
            }
        }

        return used;
    }

    /// <summary>Forms that serve the part and that the plan does not use for it; leftovers alone are no form that could be chosen.</summary>
    private static List<string> Others(Plan plan, Blank blank, Dictionary<string, Stock> stocks)
    {
        var used = Used(plan, blank, stocks);
        return [.. blank.Fits.Select(fit => stocks[fit.StockId]).Where(stock => !stock.IsLeftover).Select(Kind)
            .Where(kind => !used.ContainsKey(kind)).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
    }

    /// <summary>The form as a buyer sees it: plates by thickness are one form, pieces cut to size another.</summary>
    private static string Kind(Stock stock) => stock switch
    {
        { IsLeftover: true } => "the rack",
        { CutFor: not null } => "pieces cut to size",
        { Form: Form.Plate } => "plate",
        { Form: Form.FlatBar } => "flat bar",
        { Form: Form.SquareBar } => "square bar",
        _ => "round bar",
    };
}
