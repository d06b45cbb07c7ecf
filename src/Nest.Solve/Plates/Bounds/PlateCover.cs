using Google.OrTools.Sat;
using Nest.Solve.Plates.Free;

namespace Nest.Solve.Plates.Bounds;

/// <summary>The cheapest whole numbers of plates that meet all cuts and limits.</summary>
/// <remarks>
/// Problem: min Σ C_s n_s, Σ_s U_cs n_s ≥ N_c for each cut c, 0 ≤ n_s ≤ L_s whole. Method: one kind of plate: the largest quotient,
/// rounded up; several: CP-SAT, of which only the proven bound is used. Guarantee: bound.
/// </remarks>
internal static class PlateCover
{
    public static long Cheapest(FreeModel model, List<PlateCut> cuts, long? stopAt, FreeBudget budget)
    {
        var stocks = Enumerable.Range(0, model.Stocks.Length).Where(s => model.Stocks[s].Limit > 0).ToArray();
        if (stocks.Length == 1)
        {
            var s = stocks[0];
            var plates = cuts.Max(c => (c.Needs + c.Holds[s] - 1) / c.Holds[s]);
            return plates > model.Stocks[s].Limit ? PlateBounds.Impossible : checked((long)(plates * model.Stocks[s].Cost));
        }

        // Data
        var small = cuts.Select(c => c.Small()).Where(c => c.Needs > 0).DistinctBy(c => (c.Needs, string.Join(',', c.Holds))).ToArray();
        var divisor = stocks.Select(s => model.Stocks[s].Cost).Aggregate(0L, Gcd);
        if (divisor == 0)
        {
            return 0;
        }

        // Variables
        var cp = new CpModel();
        var pieces = model.Demand.Sum(d => (long)d); // no plan needs more plates than pieces
        var most = stocks.Select(s => Math.Min(model.Stocks[s].Limit, pieces)).ToArray();
        var n = stocks.Select((s, i) => cp.NewIntVar(0, most[i], $"n{s}")).ToArray();

        // Constraints: every cut.
        foreach (var (holds, needs) in small)
        {
            cp.Add(LinearExpr.WeightedSum(n, stocks.Select(s => holds[s])) >= needs);
        }

        // Objective
        cp.Minimize(LinearExpr.WeightedSum(n, stocks.Select(s => model.Stocks[s].Cost / divisor)));

        // Solve
        var solver = new CpSolver
        {
            StringParameters = $"num_workers:1,random_seed:1,max_deterministic_time:1,max_time_in_seconds:{
                Math.Max(0.2, Math.Min(5, budget.SecondsUntil(1))).ToString(System.Globalization.CultureInfo.InvariantCulture)}",
        };
        var status = solver.Solve(cp);

        // Read
        if (status == CpSolverStatus.Infeasible)
        {
            return PlateBounds.Impossible;
        }

        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible or CpSolverStatus.Unknown))
        {
            return 0;
        }

        if (!double.IsFinite(solver.BestObjectiveBound) || solver.BestObjectiveBound <= 0)
        {
            return 0;
        }

        // The solver's bound is a whole number below 2^53 in a double; the small step guards its last bit.
        return (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6) * divisor;
    }

    private static long Gcd(long a, long b) => b == 0 ? a : Gcd(b, a % b);
}
