using Nest.Solve.Plates.Free;
using Nest.Solve.Plates.ThroughCut;

namespace Nest.Solve.Plates;

/// <summary>The one entry to the plate kernels: sends a problem to the kernel of its way of cutting.</summary>
public static class PlateSolver
{
    /// <summary>Solves the problem within the limits.</summary>
    /// <param name="improved">Called with each better plan, in order, from the calling thread or a worker of the search.</param>
    public static PlateSolution Solve(
        PlateProblem problem, SolveLimits limits, Action<PlateSolution>? improved = null, CancellationToken cancel = default) =>
        problem.Cutting.Free
            ? FreeSolver.Solve(problem, limits, improved, cancel)
            : ThroughCutSolver.Solve(problem, limits, improved, cancel);
}
