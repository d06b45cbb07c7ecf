using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Bars;

/// <summary>Cuts bars: a plan at once, better plans as they are found, and a bound that proves the last one where it can.</summary>
/// <remarks>
/// Problem: <see cref="BarProblem"/> (one-dimensional cutting stock with several stocks, limits, kerf, holding rule, leftover values).
/// Method: greedy start, column generation with exact pricing and an integer-safe bound (<see cref="BarMaster"/>), diving
/// (<see cref="BarDive"/>), restricted master (<see cref="BarRestricted"/>), then branching and complete listing of the layouts that can
/// still matter (<see cref="BarExact"/>). Guarantee: the bound is valid for the whole problem and computed in integers; Proven only when
/// the plan's exact cost equals it. Impossible only when a bound on the number of pieces left uncut is above zero.
/// </remarks>
public static class BarSolver
{
    /// <summary>Solves a problem within limits.</summary>
    /// <param name="problem">What is to be cut from what.</param>
    /// <param name="limits">Time, work, seed.</param>
    /// <param name="improved">Called with every better plan.</param>
    /// <param name="cancel">Stops the search; the best plan so far is returned.</param>
    public static BarSolution Solve(
        BarProblem problem, SolveLimits limits, Action<BarSolution>? improved = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(limits);
        var model = new BarModel(problem);
        var run = new BarRun(model, new WorkMeter(limits, cancel), improved);
        return run.Solve();
    }
}
