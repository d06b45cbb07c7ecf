using Nest.Core.Plans;

namespace Nest.Solve.Plates.Free;

/// <summary>Solves plate problems with free layouts.</summary>
/// <remarks>Method: constructive plans with many orders and rules; bound by dual feasible functions; renewal of whole plates,
/// goal-driven search that takes plates out of the best plan and finds places for their pieces elsewhere, restricted master over all
/// plates seen (<see cref="FreeSearch"/>). Several threads search side by side with different seeds, unless a work limit asks for a
/// repeatable answer. Anytime: a valid plan is in hand after the first pass. Guarantee: heuristic; <see cref="SolveStatus.Proven"/>
/// only when the cost meets the bound.</remarks>
public static class FreeSolver
{
    /// <summary>Solves the problem within the limits.</summary>
    /// <param name="improved">Called with each better plan, in order, one call at a time.</param>
    public static PlateSolution Solve(
        PlateProblem problem, SolveLimits limits, Action<PlateSolution>? improved = null, CancellationToken cancel = default)
    {
        if (limits.Threads <= 1 || limits.Work is not null)
        {
            return new FreeSearch(problem, limits, improved, cancel).Run();
        }

        var gate = new Lock();
        var stops = Enumerable.Range(0, limits.Threads).Select(_ => CancellationTokenSource.CreateLinkedTokenSource(cancel)).ToArray();
        var (cost, first) = (long.MaxValue, -1);
        void Better(int from, PlateSolution solution)
        {
            lock (gate)
            {
                // Ties only from the search that found the cost first: the other's may be a worse leftover.
                if (solution.Cost < cost || (solution.Cost == cost && from == first))
                {
                    (cost, first) = (solution.Cost, from);
                    improved?.Invoke(solution);
                }

                if (solution.Status == SolveStatus.Proven)
                {
                    for (var t = 0; t < stops.Length; t++)
                    {
                        if (t != from)
                        {
                            stops[t].Cancel();
                        }
                    }
                }
            }
        }

        try
        {
            var answers = new PlateSolution[limits.Threads];
            Parallel.For(0, limits.Threads, new ParallelOptions { MaxDegreeOfParallelism = limits.Threads }, t =>
                answers[t] = new FreeSearch(
                    problem, limits with { Threads = 1, Seed = unchecked(limits.Seed + (t * 7919)) }, s => Better(t, s), stops[t].Token).Run());
            return Join(answers, first);
        }
        finally
        {
            foreach (var stop in stops)
            {
                stop.Dispose();
            }
        }
    }

    /// <summary>The cheapest plan with the best of all bounds: each is valid for the whole problem.</summary>
    private static PlateSolution Join(PlateSolution[] answers, int first)
    {
        if (answers.FirstOrDefault(a => a.Status == SolveStatus.Impossible) is { } impossible)
        {
            return impossible;
        }

        var plans = answers.Where(a => a.Status is SolveStatus.Proven or SolveStatus.BestFound).ToArray();
        if (plans.Length == 0)
        {
            return answers[0] with { Bound = answers.Max(a => a.Bound) };
        }

        var least = plans.Min(p => p.Cost);
        var best = first >= 0 && answers[first].Cost == least ? answers[first] : plans.First(p => p.Cost == least);
        var bound = answers.Max(a => a.Bound);
        var contradicted = Contradictions.Found(bound, least, Methods.DualFeasibleFunctions);
        return best with { Bound = bound, Status = bound >= least && !contradicted ? SolveStatus.Proven : SolveStatus.BestFound };
    }
}
