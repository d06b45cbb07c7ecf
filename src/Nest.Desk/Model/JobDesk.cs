using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Data;
using Nest.Planning;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Desk.Model;

/// <summary>Reads jobs as they are planned here: with the free leftovers of the shop's rack, where it has one, as <c>nest plan JOB --rack rack.db</c> does.</summary>
internal sealed class JobDesk(Shop shop, TimeProvider time)
{
    /// <param name="rest">Number of a plan on the rack: only what it has not made yet, as <c>--rest</c>.</param>
    /// <param name="notOrdered">What that plan was to buy and did not come was not ordered.</param>
    /// <returns>The job; no value when any finding is an error.</returns>
    public (JobInput? Given, ImmutableArray<Finding> Findings) Read(JobFolder folder, long? rest = null, bool notOrdered = false)
    {
        var read = Planner.Read(folder.File);
        if (read.Value is not { } given)
        {
            return (null, read.Findings);
        }

        return WithRack(given, read.Findings, rest, notOrdered);
    }

    /// <summary>Several jobs as one, each for so many sets, as <c>nest plan A B --sets</c> does.</summary>
    public (JobInput? Given, ImmutableArray<Finding> Findings) Read(IReadOnlyList<(JobFolder Folder, int Sets)> jobs)
    {
        var reads = jobs.Select(job => (job.Folder.Name, job.Sets, Read: Planner.Read(job.Folder.File))).ToList();
        ImmutableArray<Finding> findings = [.. reads.SelectMany(one => one.Read.Findings)];
        if (reads.Exists(one => one.Read.Value is null))
        {
            return (null, findings);
        }

        var joined = TogetherStudy.Join([.. reads.Select(one => (one.Name, one.Read.Value! with { Job = one.Read.Value!.Job.ForBatch(one.Sets) }))]);
        findings = [.. findings, .. joined.Findings];
        return joined.Value is { } given ? WithRack(given, findings, null, false) : (null, findings);
    }

    private (JobInput? Given, ImmutableArray<Finding> Findings) WithRack(JobInput given, ImmutableArray<Finding> findings, long? rest, bool notOrdered)
    {
        var job = given.Job;
        if (File.Exists(shop.RackFile))
        {
            try
            {
                using var rack = RackStore.Open(shop.RackFile, new() { Clock = time });
                var (racked, refusal, _) = RackedJob.Of(rack, job, rest, notOrdered);
                if (racked is null)
                {
                    return (null, [.. findings, Refused(refusal)]);
                }

                job = racked.Job;
            }
            catch (RackException fault)
            {
                return (null, [.. findings, Refused(RackRoom.Words(fault))]);
            }
        }

        job = LeftoversFirst.Apply(job, DateOnly.FromDateTime(time.GetLocalNow().Date));
        return (given with { Job = job }, [.. findings, .. LeftoversFirst.Notes(job)]);

        Finding Refused(string why) => new(Severity.Error, "rack", new(Path.GetFileName(shop.RackFile)), why);
    }
}
