using System.Globalization;
using Google.OrTools.Sat;

namespace Nest.Solve;

/// <summary>What our calls of the CP-SAT solver have in common.</summary>
internal static class CpSat
{
    /// <summary>Parameters that begin every parameter text. Ctrl-C is ours: the solver would put its own handler of the interrupt in the
    /// place of the runtime's, and with solvers on several threads that handler ends the whole program.</summary>
    public const string Always = "catch_sigint_signal:false ";

    /// <summary>Solves a model for its bound alone, on one thread.</summary>
    /// <param name="deterministicTime">What it may take in the solver's own time.</param>
    /// <param name="seconds">What it may take by the clock.</param>
    /// <param name="found">Called with the solver when it has a solution.</param>
    /// <returns>The bound as the solver says it, a whole number in a double; null: there is none, or the model has no solution. The time that it took.</returns>
    public static (CpSolverStatus Status, double? Bound, double DeterministicTime) Bound(
        CpModel model, double deterministicTime, double seconds, CancellationToken cancel, Action<CpSolver>? found = null)
    {
        var clock = double.IsFinite(seconds) ? string.Create(CultureInfo.InvariantCulture, $" max_time_in_seconds:{seconds}") : "";
        using var solver = new CpSolver
        {
            StringParameters = string.Create(CultureInfo.InvariantCulture, $"{Always}num_workers:1 random_seed:1 linearization_level:2 max_deterministic_time:{deterministicTime}{clock}"),
        };
        using var stop = cancel.Register(solver.StopSearch);
        var status = solver.Solve(model);
        if (status is CpSolverStatus.Optimal or CpSolverStatus.Feasible)
        {
            found?.Invoke(solver);
        }

        double? bound = status is CpSolverStatus.Infeasible or CpSolverStatus.ModelInvalid || !double.IsFinite(solver.BestObjectiveBound) ? null : solver.BestObjectiveBound;
        return (status, bound, solver.Response!.DeterministicTime);
    }
}
