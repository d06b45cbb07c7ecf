using System.Collections.Concurrent;
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
    public Search Start(string job, JobInput given, PlanOptions options)
    {
        Of(job)?.Stop();
        var search = new Search { Seconds = options.Seconds ?? given.Seconds ?? PlanOptions.DefaultSeconds };
        _byJob[job] = search;
        _ = Task.Run(() => RunAsync(search, given, options));
        return search;
    }

    public void StopAll()
    {
        foreach (var search in _byJob.Values)
        {
            search.Stop();
        }
    }

    public void Dispose() => _turn.Dispose();

    private async Task RunAsync(Search search, JobInput given, PlanOptions options)
    {
        await _turn.WaitAsync().ConfigureAwait(false);
        try
        {
            search.Begin();
            var result = await Task.Factory.StartNew(
                () => Planner.Plan(given, options, search.Add, search.Cancel),
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
