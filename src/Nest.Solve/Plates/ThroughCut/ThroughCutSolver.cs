using Nest.Core.Plans;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Anytime solver for plates divided by through-cuts.</summary>
/// <remarks>
/// Constructive plans; bounds by dual feasible functions and by choices of plates (<see cref="FleetBound"/>); then in turns until the limits or a proof: dense strips with a search over
/// choices of plates for the rest (<see cref="StripSearch"/>), goal-driven ruin and recreate (<see cref="RuinRecreate"/>). Heuristic plans, exact bounds; Proven only when they meet.
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
