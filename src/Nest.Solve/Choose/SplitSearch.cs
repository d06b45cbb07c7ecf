namespace Nest.Solve.Choose;

/// <summary>Plans of a component by splits: which of its groups each piece comes from; then each group's kernel.</summary>
/// <param name="found">Receives plans and layouts.</param>
/// <param name="left">Seconds that are left.</param>
/// <param name="done">Whether to stop.</param>
internal sealed class SplitSearch(
    Component component, ComponentFindings found, SolveLimits limits, Random random, Func<double> left, Func<bool> done, CancellationToken cancel)
{
    private const long NeighbourhoodWork = 100_000;
    private const long AgainWork = 3_000_000;

    private readonly FormSplits _splits = new(component);
    private readonly Neighbourhoods _neighbourhoods = new(component, new(component), random);
    private readonly SplitSolver _groups = new(component, limits, random, cancel);

    /// <summary>Plans by rule, each blank on its cheapest group first. Where a whole plan is given there is nothing to do.</summary>
    /// <param name="stock">Most of each stock; null: any number.</param>
    public void Start(Func<int?[]> stock, long work)
    {
        if (found.Best is { MissingCount: 0 })
        {
            return;
        }

        var tried = new HashSet<string>(StringComparer.Ordinal);
        foreach (var preferred in _splits.Preferences())
        {
            // However short the time, one plan is made.
            if (found.Best is { MissingCount: 0 } ? done() : cancel.IsCancellationRequested)
            {
                return;
            }

            var split = _splits.By([.. component.Demand], preferred);
            if (tried.Add(string.Join(';', split.Select(row => string.Join(',', row)))))
            {
                Solve(split, stock(), [], Math.Max(0.2, 0.2 * limits.Seconds / component.Groups.Length), limits.WorkOf(work));
            }
        }
    }

    /// <summary>Where there are several groups, solves each once more, for just what the best plan takes from it.</summary>
    public void Again(double seconds, int?[] stock, int threads)
    {
        if (component.Groups.Length > 1 && !done() && found.Best is { MissingCount: 0 } best)
        {
            Solve(_splits.Of(best), stock, [], seconds, limits.Work ?? AgainWork, threads);
        }
    }

    /// <summary>More pieces of one group than plates at their true cost take: a lot of them, so often.</summary>
    public void InLots(double seconds, int?[] stock, int threads)
    {
        var columns = new List<(Column, int)>();
        if (Lots.Solve(component, component.Groups[0], [.. component.Demand], stock, limits with { Seconds = seconds, Threads = threads, Seed = random.Next(1, int.MaxValue) }, columns, cancel, anneal: true))
        {
            found.Offer(columns);
        }
    }

    /// <summary>Where there are several groups: large-neighbourhood search until the limit, the proof, or a long time without a better plan: some layouts are emptied, and their pieces split anew.</summary>
    /// <param name="reserve">Seconds that are left for others.</param>
    /// <param name="values">Of the blanks; null: not known.</param>
    /// <param name="choose">The choosing model over all layouts found, now and then.</param>
    public void Improve(double reserve, Func<int?[]> stock, long[]? values, Action choose)
    {
        if (component.Groups.Length == 1)
        {
            return;
        }

        var idle = 0;
        var patience = 60 + (4 * component.Items);
        // With a limit in work the number of rounds is part of it: the clock must not decide.
        var rounds = limits.Work is { } work ? Math.Max(limits.WorkOf(4), work / NeighbourhoodWork) : long.MaxValue;
        for (var round = 1; !done() && left() > reserve && idle < patience && round <= rounds && found.Best is { } before; round++)
        {
            if (_neighbourhoods.Of(before, stock(), values) is { } some)
            {
                Solve(_splits.By(some.Freed, some.Preferred), some.Limits, some.Kept, Math.Min(0.5, 0.08 * limits.Seconds), limits.WorkOf(NeighbourhoodWork));
            }

            if (round % 40 == 0 && !done())
            {
                choose();
            }

            idle = ReferenceEquals(before, found.Best) ? idle + 1 : 0;
        }
    }

    /// <summary>Solves each group for its share; with what is kept of a plan it becomes a whole plan.</summary>
    private void Solve(int[][] split, int?[] stock, IEnumerable<(Column, int)> kept, double seconds, long work, int threads = 1)
    {
        var all = new List<(Column Column, int Count)>(kept);
        if (_groups.Solve(split, stock, all, seconds, work, threads, found.Best is null, left))
        {
            found.Offer(all);
        }
        else
        {
            // Half a plan is none, but its layouts may serve another.
            found.AddAll(all.Select(entry => entry.Column));
        }
    }
}
