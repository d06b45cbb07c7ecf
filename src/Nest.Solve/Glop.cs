using Google.OrTools.LinearSolver;

namespace Nest.Solve;

/// <summary>The library's solver for linear programmes.</summary>
internal static class Glop
{
    /// <exception cref="InvalidOperationException">The library was built without it.</exception>
    public static Solver Create() => Solver.CreateSolver("GLOP") ?? throw new InvalidOperationException("The linear solver GLOP is not available.");
}
