using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Rack.Values;

namespace Nest.Rack.Plans;

/// <summary>A job with what a rack gives to it: its free leftovers as stock, and of a plan that was begun only what it still has to make. Command line and desk plan
/// with the same.</summary>
/// <param name="Paid">For the rest of a plan: whole pieces that are paid for, planned with or not.</param>
/// <param name="Fitting">Pieces that could serve the job.</param>
/// <param name="OnRack">All pieces of the rack.</param>
/// <param name="Planned">Those that are planned with.</param>
/// <param name="PaidPlanned">Those of them that are paid for.</param>
/// <param name="OwnToo">Whether the job has leftovers of its own beside them.</param>
public sealed record RackedJob(Job Job, ImmutableArray<PaidPiece> Paid, int Fitting, int OnRack, int Planned, int PaidPlanned, bool OwnToo)
{
    // Kinds of stock that a line names.
    private const int Named = 5;

    /// <param name="rest">Number of a plan: only what it has not made yet; what it has reserved counts as free.</param>
    /// <param name="notOrdered">What that plan was to buy and is not entered as delivered was not ordered, so it may be bought anew.</param>
    /// <returns>The job, or why not; and for the rest of a plan what the job needs of what the plan was to make.</returns>
    /// <exception cref="RackException">The rack cannot be read, or has no such plan.</exception>
    public static (RackedJob? Racked, string Refusal, ImmutableArray<PartAgainst> Against) Of(RackStore store, Job job, long? rest = null, bool notOrdered = false)
    {
        ImmutableArray<PartAgainst> against = [];
        if (rest is { } id)
        {
            var old = store.Plan(id);
            if (old.State == PlanState.Replaced)
            {
                return (null, $"the rest of {old.Number} is done by {store.Plans().Last(next => next.Continues == id).Number} already — name that one", []);
            }

            if (!notOrdered && old.Purchases.Any(purchase => purchase.ToCome > 0))
            {
                return (null, $"{old.Number} was to buy {ToCome(old)} that are neither cut nor entered as delivered — enter what came or is on its way with 'nest receive {old.Number}', so that it is not ordered twice; say --not-ordered where it was not ordered", []);
            }

            against = store.Against(id, job);
            if (against.All(part => part.Before is null || part.Now == 0))
            {
                return (null, $"{old.Number} makes {against.First(part => part.Before is not null).PartId}, and nothing that it makes is part of this job — name the job that {old.Number} was made from", []);
            }

            job = RackStore.RestOf(job, against);
            if (job.Parts.IsEmpty)
            {
                return (null, $"{old.Number} has nothing left to make — {(against.Any(part => part.Changed) && old.State is PlanState.Reserved or PlanState.Cutting ? $"'nest cancel {old.Number}' frees what it still holds" : $"see 'nest plans {old.Number}'")}", against);
            }
        }

        var answer = store.AvailableStock(StockRequest.For(job) with { AlsoReservedFor = rest });
        var own = job.Stocks.Where(stock => stock.IsLeftover).Select(stock => stock.Id).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var doubled = answer.Stocks.Where(stock => own.Contains(stock.Id)).Select(stock => stock.RackMark).ToList();
        if (doubled.Count > 0)
        {
            return (null, $"the job's own list of leftovers has {string.Join(", ", doubled)} too — leave 'rack' out of the job file", against);
        }

        ImmutableArray<PaidPiece> paid = rest is { } one ? store.PaidFor(one) : [];
        var marks = paid.Select(piece => piece.Mark).ToHashSet(StringComparer.Ordinal);
        return (new(
            job with { Stocks = [.. answer.Stocks, .. job.Stocks] }, paid, answer.Fitting, answer.OnRack, answer.Stocks.Length,
            answer.Stocks.Count(stock => marks.Contains(stock.RackMark!)), own.Count > 0), "", against);
    }

    /// <summary><c>17 pieces (1 × H-plate-6082-8, …)</c>: what a plan bought and is still to come.</summary>
    public static string ToCome(PlanRecord plan)
    {
        var open = plan.Purchases.Where(purchase => purchase.ToCome > 0).ToList();
        var named = open.Take(open.Count > Named ? Named - 1 : Named).Select(purchase => $"{purchase.ToCome} × {purchase.StockId}");
        var more = open.Count > Named ? string.Create(CultureInfo.InvariantCulture, $" and {open.Count - Named + 1} more kinds of stock; 'nest plans {plan.Number}' lists them") : "";
        var pieces = open.Sum(purchase => purchase.ToCome);
        return $"{pieces.ToString(CultureInfo.InvariantCulture)} {(pieces == 1 ? "piece" : "pieces")} ({string.Join(", ", named)}{more})";
    }
}
