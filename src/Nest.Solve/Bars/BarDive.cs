namespace Nest.Solve.Bars;

/// <summary>Diving with residual problems: fix layouts of the linear programme, solve the rest again with new columns, and so on.</summary>
/// <remarks>
/// Problem: a whole plan of at most a target cost. Method: whole parts of the levels are fixed at once, then the layout nearest to one
/// (a seeded choice among the nearest in later dives); after each step column generation on the residual problem (Belov and
/// Scheithauer's residual rounding; Sadykov et al. 2019 for diving with column generation). Guarantee: none (heuristic).
/// </remarks>
internal sealed class BarDive(BarModel model, WorkMeter meter, Random random)
{
    public BarPlan? Run(BarMaster root, ReadOnlySpan<int> low, ReadOnlySpan<int> high, long target, int roundsPerStep, bool greedyChoice)
    {
        using BarMaster master = root.Borrow();
        int[] rest = [.. model.Demand];
        int[] lo = low.ToArray();
        int[] hi = high.ToArray();
        long cost = 0;
        var plan = new List<(BarPattern, int)>();
        bool first = true;
        while (rest.Any(d => d > 0))
        {
            if (meter.Stop)
            {
                return null;
            }

            if (!first)
            {
                master.Restrict(rest, lo, hi, true);
            }

            master.Generate(meter, first ? 1 : roundsPerStep, Math.Max(0, target - cost) + 1, 4);
            first = false;
            if (model.RoundUp(master.Bound + (Int128)cost) > target)
            {
                return null;
            }

            if (!Fix(master, rest, lo, hi, plan, ref cost, greedyChoice))
            {
                return null;
            }
        }

        BarPlan? result = BarPlan.Exact(model, plan);
        return result is not null && result.Cost <= target ? result : null;
    }

    private bool Fix(BarMaster master, int[] rest, int[] lo, int[] hi, List<(BarPattern, int)> plan, ref long cost, bool greedyChoice)
    {
        var active = new List<(int Index, double Level)>();
        for (int p = 0; p < master.Patterns.Count; p++)
        {
            double x = master.Level(p);
            if (x > 1e-6)
            {
                active.Add((p, x));
            }
        }

        if (active.Count == 0)
        {
            return false;
        }

        bool any = false;
        foreach ((int index, double x) in active)
        {
            int n = (int)Math.Floor(x + 1e-5);
            if (n >= 1)
            {
                any |= Take(master.Patterns[index], n, rest, lo, hi, plan, ref cost);
            }
        }

        if (any)
        {
            return true;
        }

        active.Sort((a, b) =>
        {
            int c = b.Level.CompareTo(a.Level);
            return c != 0 ? c : a.Index.CompareTo(b.Index);
        });
        int choice = 0;
        if (!greedyChoice)
        {
            // A nearest few, drawn by their level.
            int few = Math.Min(active.Count, 4);
            double sum = 0;
            for (int k = 0; k < few; k++)
            {
                sum += active[k].Level * active[k].Level;
            }

            double at = random.NextDouble() * sum;
            for (int k = 0; k < few; k++)
            {
                at -= active[k].Level * active[k].Level;
                if (at <= 0)
                {
                    choice = k;
                    break;
                }
            }
        }

        for (int k = choice; k < active.Count; k++)
        {
            if (Take(master.Patterns[active[k].Index], 1, rest, lo, hi, plan, ref cost))
            {
                return true;
            }
        }

        return false;
    }

    private bool Take(BarPattern pattern, int count, int[] rest, int[] lo, int[] hi, List<(BarPattern, int)> plan, ref long cost)
    {
        int stocks = model.Stocks;
        int n = Math.Min(count, hi[pattern.Stock]);
        if (pattern.Group >= 0)
        {
            n = Math.Min(n, hi[stocks + pattern.Group]);
        }

        for (int k = 0; k < pattern.Items.Length; k++)
        {
            n = Math.Min(n, rest[pattern.Items[k]] / pattern.Counts[k]);
        }

        if (n <= 0)
        {
            return false;
        }

        for (int k = 0; k < pattern.Items.Length; k++)
        {
            rest[pattern.Items[k]] -= n * pattern.Counts[k];
        }

        hi[pattern.Stock] -= n;
        lo[pattern.Stock] = Math.Max(0, lo[pattern.Stock] - n);
        if (pattern.Group >= 0)
        {
            hi[stocks + pattern.Group] -= n;
            lo[stocks + pattern.Group] = Math.Max(0, lo[stocks + pattern.Group] - n);
        }

        cost += n * pattern.Cost;
        plan.Add((pattern, n));
        return true;
    }
}
