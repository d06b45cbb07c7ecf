using Nest.Core.Plans;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Anytime solver for plates divided by through-cuts.</summary>
/// <remarks>
/// In turns until the limits or a proof: constructive plans; column generation with a bound for the whole job
/// (<see cref="ColumnBound"/>); dense strips with a search over choices of plates for the rest (<see cref="StripSearch"/>), choices of
/// plates as a whole (<see cref="FleetSearch"/>), goal-driven ruin and recreate (<see cref="RuinRecreate"/>); the restricted master over
/// all columns of these (<see cref="MasterModel"/>). Heuristic plans, exact bounds; Proven only when they meet.
/// </remarks>
public static class ThroughCutSolver
{
    /// <summary>Solves the problem within the limits.</summary>
    public static PlateSolution Solve(
        PlateProblem problem, SolveLimits limits, Action<PlateSolution>? improved = null, CancellationToken cancel = default)
    {
        var budget = new SearchBudget(limits, cancel);
        if (problem.Items.IsEmpty)
        {
            return new PlateSolution { Status = SolveStatus.Proven, Layouts = [], Cost = 0, Bound = 0, SecondsToBest = 0, SecondsToProof = 0 };
        }

        var model = new ThroughModel(problem);
        var steps = new CostSteps(model);
        if (AreaBound.Cost(model) is not { } area || NeverFit(model))
        {
            return new PlateSolution { Status = SolveStatus.Impossible, Layouts = [], Cost = 0, Bound = 0 };
        }

        return new ThroughCutRun(model, steps, limits, budget, steps.RoundUp(area), improved).Run();
    }

    private static bool NeverFit(ThroughModel model)
    {
        for (var i = 0; i < model.ItemCount; i++)
        {
            var fits = false;
            for (var s = 0; s < model.StockCount && !fits; s++)
            {
                fits = !model.NeverFits(s, i);
            }

            if (!fits)
            {
                return true;
            }
        }

        return false;
    }
}
