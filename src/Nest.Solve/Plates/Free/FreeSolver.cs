using Nest.Core.Plans;
using Nest.Solve.Plates.Bounds;

namespace Nest.Solve.Plates.Free;

/// <summary>Solves plate problems with free layouts.</summary>
/// <remarks>Method: constructive plans with many orders and rules; bound by dual feasible functions; goal-driven search that takes
/// plates out of the best plan and finds places for their pieces elsewhere. Anytime: a valid plan is in hand after the first pass.
/// Guarantee: heuristic; <see cref="SolveStatus.Proven"/> only when the cost meets the bound.</remarks>
public static class FreeSolver
{
    /// <param name="improved">Called with each better plan, in order, from the calling thread.</param>
    public static PlateSolution Solve(
        PlateProblem problem, SolveLimits limits, Action<PlateSolution>? improved = null, CancellationToken cancel = default) =>
        new FreeSearch(problem, limits, improved, cancel).Run();
}
