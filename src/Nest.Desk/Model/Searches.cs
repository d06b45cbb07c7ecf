using System.Collections.Concurrent;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>The searches of all jobs. One runs at a time, as it uses every processor; the others wait in the order of asking.</summary>
internal sealed class Searches : IDisposable
{
    private readonly ConcurrentDictionary<string, Search> _byJob = new(StringComparer.Ordinal);
    /// <summary>Plans of a job that are kept to be compared.</summary>
    private const int MostVariants = 8;

    private readonly ConcurrentDictionary<string, List<(Search Search, Plan Plan)>> _found = new(StringComparer.Ordinal);
    private readonly SemaphoreSlim _turn = new(1);

    /// <summary>The last search of a job; null: none since the desk was started.</summary>
    public Search? Of(string job) => _byJob.GetValueOrDefault(job);

    /// <summary>The searches of a job that found a plan for the whole job, oldest first.</summary>
    public IReadOnlyList<(Search Search, Plan Plan)> Found(string job)
    {
        var found = _found.GetOrAdd(job, _ => []);
        lock (found)
        {
            return [.. found];
        }
    }

    /// <summary>For tests: a plan as if a search had found it.</summary>
    internal void Remember(string job, Plan plan)
    {
        var search = new Search { Seconds = 1 };
        search.End(new(plan, [], false));
        Keep(job, search, plan);
    }

    /// <summary>Shows a plan that was found earlier again.</summary>
    public void Show(string job, Search search)
    {
        Of(job)?.Stop();
        _byJob[job] = search;
    }

    /// <summary>Starts a search for a job; one that still runs for it is ended first.</summary>
    /// <param name="from">A plan that is there, to start from; null: from nothing.</param>
    /// <param name="restOf">Number of the plan on the rack whose rest it is.</param>
    /// <param name="texts">The job's own texts as they were read, by full path.</param>
    /// <param name="afterwards">What more is worked out of the plan.</param>
    public Search Start(
        string job, JobInput given, PlanOptions options, Plan? from = null, long? restOf = null, IReadOnlyDictionary<string, byte[]>? texts = null,
        Func<Plan, CancellationToken, IReadOnlyList<string>>? afterwards = null)
    {
        Of(job)?.Stop();
        var search = new Search
        {
            Seconds = options.Seconds ?? given.Seconds ?? PlanOptions.DefaultSeconds, RestOf = restOf, Texts = texts ?? new Dictionary<string, byte[]>(), Afterwards = afterwards,
        };
        _byJob[job] = search;
        _ = Task.Run(() => RunAsync(job, search, given, options, from));
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

    private void Keep(string job, Search search, Plan plan)
    {
        var found = _found.GetOrAdd(job, _ => []);
        lock (found)
        {
            // The same layouts for the same job found anew tell nothing more, but the newer bound may.
            var mark = Fingerprint.Of(plan);
            found.RemoveAll(one => Fingerprint.Of(one.Plan) == mark);
            found.Add((search, plan));
            found.RemoveRange(0, Math.Max(0, found.Count - MostVariants));
        }
    }

    private async Task RunAsync(string job, Search search, JobInput given, PlanOptions options, Plan? from)
    {
        await _turn.WaitAsync().ConfigureAwait(false);
        try
        {
            search.Begin();
            var result = await Task.Factory.StartNew(
                () => from is null ? Planner.Plan(given, options, search.Add, search.Cancel) : Replanner.Plan(given, from, options, search.Offer, search.Add, search.Cancel),
                CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default).ConfigureAwait(false);
            if (result.Plan is { } plan)
            {
                if (search.RestOf is null)
                {
                    Keep(job, search, plan);
                }

                // The plan is shown at once; what one supplier fewer would cost comes with the sheets, as on the command line.
                search.Offer(result);
                await Task.Factory.StartNew(
                    () => search.Tell(search.Afterwards?.Invoke(plan, search.Cancel) ?? [], OneSupplierFewer.Of(plan, options with { Seconds = search.Seconds }, search.Cancel)),
                    CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default).ConfigureAwait(false);
            }

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
