using System.Collections.Immutable;
using System.Globalization;
using Google.OrTools.Sat;

namespace Nest.Solve.Choose;

/// <summary>The one choosing model over plates, bars and leftovers together.</summary>
/// <remarks>
/// minimise Σ_p cost_p x_p + Σ_p setUp_p z_p + M Σ_i u_i
/// subject to x_p ≤ most_p z_p, Σ_p a_ip x_p + u_i ≥ d_i for each blank i, Σ_{p on s} x_p ≤ stock_s for each limited stock s, x, u whole and ≥ 0.
/// CP-SAT, one worker, fixed seed, deterministic limit: repeatable. An optimal answer is optimal over the given columns only and
/// proves nothing about the job.
/// </remarks>
internal static class PatternModel
{
    /// <param name="deterministicTime">CP-SAT's own unit, roughly a second.</param>
    /// <param name="setUps">Count what setting fence and stop costs, once per column that is used.</param>
    /// <param name="hint">A known choice to start from.</param>
    /// <returns>Counts per column; null when none was found in time.</returns>
    public static int[]? Choose(
        Component component, IReadOnlyList<Column> columns, ReadOnlySpan<int> demand, ReadOnlySpan<int?> limits,
        double deterministicTime, double seconds, int seed, IReadOnlyDictionary<string, int>? hint, CancellationToken cancel,
        bool setUps = false)
    {
        if (columns.Count == 0 || seconds <= 0 || cancel.IsCancellationRequested)
        {
            return null;
        }

        // Data
        var model = new CpModel();
        var dearest = columns.Max(column => Math.Max(1, column.Cost));

        // Variables: how often each column is cut, and pieces left out.
        var use = new IntVar[columns.Count];
        var mosts = new int[columns.Count];
        for (var p = 0; p < columns.Count; p++)
        {
            var most = 0;
            for (var i = 0; i < demand.Length; i++)
            {
                var per = columns[p].Counts[i];
                most = per == 0 ? most : Math.Max(most, (demand[i] + per - 1) / per);
            }

            most = limits[columns[p].Stock] is { } limit ? Math.Min(most, limit) : most;
            mosts[p] = most;
            use[p] = model.NewIntVar(0, most, string.Create(CultureInfo.InvariantCulture, $"column_{p}"));
        }

        var missing = new IntVar[demand.Length];
        for (var i = 0; i < demand.Length; i++)
        {
            missing[i] = model.NewIntVar(0, demand[i], string.Create(CultureInfo.InvariantCulture, $"missing_{i}"));
        }

        // Constraints: every blank is covered.
        for (var i = 0; i < demand.Length; i++)
        {
            var sum = LinearExpr.NewBuilder().Add(missing[i]);
            for (var p = 0; p < columns.Count; p++)
            {
                if (columns[p].Counts[i] > 0)
                {
                    sum.AddTerm(use[p], columns[p].Counts[i]);
                }
            }

            model.Add(sum >= demand[i]);
        }

        // Limited stock is not used more often than there is.
        for (var s = 0; s < limits.Length; s++)
        {
            if (limits[s] is { } limit)
            {
                var sum = LinearExpr.NewBuilder();
                for (var p = 0; p < columns.Count; p++)
                {
                    if (columns[p].Stock == s)
                    {
                        sum.Add(use[p]);
                    }
                }

                model.Add(sum <= limit);
            }
        }

        // Objective: money; a missing piece costs more than any layout.
        var objective = LinearExpr.NewBuilder();
        for (var p = 0; p < columns.Count; p++)
        {
            objective.AddTerm(use[p], columns[p].Cost);
            if (setUps && columns[p].SetUp(component) is > 0 and var setUp)
            {
                var used = model.NewBoolVar(string.Create(CultureInfo.InvariantCulture, $"set_up_{p}"));
                model.Add(use[p] <= LinearExpr.Term(used, Math.Max(1, mosts[p])));
                objective.AddTerm(used, setUp);
            }
        }

        foreach (var left in missing)
        {
            objective.AddTerm(left, checked(dearest * 4));
        }

        model.Minimize(objective);
        if (hint is not null)
        {
            for (var p = 0; p < columns.Count; p++)
            {
                model.AddHint(use[p], hint.GetValueOrDefault(columns[p].Key));
            }
        }

        // Solve
        using var solver = new CpSolver();
        solver.StringParameters = string.Create(
            CultureInfo.InvariantCulture,
            $"{CpSat.Always}num_workers:1 random_seed:{seed} max_deterministic_time:{deterministicTime} max_time_in_seconds:{seconds} linearization_level:2");
        using var registration = cancel.Register(solver.StopSearch);
        var status = solver.Solve(model);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            return null;
        }

        // Read
        return [.. use.Select(variable => (int)solver.Value(variable))];
    }
}
