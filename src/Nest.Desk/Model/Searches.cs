using System.Collections.Concurrent;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>The searches of all jobs. One runs at a time, as it uses every processor; the others wait in the order of asking.</summary>
internal sealed class Searches : IDisposable
{
    private readonly ConcurrentDictionary<string, Search> _byJob = new(StringComparer.Ordinal);
    private readonly SemaphoreSlim _turn = new(1);

    /// <summary>The last search of a job; null: none since the desk was started.</summary>
    public Search? Of(string job) => _byJob.GetValueOrDefault(job);

    /// <summary>Starts a search for a job; one that still runs for it is ended first.</summary>
    /// <param name="from">A plan that is there, to start from; null: from nothing.</param>
    /// <param name="restOf">Number of the plan on the rack whose rest it is.</param>
    public Search Start(string job, JobInput given, PlanOptions options, Plan? from = null, long? restOf = null)
    {
        Of(job)?.Stop();
        var search = new Search { Seconds = options.Seconds ?? given.Seconds ?? PlanOptions.DefaultSeconds, RestOf = restOf };
        _byJob[job] = search;
        _ = Task.Run(() => RunAsync(search, given, options, from));
        return search;
    }

    /// <summary>Forgets a job's last search: what is in its folder counts again.</summary>
    public void Forget(string job)
    {
        if (_byJob.TryRemove(job, out var search))
        {
            search.Stop();
        }
    }

    public void StopAll()
    {
        foreach (var search in _byJob.Values)
        {
            search.Stop();
        }
    }

    public void Dispose() => _turn.Dispose();

    private async Task RunAsync(Search search, JobInput given, PlanOptions options, Plan? from)
    {
        await _turn.WaitAsync().ConfigureAwait(false);
        try
        {
            search.Begin();
            var result = await Task.Factory.StartNew(
                () => from is null ? Planner.Plan(given, options, search.Add, search.Cancel) : Replanner.Plan(given, from, options, search.Offer, search.Add, search.Cancel),
                CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default).ConfigureAwait(false);
            search.End(result);
        }
#pragma warning disable CA1031 // A fault of the search must not end the desk: it is shown on the page.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            search.End(new(null, [new(Core.Jobs.Severity.Error, "internal-fault", new("search"), $"internal fault ({fault.GetType().Name}): {fault.Message}", "please report this with the job's files")], true));
        }
        finally
        {
            _turn.Release();
        }
    }
}
