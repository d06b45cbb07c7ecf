using Google.OrTools.Sat;

namespace Nest.Solve.Bars;

/// <summary>At equal cost: one long leftover rather than many short ones, then fewer different layouts.</summary>
/// <remarks>
/// Problem: among plans of the same exact cost, first a larger largest leftover, then fewer different layouts (the stop is set less often).
/// Methods: refill one bar after the other from its own pieces and those of the bar with the longest leftover, as full as possible
/// (subset sum by the pricing table); then CP-SAT over the layouts met, with cost and the long leftover's layout held. Guarantee: cost
/// never changes; the goals are best found, not proven.
/// </remarks>
internal sealed class BarPolish(BarModel model, BarPricing pricing, WorkMeter meter)
{
    private const int MostRefills = 400;

    public BarPlan Polish(BarPlan plan, IReadOnlyList<BarPattern> met)
    {
        BarPlan gathered = Gather(plan);
        return Fewer(gathered, met);
    }

    private long Longest(BarPlan plan) => plan.Bars.Max(b => model.LeftoverLength(b.Pattern.Stock, b.Pattern.Used));

    /// <summary>Refills until nothing improves; where leftovers have a value the plan also becomes cheaper, never dearer.</summary>
    public BarPlan Gather(BarPlan plan)
    {
        long cells = model.Capacity.Max() * model.Types;
        int refills = (int)Math.Min(MostRefills, 2_000_000_000L / Math.Max(1, cells));
        bool progress = true;
        while (progress && !meter.Stop)
        {
            progress = false;
            BarPattern longest = plan.Bars.MaxBy(b => model.LeftoverLength(b.Pattern.Stock, b.Pattern.Used)).Pattern;
            foreach ((BarPattern other, int count) in plan.Bars.OrderByDescending(b => model.LeftoverLength(b.Pattern.Stock, b.Pattern.Used)))
            {
                long room = model.Capacity[other.Stock] - other.Used;
                if (refills <= 0 || meter.Stop)
                {
                    return plan;
                }

                if ((other.Equals(longest) && count == 1) || room < model.Weight[^1] && other.Pieces <= 1)
                {
                    continue;
                }

                refills--;
                if (Refill(plan, longest, other) is { } better)
                {
                    plan = better;
                    progress = true;
                    break;
                }
            }
        }

        return plan;
    }

    private BarPlan? Refill(BarPlan plan, BarPattern longest, BarPattern other)
    {
        var pieces = new int[model.Types];
        AddTo(pieces, longest);
        AddTo(pieces, other);
        var dual = new long[model.Types];
        for (int i = 0; i < dual.Length; i++)
        {
            dual[i] = pieces[i] > 0 ? model.Weight[i] : 0;
        }

        var found = new List<(BarPattern Pattern, long Value)>();
        pricing.Price(dual, 0, pieces, 1, s => s == other.Stock, found, meter);
        BarPattern? full = found.Where(f => f.Pattern.Stock == other.Stock).Select(f => f.Pattern).FirstOrDefault();
        if (full is null || full.Used <= other.Used)
        {
            return null;
        }

        for (int k = 0; k < full.Items.Length; k++)
        {
            pieces[full.Items[k]] -= full.Counts[k];
        }

        BarPattern? rest = pieces.All(p => p == 0) ? null : BarPattern.Make(model, longest.Stock, pieces);
        if (pieces.Any(p => p > 0) && rest is null)
        {
            return null;
        }

        var bars = plan.Bars.Select(b => (b.Pattern, Count: b.Count - (b.Pattern.Equals(longest) ? 1 : 0) - (b.Pattern.Equals(other) ? 1 : 0))).ToList();
        bars.Add((full, 1));
        if (rest is not null)
        {
            bars.Add((rest, 1));
        }

        var better = new BarPlan(bars);
        return better.Cost < plan.Cost || (better.Cost == plan.Cost && Longest(better) > Longest(plan)) ? better : null;
    }

    private static void AddTo(int[] pieces, BarPattern pattern)
    {
        for (int k = 0; k < pattern.Items.Length; k++)
        {
            pieces[pattern.Items[k]] += pattern.Counts[k];
        }
    }

    private BarPlan Fewer(BarPlan plan, IReadOnlyList<BarPattern> met)
    {
        // Nothing to gain where nearly every piece is wanted once, or few layouts are left anyway.
        if (plan.Bars.Length <= 2 || model.Pieces < 2 * model.Types || meter.Stop)
        {
            return plan;
        }

        BarPattern longest = plan.Bars.MaxBy(b => model.LeftoverLength(b.Pattern.Stock, b.Pattern.Used)).Pattern;
        List<BarPattern> patterns = [.. plan.Bars.Select(b => b.Pattern).Concat(met).Distinct().Take(plan.Bars.Length + 1500)];
        var now = plan.Bars.ToDictionary(b => b.Pattern, b => b.Count);

        // Variables: how often, and whether at all.
        var cp = new CpModel();
        var x = new IntVar[patterns.Count];
        var used = new BoolVar[patterns.Count];
        var rows = new List<(LinearExpr, int)>[model.Types];
        for (int i = 0; i < rows.Length; i++)
        {
            rows[i] = [];
        }

        for (int p = 0; p < x.Length; p++)
        {
            int most = model.MostBars[patterns[p].Stock];
            for (int k = 0; k < patterns[p].Items.Length; k++)
            {
                most = Math.Min(most, model.Demand[patterns[p].Items[k]] / patterns[p].Counts[k]);
            }

            x[p] = cp.NewIntVar(patterns[p].Equals(longest) ? Math.Min(1, most) : 0, most, string.Empty);
            used[p] = cp.NewBoolVar(string.Empty);
            cp.Add(x[p] <= most * used[p]);
            cp.AddHint(x[p], now.GetValueOrDefault(patterns[p]));
            cp.AddHint(used[p], now.ContainsKey(patterns[p]) ? 1 : 0);
            for (int k = 0; k < patterns[p].Items.Length; k++)
            {
                rows[patterns[p].Items[k]].Add((x[p], patterns[p].Counts[k]));
            }
        }

        // Constraints: exact demand, stock limits, the same cost, no more bars than before.
        for (int i = 0; i < rows.Length; i++)
        {
            cp.Add(LinearExpr.WeightedSum(rows[i].Select(r => r.Item1), rows[i].Select(r => r.Item2)) == model.Demand[i]);
        }

        for (int s = 0; s < model.Stocks; s++)
        {
            IntVar[] own = [.. x.Where((_, p) => patterns[p].Stock == s)];
            if (own.Length > 0)
            {
                cp.AddLinearConstraint(LinearExpr.Sum(own), 0, model.MostBars[s]);
            }
        }

        cp.AddLinearConstraint(LinearExpr.Sum(x), 0, plan.Count);
        cp.Add(LinearExpr.WeightedSum(x, patterns.Select(p => p.Cost)) == plan.Cost);

        // Objective: fewer different layouts.
        cp.Minimize(LinearExpr.Sum(used));
        double seconds = meter.Guard(1.0);
        double deterministic = Math.Min(0.5, meter.Left / 1e6);
        using var solver = new CpSolver
        {
            StringParameters = FormattableString.Invariant(
                $"{CpSat.Always}max_time_in_seconds:{seconds:R} max_deterministic_time:{deterministic:R} num_workers:1 random_seed:{meter.Limits.Seed}"),
        };
        using CancellationTokenRegistration stop = meter.Cancel.Register(solver.StopSearch);
        CpSolverStatus status = solver.Solve(cp);
        meter.Work((long)((solver.Response?.DeterministicTime ?? 0) * 1e6));
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            return plan;
        }

        BarPlan? fewer = BarPlan.Exact(model, patterns.Select((p, k) => (p, (int)solver.Value(x[k]))));
        return fewer is not null && fewer.Cost == plan.Cost && fewer.Bars.Length < plan.Bars.Length && Longest(fewer) >= Longest(plan)
            ? fewer
            : plan;
    }
}
