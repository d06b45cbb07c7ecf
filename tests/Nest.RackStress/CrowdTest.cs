using System.Diagnostics;
using System.Globalization;
using Nest.Rack;

namespace Nest.RackStress;

/// <summary>Figures of several processes at once.</summary>
internal sealed record CrowdFigures(int Processes, int Changes, int Refused, int InUse, double Seconds, IReadOnlyList<string> Failures);

/// <summary>Several processes change one rack at the same time.</summary>
internal static class CrowdTest
{
    public static CrowdFigures Run(string path, int processes, int operations, int seed, int wait = 30)
    {
        var watch = Stopwatch.StartNew();
        var workers = Enumerable.Range(1, processes).Select(i => (Seed: seed + i, Process: Processes.Start(path, seed + i, operations, 0, wait))).ToList();
        var outputs = workers.Select(worker => (Out: worker.Process.StandardOutput.ReadToEndAsync(), Error: worker.Process.StandardError.ReadToEndAsync())).ToList();
        var failures = new List<string>();
        var (changes, refused, inUse) = (0, 0, 0);
        foreach (var worker in workers)
        {
            worker.Process.WaitForExit();
        }

        var seconds = watch.Elapsed.TotalSeconds;
        using var store = RackStore.Open(path);
        failures.AddRange(store.Check());
        for (var i = 0; i < workers.Count; i++)
        {
            var lines = outputs[i].Out.Result.Split('\n', StringSplitOptions.RemoveEmptyEntries);
            failures.AddRange(Acknowledged.Missing(store, workers[i].Seed, lines));
            changes += lines.Count(line => line is not ("ready" or "nothing" or "refused" or "inuse"));
            refused += lines.Count(line => line == "refused");
            inUse += lines.Count(line => line == "inuse");
            if (outputs[i].Error.Result.Length > 0 || workers[i].Process.ExitCode is not (0 or 3))
            {
                failures.Add(string.Create(CultureInfo.InvariantCulture, $"worker {workers[i].Seed} ended with {workers[i].Process.ExitCode}: {outputs[i].Error.Result}"));
            }

            workers[i].Process.Dispose();
        }

        return new(processes, changes, refused, inUse, seconds, failures);
    }
}
