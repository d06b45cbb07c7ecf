using System.Collections.Immutable;
using Nest.Cli.Commands.Rack;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Rack;
using Nest.Rack.Database;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands;

/// <summary>What a rack gives to a job (<see cref="RackedJob"/>), told on the screen.</summary>
internal static class RackForJob
{
    /// <summary>The job with the rack's leftovers that could serve it.</summary>
    /// <param name="rest">Number of a plan: only what it has not made yet.</param>
    /// <returns>Null when the rack cannot be read or the plan needs nothing; it is said why.</returns>
    public static (Job Job, ImmutableArray<PaidPiece> Paid)? Add(World world, string file, string? rest, bool notOrdered, Job job)
    {
        try
        {
            if (!File.Exists(file))
            {
                return Refuse("there is no such rack — begin one with 'nest rack add' or 'nest rack import'");
            }

            using var store = RackStore.Open(file, new RackOptions { Clock = world.Time });
            long? plan = rest is null ? null : FilterOptions.PlanId(rest);
            var (racked, refusal, against) = RackedJob.Of(store, job, plan, notOrdered);
            if (plan is { } id)
            {
                ChangeLines.Write(world.Error, PlanNumber.Format(id), against, LengthFormat.For(job.Unit, job.InchFraction));
            }

            if (racked is null)
            {
                return Refuse(refusal);
            }

            if (racked.OwnToo)
            {
                world.Error.WriteLine($"note: {file}: the job file's own list of leftovers ('rack') is planned with too; a plan that uses them cannot be reserved here — leave 'rack' out of the job file once its pieces are on the rack");
            }

            var left = racked.Fitting > racked.Planned ? $", {racked.Planned} of them are planned with (those of the least value)" : "";
            world.Error.WriteLine($"{file}: {racked.Fitting} of {racked.OnRack} pieces could serve this job{left}.");
            if (racked.PaidPlanned is > 0 and var free)
            {
                world.Error.WriteLine($"{file}: {RackText.Count(free, "piece")} of these {(free == 1 ? "is" : "are")} paid for by {PlanNumber.Format(plan!.Value)}: they count almost nothing here, so they are used before anything is bought.");
            }

            return (racked.Job, racked.Paid);
        }
        catch (RackException fault)
        {
            return Refuse($"{fault.Message}{(fault.Advice.Length == 0 ? "" : " — " + fault.Advice)}", named: true);
        }

        (Job, ImmutableArray<PaidPiece>)? Refuse(string why, bool named = false)
        {
            world.Error.WriteLine(named ? $"error: {why}" : $"error: {file}: {why}");
            return null;
        }
    }
}
