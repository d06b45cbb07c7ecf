using System.Diagnostics;

namespace Nest.Solve.Choose;

/// <summary>Solves the groups of a component one after the other, each for the pieces that a split gives to it.</summary>
internal sealed class SplitSolver(Component component, SolveLimits limits, Random random, CancellationToken cancel)
{
    /// <summary>Outer guard in seconds of a first plan, which is limited in work, and the least share of that work in a short time.</summary>
    private const double FirstGuard = 30;

    /// <inheritdoc cref="FirstGuard"/>
    private const double FirstShare = 0.02;

    /// <summary>Seconds from which on a first plan gets all of its work.</summary>
    private const double FirstSeconds = 4;

    /// <param name="split">Pieces by group and kind.</param>
    /// <param name="stock">Most of each stock; null: any number.</param>
    /// <param name="into">Receives the layouts.</param>
    /// <param name="isFirst">There is no plan yet.</param>
    /// <param name="left">Seconds that are left.</param>
    /// <returns>Whether each group could be solved.</returns>
    public bool Solve(int[][] split, int?[] stock, List<(Column Column, int Count)> into, double seconds, long work, int threads, bool isFirst, Func<double> left)
    {
        // Bars are soon done: what they leave of their time is for plates.
        var clock = Stopwatch.StartNew();
        int[] busy = [.. Enumerable.Range(0, split.Length).Where(g => split[g].Any(n => n > 0)).OrderBy(g => component.Groups[g].IsBar ? 0 : 1)];
        var first = isFirst && limits.Work is null;
        var complete = true;
        for (var at = 0; at < busy.Length; at++)
        {
            var (g, share) = (busy[at], (seconds - clock.Elapsed.TotalSeconds) / (busy.Length - at));
            var effort = limits with
            {
                // With a limit in work the clock must not decide.
                Seconds = limits.Work is null
                    ? Math.Max(first ? Math.Clamp(limits.Seconds, 0.1, 1.0) : 0.05, Math.Min(share, left()))
                    : Math.Max(0.05, left()),
                Work = work,
                Seed = random.Next(1, int.MaxValue),
                Threads = threads,
            };
            var before = into.Count;
            var solved = Lots.Solve(component, component.Groups[g], split[g], stock, effort, into, cancel);
            if (!solved && first)
            {
                // Where there is no plan yet a busy machine must not leave none: a little work, and no clock.
                into.RemoveRange(before, into.Count - before);
                effort = effort with { Seconds = FirstGuard, Work = (long)(work * Math.Clamp(limits.Seconds / FirstSeconds, FirstShare, 1.0)) };
                solved = Lots.Solve(component, component.Groups[g], split[g], stock, effort, into, cancel);
            }

            complete &= solved;
        }

        return complete;
    }
}
