using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;

namespace Nest.Solve.Choose;

/// <summary>Plans each component anew at the prices that a plan's orders have reached, from that plan on.</summary>
internal static class ReachedPrices
{
    /// <param name="limits">Seconds and threads for all components together.</param>
    /// <returns>Each component's best plan and all its layouts, at those prices.</returns>
    public static (Chosen? Best, IReadOnlyList<Column> Columns)[] Solve(
        Job job, ImmutableArray<Blank> blanks, JointPlan plan, SolveLimits limits, CancellationToken cancel)
    {
        var own = Components.Of(Scenario.AtPricesOf(job, plan.Orders), blanks);
        var answers = new (Chosen? Best, IReadOnlyList<Column> Columns)[own.Length];
        ComponentQueue.Run([.. own.Select(ComponentQueue.Weight)], limits.Seconds, limits.Threads, (c, seconds) =>
        {
            var solver = new ComponentSolver(own[c], limits with { Seconds = seconds, Threads = 1 }, (_, _) => { }, cancel);
            var start = plan.Parts[c]!;
            var columns = start.Columns.Select(entry => (Column: Recost(own[c], entry.Column.At(own[c])), entry.Count)).ToImmutableArray();
            solver.Start(new(columns, start.Missing), columns.Select(entry => entry.Column));
            solver.Run();
            answers[c] = (solver.Best, solver.Columns);
        });
        return answers;
    }

    private static Column Recost(Component component, Column column) =>
        column with { LowerCost = component.LowerCosts.Of(column.Stock, column.Counts.AsSpan(), column.Cost) };
}
