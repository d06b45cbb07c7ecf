using System.Globalization;
using Google.OrTools.LinearSolver;

namespace Nest.Solve.Exact;

/// <summary>A small mixed integer programme in currency units.</summary>
/// <remarks>
/// SCIP through OR-Tools' linear solver: of the two mixed integer solvers there it is the one whose bound can be used. The wrapper of HiGHS
/// hands out the best solution's cost as the bound when it stops early, leaves a relative gap of 1e-4 and takes no limit of nodes.
/// The bound is a floating-point one: <see cref="Answer.Bound"/> is lowered by a millionth and two thousandths of a cent.
/// No cutting planes at the root: on the counts of the metric example they took more than half of the time, and saved few nodes (8.6 to 2.0 s on four
/// programmes of 6082-T6, 34 to 15 s on four of the whole job, 28 November 2026). Nor probing, which took a fifth of the time there.
/// One thread, fixed seed: with a limit of nodes and no clock the answer is repeatable.
/// </remarks>
internal sealed class MixedProgram : IDisposable
{
    /// <summary>What SCIP says for infinite: the bound of a programme that was broken off before its relaxation was solved.</summary>
    private const double Infinite = 1e20;

    public MixedProgram() => Solver = Solver.CreateSolver("SCIP") ?? throw new InvalidOperationException("The integer solver SCIP is not available.");

    public Solver Solver { get; }

    /// <param name="Found">Whether there is a solution; read it from the variables.</param>
    /// <param name="Closed">Whether it is proven best (or that there is none).</param>
    /// <param name="Bound">No solution costs less, in currency units; infinite where nothing is known, or no solution is.</param>
    internal readonly record struct Answer(bool Found, bool Closed, double Cost, double Bound);

    /// <param name="gap">Share of the cost by which the bound may stay below it.</param>
    /// <param name="mayBeEmpty">There may well be no solution: the linear relaxation mostly tells at once, where looking for reductions before took
    /// twenty times as long.</param>
    public Answer Minimize(ProgramLimits limits, double gap = 0, bool mayBeEmpty = false)
    {
        var parameters = string.Create(CultureInfo.InvariantCulture, $"randomization/randomseedshift = 1\nlimits/gap = {gap}\nseparating/maxroundsroot = 0\npropagating/probing/maxprerounds = 0\n");
        if (mayBeEmpty)
        {
            parameters += "presolving/maxrounds = 0\n";
        }

        if (limits.Nodes is { } most)
        {
            parameters += string.Create(CultureInfo.InvariantCulture, $"limits/nodes = {most}\n");
        }
        else
        {
            Solver.SetTimeLimit((long)Math.Clamp(limits.Seconds * 1000, 20, 1_000_000_000));
        }

        Solver.SetSolverSpecificParametersAsString(parameters);
        Solver.Objective().SetMinimization();
        using var registration = limits.Cancel.Register(() => Solver.InterruptSolve());
        var status = Solver.Solve();
        var none = status is not (Solver.ResultStatus.OPTIMAL or Solver.ResultStatus.FEASIBLE);
        if (none)
        {
            var infeasible = status == Solver.ResultStatus.INFEASIBLE;
            return new(false, infeasible, double.PositiveInfinity, infeasible ? double.PositiveInfinity : double.NegativeInfinity);
        }

        var bound = Solver.Objective().BestBound();
        return new(true, status == Solver.ResultStatus.OPTIMAL, Solver.Objective().Value(), bound <= -Infinite ? double.NegativeInfinity : Lowered(bound));
    }

    /// <summary>A floating-point bound in currency units less more than its tolerance.</summary>
    public static double Lowered(double bound) => bound - (1e-6 * Math.Abs(bound)) - 2e-5;

    public void Dispose() => Solver.Dispose();
}
