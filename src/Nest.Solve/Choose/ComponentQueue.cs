using System.Diagnostics;
using System.Runtime.ExceptionServices;

namespace Nest.Solve.Choose;

/// <summary>Solves components side by side within one limit of time.</summary>
/// <remarks>List scheduling: the heaviest first, so that it begins at once and the light ones fill what is left; each gets the share
/// of the remaining time that its weight has of the remaining weights. With a limit in work the shares don't matter.</remarks>
internal static class ComponentQueue
{
    /// <param name="solve">Called with the index and its seconds; from several threads.</param>
    public static void Run(IReadOnlyList<double> weights, double seconds, int threads, Action<int, double> solve)
    {
        if (weights.Count == 0)
        {
            return;
        }

        var clock = Stopwatch.StartNew();
        var gate = new Lock();
        var queue = new Queue<int>(Enumerable.Range(0, weights.Count).OrderByDescending(c => weights[c]).ThenBy(c => c));
        var waiting = weights.Sum();
        var workers = Math.Clamp(threads, 1, weights.Count);
        var running = Enumerable.Range(0, workers).Select(_ => Task.Factory.StartNew(
            Work, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default)).ToArray();
        try
        {
            Task.WaitAll(running, CancellationToken.None);
        }
        catch (AggregateException fault) when (fault.InnerExceptions.Count == 1)
        {
            ExceptionDispatchInfo.Throw(fault.InnerExceptions[0]);
        }

        void Work()
        {
            while (true)
            {
                int c;
                double share;
                lock (gate)
                {
                    if (queue.Count == 0)
                    {
                        return;
                    }

                    c = queue.Dequeue();
                    var left = Math.Max(0.05, seconds - clock.Elapsed.TotalSeconds);
                    share = Math.Min(left, Math.Max(Math.Min(0.2, left), left * workers * weights[c] / waiting));
                    waiting -= weights[c];
                }

                solve(c, share);
            }
        }
    }

    /// <summary>Share of the time: bars alone are quick, what may come from many groups of stock is not.</summary>
    public static double Weight(Component component) =>
        component.Groups is [{ IsBar: true }] ? 1 + component.Items : 4 + (component.Items * (2.0 + component.Groups.Length));
}
