namespace Nest.Solve.Bars;
public static class BarSolver { public static BarSolution Solve(BarProblem problem, SolveLimits limits, Action<BarSolution>? improved = null, CancellationToken cancel = default) => throw new NotSupportedException(); }
