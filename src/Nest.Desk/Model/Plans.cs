using System.Runtime.CompilerServices;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>The plan that counts for a job: the one just found, else the one in its folder.</summary>
internal sealed class Plans(Shop shop, Searches searches)
{
    private readonly ConditionalWeakTable<Plan, WorkOrder> _work = [];
    private readonly Lock _gate = new();
    private readonly Dictionary<string, (DateTime Written, PlanResult Read)> _saved = new(StringComparer.Ordinal);

    /// <summary>The plan in the job's folder, as it is now; null: there is none.</summary>
    public PlanResult? Saved(JobFolder job)
    {
        if (job.PlanFile is not { } path)
        {
            return null;
        }

        var written = File.GetLastWriteTimeUtc(path);
        lock (_gate)
        {
            if (_saved.TryGetValue(job.Name, out var known) && known.Written == written)
            {
                return known.Read;
            }

            var read = Planner.Load(path);
            _saved[job.Name] = (written, read);
            return read;
        }
    }

    /// <summary>The plan just found, else the one in the folder; null: none yet.</summary>
    public Plan? Current(JobFolder job) => searches.Of(job.Name)?.Now.Plan ?? Saved(job)?.Plan;

    /// <summary>The plan of this mark, found or saved.</summary>
    public Plan? Find(string job, string mark) =>
        new[] { searches.Of(job)?.Now.Plan, shop.Job(job) is { } folder ? Saved(folder)?.Plan : null }.OfType<Plan>().FirstOrDefault(plan => Fingerprint.Of(plan) == mark);

    /// <summary>The order of work, worked out once a plan.</summary>
    public WorkOrder WorkOf(Plan plan) => _work.GetValue(plan, CutSequencer.Order);
}
