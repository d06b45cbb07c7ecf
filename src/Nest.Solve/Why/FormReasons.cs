using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Why;

/// <summary>What each part would cost in the next best form.</summary>
/// <remarks>Problem: the price of a choice. Method: the relaxation that bounds the whole job (<see cref="JointBound"/>), with all terms of
/// purchase, is solved as it is and once more for each other form with the part allowed in that form alone; by how much it rises is the
/// answer, the least of a part's forms counts. Where the plan is proven, the job is planned again instead, and counts when that plan is
/// proven too. Two relaxations by one model differ by what the form costs, where two searched plans
/// differ by what their searches missed. Guarantee: exact between proven plans; else an estimate.
/// O(parts · forms) small models.</remarks>
public static class FormReasons
{
    /// <summary>Deterministic seconds of one model; mostly it is solved in less.</summary>
    private const double ModelTime = 0.4;
    private const double LeastSeconds = 0.3;

    /// <param name="limits">Seconds: for all together. Work: shortens each model when it is little.</param>
    public static ImmutableArray<FormReason> Of(Plan plan, ImmutableArray<Blank> blanks, SolveLimits limits, CancellationToken cancel = default)
    {
        var clock = Stopwatch.StartNew();
        limits = limits.OfJob();
        var job = plan.Job;
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var asked = blanks.Select(blank => (Blank: blank, Used: Used(plan, blank, stocks))).Where(question => question.Used.Count > 0).ToList();
        var models = asked.SelectMany((question, at) => Others(plan, question.Blank, stocks).Select(form => (At: at, Form: form))).ToList();
        var left = models.Count;
        var before = Relaxed(blanks);
        var more = new Money?[models.Count];
        Parallel.For(0, models.Count, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, limits.Threads) }, m =>
        {
            var part = asked[models[m].At].Blank.Part.Id;
            ImmutableArray<Blank> forced = [.. blanks.Select(one => one.Part.Id == part
                ? one with { Fits = [.. one.Fits.Where(fit => Kind(stocks[fit.StockId]) == models[m].Form)] }
                : one)];
            more[m] = Planned(forced) ?? (before is { } bound && Relaxed(forced) is { } rise ? Money.Max(Money.Zero, rise - bound) : null);
            Interlocked.Decrement(ref left);
        });
        return [.. asked.Select((question, at) =>
        {
            // Unknown ones last: they only count when no other is known.
            var own = Enumerable.Range(0, models.Count).Where(m => models[m].At == at).OrderBy(m => more[m] ?? Money.FromUnits(long.MaxValue)).ThenBy(m => m).ToList();
            return new FormReason(
                question.Blank.Part.Id, string.Join(", ", question.Used.Select(entry => $"{entry.Value} from {entry.Key}")),
                own.Count == 0 ? null : models[own[0]].Form,
                own.Count > 0 ? more[own[0]] : null);
        })];

        // Exactly, where both plans are proven.
        Money? Planned(ImmutableArray<Blank> forced)
        {
            if (plan.Status != SolveStatus.Proven)
            {
                return null;
            }

            var other = JobSolver.Solve(job, forced, limits with { Seconds = Seconds(), Threads = 1 }, null, cancel);
            return other is { Status: SolveStatus.Proven, Unplaced.IsEmpty: true } ? other.TotalCost - plan.TotalCost : null;
        }

        double Seconds() => limits.Work is null
            ? Math.Max(LeastSeconds, (limits.Seconds - clock.Elapsed.TotalSeconds) * Math.Max(1, limits.Threads) / Math.Max(1, Volatile.Read(ref left)))
            : limits.Seconds;

        // Null: not known in this time.
        Money? Relaxed(ImmutableArray<Blank> some)
        {
            var twins = StockTwins.Of(job, some);
            var lowest = Components.Of(Scenario.AllAtLowest(twins.Merged), twins.MergedBlanks);
            var answer = JointBound.Solve(
                twins.Merged, [.. lowest.Select(component => new JointBound.Share(component, []))], ModelTime * limits.Effort, Seconds(), cancel);
            return answer.Bound.Value;
        }
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
        _ => stock.Form.Word(),
    };
}
