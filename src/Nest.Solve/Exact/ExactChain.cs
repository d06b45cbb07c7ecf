using System.Collections.Immutable;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>The exact method for one component at fixed prices: decides whether it fits, runs it, and gives its bound in money units.</summary>
internal static class ExactChain
{
    /// <summary>Cells of the largest table: a plate of 3 000 × 1 500 on a grid of one millimetre.</summary>
    private const double MostCells = 4_600_000;

    /// <summary>Table steps in a second on one core, for what fits into a limit.</summary>
    private const double StepsPerSecond = 1.5e9;

    /// <summary>A component whose tables take so little that nothing need be tried before.</summary>
    private const double QuickSteps = 4e8;

    /// <summary>Share of the limit of work that the method may have.</summary>
    private const double WorkShare = 0.4;

    public static bool IsQuick(Component component) => Steps(component) is { } steps && steps < QuickSteps && Loads(component) < 1e6;

    /// <param name="best">The best plan so far.</param>
    /// <param name="take">Takes a plan.</param>
    /// <returns>No plan costs less, in money units; null: the method does not fit, or has found no bound.</returns>
    public static long? Of(
        Component component, SolveLimits limits, double seconds, Func<Chosen?> best, Action<ImmutableArray<(Column Column, int Count)>> take,
        CancellationToken cancel)
    {
        if (Steps(component) is not { } steps || seconds < 0.01 || cancel.IsCancellationRequested)
        {
            return null;
        }

        // Some thirty pricings are the least that is worth beginning for.
        double? work = limits.Work is { } units ? WorkShare * units : null;
        if (30 * steps > (work is { } counted ? counted * 1500 : seconds * StepsPerSecond * limits.Threads))
        {
            return null;
        }

        var job = new ExactJob(component.Job, [component], tied: false, MostCells);
        var meter = new ExactMeter(seconds, work, cancel);
        var search = new ExactSearch(job, meter, limits.Threads, component.Enough * (double)Grain.PerUnit, (plan, _) =>
        {
            take(ExactPlan.ColumnsOf(job, 0, plan));
            return Upper();
        }) { Upper = Upper() };
        search.Run();
        if (Environment.GetEnvironmentVariable("NEST_TRACE_EXACT") is not null)
        {
            foreach (var line in search.Log)
            {
                Console.Error.WriteLine(line);
            }
        }

        return double.IsFinite(search.Bound) ? Grain.UnitsDown(search.Bound) : null;

        double Upper() => best() is { MissingCount: 0 } plan ? plan.Cost * (double)Grain.PerUnit : double.PositiveInfinity;
    }

    /// <summary>Table steps of one pricing of all stock; null where no plate has a table.</summary>
    private static double? Steps(Component component)
    {
        double steps = 0;
        var any = false;
        foreach (var frame in component.Stocks)
        {
            if (frame.IsBar || frame.Stock.CutFor is not null || frame.Stock.Available == 0)
            {
                continue;
            }

            any |= !frame.IsFree;
            if (frame.IsFree)
            {
                return null;
            }

            var (x, y) = ((double)component.Units(frame.Usable.SizeX), (double)component.Units(frame.Usable.SizeY));
            steps += x * y * (x + y) / 4;
        }

        return any ? steps : null;
    }

    private static double Loads(Component component) => component.Blanks.Aggregate(1.0, (product, blank) => product * (blank.Demand + 1));
}
