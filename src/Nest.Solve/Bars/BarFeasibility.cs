using Nest.Core.Plans;

namespace Nest.Solve.Bars;

/// <summary>Whether limited stock can give all pieces at all.</summary>
/// <remarks>
/// Problem: the fewest pieces left uncut. Method: the same solver on the problem where real bars cost nothing and every piece may also
/// be had singly from outside for 1. A bound of 1 or more proves that the job is impossible; a plan of cost 0 is a first plan of it.
/// Guarantee: as the solver's (exact where it proves).
/// </remarks>
internal sealed class BarFeasibility(BarModel model, WorkMeter meter)
{
    public bool ProvesImpossible(out BarPlan? plan)
    {
        plan = null;
        BarProblem problem = model.Problem;
        int outside = problem.Stocks.Length;
        var relaxed = new BarProblem
        {
            Kerf = problem.Kerf,
            Items = problem.Items,
            Stocks = [
                .. problem.Stocks.Select(s => s with { Cost = 0, Leftover = LeftoverValue.None }),
                new BarStock(problem.Items.Max(i => i.Length), 1) { MostPieces = 1 },
            ],
            PieceCost = Forbidden(problem),
        };
        var limits = meter.Limits with
        {
            Seconds = meter.SecondsLeft * 0.9,
            Work = meter.Limits.Work is null ? null : meter.Left * 9 / 10,
        };
        var inner = new WorkMeter(limits, meter.Cancel);
        BarSolution answer = new BarRun(new BarModel(relaxed), inner, null).Solve();
        meter.Work(inner.Done);
        if (answer.Bound > 0)
        {
            return true;
        }

        if (answer.Status == SolveStatus.Proven && answer.Cost == 0)
        {
            plan = BarPlan.Exact(model, answer.Layouts.Where(l => l.Stock != outside).Select(l => (Merge(l), l.Count)));
        }

        return false;
    }

    private BarPattern Merge(BarLayout layout)
    {
        var counts = new int[model.Types];
        for (int t = 0; t < model.Types; t++)
        {
            foreach (int i in model.Members[t])
            {
                counts[t] += layout.Counts[i];
            }
        }

        return BarPattern.Make(model, layout.Stock, counts) ?? throw new InvalidOperationException("A layout of the relaxed problem is none.");
    }

    private static long[,]? Forbidden(BarProblem problem)
    {
        if (problem.PieceCost is not { } extra)
        {
            return null;
        }

        var table = new long[problem.Stocks.Length + 1, problem.Items.Length];
        for (int s = 0; s < problem.Stocks.Length; s++)
        {
            for (int i = 0; i < problem.Items.Length; i++)
            {
                table[s, i] = extra[s, i] == BarProblem.Forbidden ? BarProblem.Forbidden : 0;
            }
        }

        return table;
    }
}
