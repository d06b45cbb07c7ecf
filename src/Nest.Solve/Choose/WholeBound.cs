using System.Globalization;
using Google.OrTools.Sat;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>The bound of a model over whole numbers, safely rounded.</summary>
internal static class WholeBound
{
    /// <summary>The model's bound, rounded down; null when there is none.</summary>
    /// <param name="found">Called with the solver when it has a solution.</param>
    public static Money? Of(
        CpModel model, double deterministicTime, double seconds, CancellationToken cancel, Action<CpSolver>? found = null)
    {
        // Solve; only the bound is read.
        using var solver = new CpSolver();
        solver.StringParameters = string.Create(
            CultureInfo.InvariantCulture,
            $"{CpSat.Always}num_workers:1 random_seed:1 max_deterministic_time:{deterministicTime} max_time_in_seconds:{seconds} linearization_level:2");
        using var registration = cancel.Register(solver.StopSearch);
        var status = solver.Solve(model);
        if (status is CpSolverStatus.Infeasible or CpSolverStatus.ModelInvalid or CpSolverStatus.Unknown)
        {
            return null;
        }

        if (status is CpSolverStatus.Optimal or CpSolverStatus.Feasible)
        {
            found?.Invoke(solver);
        }

        // The objective is whole in the model's scaled units; CP-SAT reports it as a double.
        var bound = Math.Floor(solver.BestObjectiveBound + 1e-6);
        return bound is > -1e15 and < 1e15 ? Money.FromUnits((long)bound) : null;
    }
}
