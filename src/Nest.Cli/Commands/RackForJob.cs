using System.Collections.Immutable;
using Nest.Cli.Commands.Rack;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Rack;
using Nest.Rack.Database;
using Nest.Rack.Plans;
using Nest.Rack.Values;

namespace Nest.Cli.Commands;

/// <summary>What a rack gives to a job: its free leftovers as stock, and what a plan still has to make.</summary>
internal static class RackForJob
{
    /// <summary>A job with the rack's leftovers.</summary>
    /// <param name="Paid">With <c>--rest</c>: whole pieces that are paid for, planned with or not.</param>
    internal sealed record Racked(Job Job, ImmutableArray<PaidPiece> Paid);

    /// <summary>The job with the rack's leftovers that could serve it.</summary>
    /// <param name="rest">Number of a plan: only what it has not made yet; what it has reserved counts as free.</param>
    /// <param name="notOrdered">What that plan was to buy and is not entered as delivered was not ordered, so it may be bought anew.</param>
    /// <returns>Null when the rack cannot be read or the plan needs nothing; it is said why.</returns>
    public static Racked? Add(World world, string file, string? rest, bool notOrdered, Job job)
    {
        try
        {
            if (!File.Exists(file))
            {
                return Refuse("there is no such rack — begin one with 'nest rack add' or 'nest rack import'");
            }

            using var store = RackStore.Open(file, new RackOptions { Clock = world.Time });
            long? plan = rest is null ? null : FilterOptions.PlanId(rest);
            if (plan is { } id)
            {
                var old = store.Plan(id);
                if (old.State == PlanState.Replaced)
                {
                    return Refuse($"the rest of {old.Number} is done by {store.Plans().Last(next => next.Continues == id).Number} already — name that one");
                }

                if (!notOrdered && old.Purchases.Any(purchase => purchase.ToCome > 0))
                {
                    return Refuse(
                        $"{old.Number} was to buy {ReceiveCommand.ToCome(old)} that are neither cut nor entered as delivered — enter what came or is on its way with 'nest receive {old.Number}', so that it is not ordered twice; say --not-ordered where it was not ordered");
                }

                var against = store.Against(id, job);
                if (against.All(part => part.Before is null || part.Now == 0))
                {
                    return Refuse($"{old.Number} makes {against.First(part => part.Before is not null).PartId}, and nothing that it makes is part of this job — name the job that {old.Number} was made from");
                }

                ChangeLines.Write(world.Error, old.Number, against, LengthFormat.For(job.Unit, job.InchFraction));
                job = RackStore.RestOf(job, against);
                if (job.Parts.IsEmpty)
                {
                    return Refuse($"{old.Number} has nothing left to make — {(against.Any(part => part.Changed) && old.State is PlanState.Reserved or PlanState.Cutting ? $"'nest cancel {old.Number}' frees what it still holds" : $"see 'nest plans {old.Number}'")}");
                }
            }

            var answer = store.AvailableStock(StockRequest.For(job) with { AlsoReservedFor = plan });
            var own = job.Stocks.Where(stock => stock.IsLeftover).ToList();
            var known = own.Select(stock => stock.Id).ToHashSet(StringComparer.OrdinalIgnoreCase);
            var doubled = answer.Stocks.Where(stock => known.Contains(stock.Id)).Select(stock => stock.RackMark).ToList();
            if (doubled.Count > 0)
            {
                return Refuse($"the job's own list of leftovers has {string.Join(", ", doubled)} too — leave 'rack' out of the job file");
            }

            if (own.Count > 0)
            {
                world.Error.WriteLine($"note: {file}: the job file's own list of leftovers ('rack') is planned with too; a plan that uses them cannot be reserved here — leave 'rack' out of the job file once its pieces are on the rack");
            }

            var left = answer.Fitting > answer.Stocks.Length ? $", {answer.Stocks.Length} of them are planned with (those of the least value)" : "";
            world.Error.WriteLine($"{file}: {answer.Fitting} of {answer.OnRack} pieces could serve this job{left}.");
            ImmutableArray<PaidPiece> paid = plan is { } one ? store.PaidFor(one) : [];
            var marks = paid.Select(piece => piece.Mark).ToHashSet(StringComparer.Ordinal);
            if (answer.Stocks.Count(stock => marks.Contains(stock.RackMark!)) is > 0 and var free)
            {
                world.Error.WriteLine($"{file}: {RackText.Count(free, "piece")} of these {(free == 1 ? "is" : "are")} paid for by {PlanNumber.Format(plan!.Value)}: they count almost nothing here, so they are used before anything is bought.");
            }

            return new(job with { Stocks = [.. answer.Stocks, .. job.Stocks] }, paid);
        }
        catch (RackException fault)
        {
            return Refuse($"{fault.Message}{(fault.Advice.Length == 0 ? "" : " — " + fault.Advice)}", named: true);
        }

        Racked? Refuse(string why, bool named = false)
        {
            world.Error.WriteLine(named ? $"error: {why}" : $"error: {file}: {why}");
            return null;
        }
    }
}
