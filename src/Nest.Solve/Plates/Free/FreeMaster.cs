using System.Globalization;
using Google.OrTools.Sat;

namespace Nest.Solve.Plates.Free;

/// <summary>Chooses the cheapest plates of a pool that cover the demand.</summary>
/// <remarks>
/// Problem: min Σ c_p x_p, Σ a_ip x_p ≥ d_i, Σ_{p on s} x_p ≤ L_s, x_p ≥ 0 whole (set covering over packed plates; Monaci, Toth 2006).
/// Method: CP-SAT, one worker. Guarantee: heuristic for the problem (only plates of the pool); surplus pieces are taken out afterwards.
/// </remarks>
internal static class FreeMaster
{
    public static FreePlan? Choose(FreeModel model, IEnumerable<FreePlate> pool, FreePlan best, double seconds, FreeBudget budget)
    {
        // Data
        var plates = pool.ToArray();
        if (plates.Length == 0 || seconds < 0.02)
        {
            return null;
        }

        var rows = Enumerable.Range(0, model.Kinds).Select(_ => new List<(int Plate, int Copies)>()).ToArray();
        for (var p = 0; p < plates.Length; p++)
        {
            foreach (var g in plates[p].Placed.GroupBy(x => x.Kind))
            {
                rows[g.Key].Add((p, g.Count()));
            }
        }

        // Variables
        var cp = new CpModel();
        var x = plates.Select((p, i) => cp.NewIntVar(0, Most(model, p), string.Empty)).ToArray();

        // Constraints: demand; limits.
        for (var k = 0; k < model.Kinds; k++)
        {
            cp.Add(LinearExpr.WeightedSum(rows[k].Select(r => x[r.Plate]), rows[k].Select(r => r.Copies)) >= model.Demand[k]);
        }

        foreach (var stock in model.Stocks.Where(s => s.Limit < int.MaxValue))
        {
            cp.Add(LinearExpr.Sum(x.Where((_, p) => plates[p].Stock == stock.Index)) <= stock.Limit);
        }

        // Objective: only cheaper plans are of interest.
        var cost = LinearExpr.WeightedSum(x, plates.Select(p => p.Cost));
        cp.Minimize(cost);
        cp.Add(cost <= best.Cost);
        for (var p = 0; p < plates.Length; p++)
        {
            var count = best.Plates.Where(b => ReferenceEquals(b.Plate, plates[p])).Sum(b => b.Count);
            if (count > 0)
            {
                cp.AddHint(x[p], count);
            }
        }

        // Solve
        var limit = seconds.ToString(CultureInfo.InvariantCulture);
        using var solver = new CpSolver
        {
            StringParameters = $"{CpSat.Always}num_workers:1,random_seed:1,max_deterministic_time:{limit},max_time_in_seconds:{
                budget.Guard(Math.Max(0.05, 3 * seconds)).ToString(CultureInfo.InvariantCulture)}",
        };
        using var stop = budget.Cancel.Register(solver.StopSearch);
        var status = solver.Solve(cp);
        budget.AddSeconds(Math.Max(seconds * 0.2, solver.Response!.DeterministicTime));

        // Read
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            return null;
        }

        var plan = new FreePlan([.. plates.Select((p, i) => (p, (int)solver.Value(x[i]))).Where(p => p.Item2 > 0)]);
        return plan.Cost <= best.Cost ? plan.WithoutSurplus(model) : null;
    }

    private static long Most(FreeModel model, FreePlate plate)
    {
        var most = plate.Placed.GroupBy(p => p.Kind).Max(g => (model.Demand[g.Key] + g.Count() - 1) / g.Count());
        return Math.Min(most, model.Stocks[plate.Stock].Limit);
    }
}
