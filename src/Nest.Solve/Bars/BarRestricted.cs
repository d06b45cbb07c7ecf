using Google.OrTools.Sat;

namespace Nest.Solve.Bars;

/// <summary>The master over given layouts only, in whole numbers, by CP-SAT.</summary>
/// <remarks>
/// min Σ c_p x_p, Σ a_ip x_p ≥ d_i, lo_s ≤ Σ_{p on s} x_p ≤ hi_s, the same for bars with a kept leftover, cost ≤ target, x whole. Optimal over the layouts given it proves nothing
/// about the job.
/// One worker, so that the answer can be repeated; more only for a caller that has set no work limit and asks for them.
/// </remarks>
internal static class BarRestricted
{
    /// <returns>The best plan found of at most the target cost; null: none.</returns>
    public static BarPlan? Solve(
        BarModel model, IReadOnlyList<BarPattern> patterns, ReadOnlySpan<int> low, ReadOnlySpan<int> high, long target, WorkMeter meter, double seconds, int threads)
    {
        double time = meter.Guard(seconds);
        double deterministic = Math.Min(seconds, meter.Left / 1e6);
        if (time < 0.01 || deterministic < 0.001)
        {
            return null;
        }

        var cp = new CpModel();

        // Variables: how often each layout is cut.
        var x = new IntVar[patterns.Count];
        for (int p = 0; p < x.Length; p++)
        {
            int most = model.MostBars[patterns[p].Stock];
            for (int k = 0; k < patterns[p].Items.Length; k++)
            {
                int i = patterns[p].Items[k];
                int count = patterns[p].Counts[k];
                most = Math.Min(most, (model.Demand[i] + count - 1) / count);
            }

            x[p] = cp.NewIntVar(0, Math.Max(0, most), string.Empty);
        }

        // Constraints: all pieces, no more bars than there are, no plan dearer than the target.
        var rows = new List<(IntVar, long)>[model.Types];
        var stocks = new List<(IntVar, long)>[model.Ranges];
        for (int i = 0; i < rows.Length; i++)
        {
            rows[i] = [];
        }

        for (int s = 0; s < stocks.Length; s++)
        {
            stocks[s] = [];
        }

        for (int p = 0; p < x.Length; p++)
        {
            stocks[patterns[p].Stock].Add((x[p], 1));
            if (patterns[p].Group >= 0)
            {
                stocks[model.Stocks + patterns[p].Group].Add((x[p], 1));
            }

            for (int k = 0; k < patterns[p].Items.Length; k++)
            {
                rows[patterns[p].Items[k]].Add((x[p], patterns[p].Counts[k]));
            }
        }

        for (int i = 0; i < rows.Length; i++)
        {
            LinearExpr sum = Sum(rows[i]);
            cp.AddLinearConstraint(sum, model.Demand[i], (long)model.Demand[i] * 1000);
        }

        for (int s = 0; s < stocks.Length; s++)
        {
            if (stocks[s].Count > 0)
            {
                cp.AddLinearConstraint(Sum(stocks[s]), low[s], high[s]);
            }
            else if (low[s] > 0)
            {
                return null;
            }
        }

        LinearExpr cost = LinearExpr.WeightedSum(x, [.. patterns.Select(p => p.Cost)]);
        cp.AddLinearConstraint(cost, 0, target);
        cp.Minimize(cost);

        // Solve
        int workers = meter.Limits.Work is null ? Math.Max(1, threads) : 1;
        using var solver = new CpSolver
        {
            StringParameters = FormattableString.Invariant(
                $"{CpSat.Always}max_time_in_seconds:{time:R} max_deterministic_time:{deterministic:R} num_workers:{workers} random_seed:{meter.Limits.Seed}"),
        };
        using CancellationTokenRegistration stop = meter.Cancel.Register(solver.StopSearch);
        CpSolverStatus status = solver.Solve(cp);
        meter.Work((long)((solver.Response?.DeterministicTime ?? 0) * 1e6));

        return status is CpSolverStatus.Optimal or CpSolverStatus.Feasible ? BarPlan.Exact(model, patterns.Select((p, k) => (p, (int)solver.Value(x[k])))) : null;
    }

    private static LinearExpr Sum(List<(IntVar Variable, long Factor)> terms) =>
        LinearExpr.WeightedSum(terms.Select(t => t.Variable), terms.Select(t => t.Factor));
}
