using Google.OrTools.Sat;
using Nest.Solve.Plates.Free;

namespace Nest.Solve.Plates.Bounds;

/// <summary>The relaxation of <see cref="ScaleMaster"/> in whole numbers.</summary>
/// <remarks>
/// Problem: min Σ_s C_s n_s + Σ k_si y_si, Σ_s y_si = d_i, Σ_i u_sji y_si ≤ n_s, Σ_s U_cs n_s ≥ N_c for every cut c, 0 ≤ n_s ≤ L_s,
/// y ≥ 0, all whole; or, without the pairs j, over n alone (each piece at its smallest piece cost).
/// Method: CP-SAT, one worker, deterministic limit; only its proven bound is used. Guarantee: bound.
/// </remarks>
internal static class WholeMaster
{
    /// <param name="pairs">Weights of the pairs of each stock; null: numbers of plates only.</param>
    public static long Bound(FreeModel model, int[] stocks, List<PlateCut> cuts, List<long[]>[]? pairs, FreeBudget budget)
    {
        // Data: costs by their common divisor; weights in units that CP-SAT sums without overflow, rounded down.
        const int shift = 20;
        var kinds = Enumerable.Range(0, model.Kinds).ToArray();
        var divisor = stocks.Select(s => model.Stocks[s].Cost)
            .Concat(stocks.SelectMany(s => kinds.Where(k => model.Allowed[s, k]).Select(k => model.PieceCost(s, k))))
            .Aggregate(0L, WholeNumbers.Divisor);
        if (divisor == 0)
        {
            return 0;
        }

        // Variables
        var cp = new CpModel();
        var pieces = model.Demand.Sum(d => (long)d); // no plan needs more plates than pieces
        var n = stocks.Select(s => cp.NewIntVar(0, Math.Min(model.Stocks[s].Limit, pieces), string.Empty)).ToArray();
        var cost = LinearExpr.WeightedSum(n, stocks.Select(s => model.Stocks[s].Cost / divisor));
        var rest = kinds.Sum(k => model.Demand[k] * stocks.Where(s => model.Allowed[s, k]).Min(s => model.PieceCost(s, k)));

        // Constraints: cuts on the numbers of plates.
        foreach (var (holds, needs) in cuts.Select(c => c.Small()))
        {
            cp.Add(LinearExpr.WeightedSum(n, stocks.Select(s => holds[s])) >= needs);
        }

        if (pairs is not null)
        {
            // Demand, and every pair; the pieces carry their own cost then.
            var y = stocks.Select(s => kinds.Select(k => cp.NewIntVar(0, model.Allowed[s, k] ? model.Demand[k] : 0, string.Empty)).ToArray()).ToArray();
            foreach (var k in kinds)
            {
                cp.Add(LinearExpr.Sum(y.Select(row => row[k])) == model.Demand[k]);
            }

            for (var i = 0; i < stocks.Length; i++)
            {
                foreach (var weights in pairs[stocks[i]])
                {
                    cp.Add(LinearExpr.WeightedSum(y[i], weights.Select(w => w >> shift)) <= n[i] * (StockScales.One >> shift));
                }
            }

            cost += LinearExpr.WeightedSum(y.SelectMany(row => row), stocks.SelectMany(s =>
                kinds.Select(k => model.Allowed[s, k] ? model.PieceCost(s, k) / divisor : 0)));
            rest = 0;
        }

        // Objective
        cp.Minimize(cost);

        // Solve
        var seconds = Math.Max(0.2, Math.Min(4, budget.SecondsUntil(1)));
        var (status, bound, took) = CpSat.Bound(cp, seconds, budget.Guard(2 * seconds), budget.Cancel);
        budget.AddSeconds(took);

        // Read: only the proven bound.
        if (status == CpSolverStatus.Infeasible)
        {
            return PlateBounds.Impossible;
        }

        if (bound is not (> 0 and var raw))
        {
            return rest;
        }

        // A whole number below 2^53 in a double; the small step guards its last bit.
        return checked(((long)Math.Ceiling(raw - 1e-6) * divisor) + rest);
    }
}
