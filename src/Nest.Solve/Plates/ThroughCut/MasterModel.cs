using Google.OrTools.Sat;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>The master problem in whole numbers over the columns at hand.</summary>
/// <remarks>min Σ c_p x_p, Σ_p a_ip x_p ≥ d_i, Σ_{p on s} x_p ≤ limit_s, x whole and ≥ 0. Solved by CP-SAT; its optimum proves
/// nothing about the job, since only these columns are offered.</remarks>
internal static class MasterModel
{
    /// <summary>Best choice of sheets cheaper than the given cost; null: none found.</summary>
    public static List<CutSheet>? Solve(
        ThroughModel model, IReadOnlyList<Column> columns, long below, long bound, double seconds, SearchBudget budget, int seed)
    {
        // Data: costs as steps of their divisor would be smaller, but CP-SAT scales by itself.
        var cp = new CpModel();

        // Variables: how often each column is cut.
        var x = new IntVar[columns.Count];
        for (var p = 0; p < columns.Count; p++)
        {
            var most = columns[p].Counts.Max(c => (model.Demand[c.Item] + c.Count - 1) / c.Count);
            x[p] = cp.NewIntVar(0, Math.Min(most, model.StockLimit[columns[p].Stock]), "");
        }

        // Constraints: every demand is met.
        var rows = new LinearExprBuilder[model.ItemCount];
        for (var i = 0; i < rows.Length; i++)
        {
            rows[i] = LinearExpr.NewBuilder();
        }

        for (var p = 0; p < columns.Count; p++)
        {
            foreach (var (item, count) in columns[p].Counts)
            {
                rows[item].AddTerm(x[p], count);
            }
        }

        for (var i = 0; i < rows.Length; i++)
        {
            cp.Add(rows[i] >= model.Demand[i]);
        }

        // Constraints: no more plates than there are.
        for (var s = 0; s < model.StockCount; s++)
        {
            if (model.StockLimit[s] != int.MaxValue)
            {
                cp.Add(LinearExpr.Sum(Enumerable.Range(0, x.Length).Where(p => columns[p].Stock == s).Select(p => x[p])) <= model.StockLimit[s]);
            }
        }

        // Objective: cheaper than the plan in hand, not below the bound.
        var cost = LinearExpr.WeightedSum(x, columns.Select(c => c.Cost));
        cp.Add(cost <= below - 1);
        cp.Add(cost >= bound);
        cp.Minimize(cost);

        // Solve
        using var solver = new CpSolver
        {
            StringParameters = string.Create(
                System.Globalization.CultureInfo.InvariantCulture,
                $"{CpSat.Always}num_workers:1 random_seed:{seed & 0xFFFF} {(budget.Repeatable ? "max_deterministic_time" : "max_time_in_seconds")}:{seconds:F3}"),
        };
        using var stop = budget.Cancel.Register(solver.StopSearch);
        var status = solver.Solve(cp);
        budget.Add((long)(solver.Response!.DeterministicTime * 1e6));
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            return null;
        }

        // Read
        var sheets = new List<CutSheet>();
        for (var p = 0; p < x.Length; p++)
        {
            for (var n = solver.Value(x[p]); n > 0; n--)
            {
                sheets.Add(columns[p].Sheet.Clone());
            }
        }

        return sheets;
    }
}
