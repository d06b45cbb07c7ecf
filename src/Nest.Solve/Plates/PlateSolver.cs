namespace Nest.Solve.Plates;
public static class PlateSolver { public static PlateSolution Solve(PlateProblem problem, SolveLimits limits, Action<PlateSolution>? improved = null, CancellationToken cancel = default) => throw new NotSupportedException(); }
