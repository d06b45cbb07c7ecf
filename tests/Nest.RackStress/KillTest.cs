using System.Diagnostics;
using System.Globalization;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;

namespace Nest.RackStress;

/// <summary>Figures of a kill test.</summary>
/// <param name="InTransaction">Kills that left a journal behind: they fell into the writing of a transaction.</param>
/// <param name="Unsaid">Kills after a commit and before the worker could say so.</param>
internal sealed record KillFigures(int Kills, int Changes, int InTransaction, int Unsaid, IReadOnlyList<string> Failures);

/// <summary>Kills workers (SIGKILL) at random moments and looks at the rack after each.</summary>
internal static class KillTest
{
    public static KillFigures Run(string path, int kills, int seed, Action<string>? progress = null)
    {
        var random = new Random(seed);
        var failures = new List<string>();
        var (changes, inTransaction, unsaid) = (0, 0, 0);
        for (var kill = 0; kill < kills && failures.Count < 10; kill++)
        {
            var worker = seed + kill + 1;
            using var process = Processes.Start(path, worker, operations: 1_000_000, dawdle: random.Next(3) == 0 ? 30 : 0, wait: 10);
            var lines = new List<string>();
            var reader = Task.Run(() =>
            {
                while (process.StandardOutput.ReadLine() is { } line)
                {
                    lock (lines)
                    {
                        lines.Add(line);
                    }
                }
            });

            // After so many answers and a moment more; now and then even while it opens the rack. Counting answers and not only
            // milliseconds spreads the kills over its work on a slow machine too.
            var answers = random.Next(20) == 0 ? 0 : 1 + random.Next(20);
            var patience = Stopwatch.StartNew();
            while (!reader.IsCompleted && Said() < answers && patience.Elapsed.TotalSeconds < 30)
            {
                Thread.Sleep(1);
            }

            Thread.Sleep(random.Next(answers == 0 ? 300 : 25));
            process.Kill();
            process.WaitForExit();
            reader.Wait();
            var error = process.StandardError.ReadToEnd();
            if (error.Length > 0)
            {
                failures.Add($"kill {kill}: the worker failed: {error}");
            }

            inTransaction += File.Exists(path + "-journal") && new FileInfo(path + "-journal").Length > 0 ? 1 : 0;
            using var store = RackStore.Open(path);
            failures.AddRange(store.Check().Select(finding => string.Create(CultureInfo.InvariantCulture, $"kill {kill}: {finding}")));
            failures.AddRange(Acknowledged.Missing(store, worker, lines).Select(finding => string.Create(CultureInfo.InvariantCulture, $"kill {kill}: {finding}")));
            var said = lines.Count(line => line is not ("ready" or "nothing" or "refused"));
            var made = store.History(int.MaxValue).Count(change => change.Who == $"worker {worker}" && change.Kind != "materials");
            changes += made;
            unsaid += made > said ? 1 : 0;
            if (kill % 25 == 24)
            {
                progress?.Invoke(string.Create(CultureInfo.InvariantCulture, $"{kill + 1} kills, {changes} changes, {inTransaction} inside a transaction, {failures.Count} failures"));
                Thin(store);
            }

            int Said()
            {
                lock (lines)
                {
                    return lines.Count;
                }
            }
        }

        return new(kills, changes, inTransaction, unsaid, failures);
    }

    /// <summary>Keeps the rack small, so that a thousand runs stay quick.</summary>
    private static void Thin(RackStore store)
    {
        var free = store.List(new() { States = [PieceState.OnRack] }).Skip(100).Select(piece => piece.Mark).ToList();
        if (free.Count > 0)
        {
            store.Scrap(free, "thinned out");
        }
    }
}

/// <summary>Starts this program again as a worker.</summary>
internal static class Processes
{
    public static Process Start(string path, int seed, int operations, int dawdle, int wait) => Start("work", path, seed, operations, dawdle, wait);

    /// <param name="kind">Which worker.</param>
    /// <param name="path">What it works on.</param>
    public static Process Start(string kind, string path, params IEnumerable<int> numbers)
    {
        var start = new ProcessStartInfo("dotnet")
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        foreach (var argument in numbers.Select(number => number.ToString(CultureInfo.InvariantCulture)).Prepend(path).Prepend(kind).Prepend(typeof(Processes).Assembly.Location))
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start) ?? throw new InvalidOperationException("The worker did not start.");
    }
}
