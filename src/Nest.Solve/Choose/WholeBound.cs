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
        var (status, value, _) = CpSat.Bound(model, deterministicTime, seconds, cancel, found);
        if (value is not { } raw || status == CpSolverStatus.Unknown)
        {
            return null;
        }

        // The objective is whole in the model's scaled units; CP-SAT reports it as a double.
        var bound = Math.Floor(raw + 1e-6);
        return bound is > -1e15 and < 1e15 ? Money.FromUnits((long)bound) : null;
    }
}
