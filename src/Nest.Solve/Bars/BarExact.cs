namespace Nest.Solve.Bars;

/// <summary>The master over a complete pool, decided: branch, cut and exclude.</summary>
/// <remarks>
/// Problem: is there a plan of at most the target cost over these layouts, and which is cheapest? Since the pool holds every layout
/// that such a plan can contain, the answer holds for the whole node. Method: linear programme with subset-row cuts, exclusion of
/// layouts by reduced cost, depth-first branching on two items in one bar (Ryan and Foster 1981; as a row where demands exceed one),
/// at last on a layout's count. Bounds are integer-safe (<see cref="PoolProgram"/>). Guarantee: exact when it returns true.
/// </remarks>
internal sealed class BarExact(BarModel model, WorkMeter meter)
{
    private const int FirstNodes = 120;

    private long target;
    private BarPlan? best;
    private bool complete = true;
    private int nodes;
    private int limit;

    /// <summary>Decides a node, again and again with more nodes.</summary>
    /// <param name="turns">Most times; each has four times the nodes of the one before.</param>
    public bool Solve(LayoutPool pool, int[] low, int[] high, long within, int turns, out BarPlan? plan)
    {
        best = null;
        target = within;
        var decided = false;
        for (int turn = 0; turn < turns && !decided && !meter.Stop; turn++)
        {
            decided = Search(pool, low, high, FirstNodes << (2 * turn));
        }

        plan = best;
        return decided;
    }

    private bool Search(LayoutPool pool, int[] low, int[] high, int mostNodes)
    {
        complete = true;
        nodes = 0;
        limit = mostNodes;
        using var program = new PoolProgram(model, pool.Patterns, low, high, meter.Limits.Seed);
        Descend(program, 0);
        return complete;
    }

    private void Descend(PoolProgram program, int depth)
    {
        if (++nodes > limit || meter.Stop)
        {
            complete = false;
            return;
        }

        int rounds = depth == 0 ? 60 : 6;
        for (int round = 0; ; round++)
        {
            bool clean = program.Solve(target, meter);
            if (program.Bound > target)
            {
                return;
            }

            if (meter.Stop)
            {
                complete = false;
                return;
            }

            List<PoolRow> cuts = clean && round < rounds && program.Rows < Math.Min(250, Math.Max(10, model.Types)) ? HalfCuts.Find(model, program, 30, 0.02) : [];
            if (cuts.Count == 0)
            {
                break;
            }

            program.AddRows(cuts);
        }

        if (TakeWhole(program))
        {
            // Whole levels solve this node's programme: nothing here is cheaper.
            complete &= best!.Cost <= program.Bound;
            return;
        }

        Branch(program, depth);
    }

    /// <summary>Takes the plan when all levels are whole.</summary>
    private bool TakeWhole(PoolProgram program)
    {
        var bars = new List<(BarPattern, int)>();
        foreach ((int p, double x) in program.Active())
        {
            double n = Math.Round(x);
            if (Math.Abs(x - n) > 1e-5)
            {
                return false;
            }

            bars.Add((program.Pool[p], (int)n));
        }

        BarPlan? plan = BarPlan.Exact(model, bars);
        if (plan is null || plan.Cost > target)
        {
            return false;
        }

        best = plan;
        target = plan.Cost - model.Step;
        return true;
    }

    private void Branch(PoolProgram program, int depth)
    {
        List<(int Pattern, double Level)> active = program.Active();
        var together = new Dictionary<(int, int), double>();
        foreach ((int p, double x) in active)
        {
            if (Math.Abs(x - Math.Round(x)) < 1e-6 && x >= 1)
            {
                continue;
            }

            BarPattern pattern = program.Pool[p];
            for (int a = 0; a < pattern.Items.Length; a++)
            {
                for (int b = pattern.Counts[a] >= 2 ? a : a + 1; b < pattern.Items.Length; b++)
                {
                    (int, int) key = (pattern.Items[a], pattern.Items[b]);
                    together[key] = together.GetValueOrDefault(key) + x;
                }
            }
        }

        (int I, int J) pair = (-1, -1);
        double score = 0;
        double sum = 0;
        foreach (((int i, int j), double x) in together.OrderBy(t => t.Key))
        {
            double part = x - Math.Floor(x);
            if (part < 1e-5 || part > 1 - 1e-5)
            {
                continue;
            }

            // Long pieces decide most; near one half (or above) the two sides both bite.
            double s = (0.5 - Math.Abs(part - 0.55)) * (model.Weight[i] + model.Weight[j]);
            if (s > score)
            {
                (score, pair, sum) = (s, (i, j), x);
            }
        }

        if (pair.I >= 0)
        {
            BranchOnPair(program, pair.I, pair.J, sum, depth);
            return;
        }

        foreach ((int p, double x) in active)
        {
            double part = x - Math.Floor(x);
            if (part > 1e-5 && part < 1 - 1e-5)
            {
                using PoolProgram down = program.Clone();
                BarPattern pattern = program.Pool[p];
                program.AddRows([PoolRow.Single(pattern, RowSense.AtLeast, (int)Math.Ceiling(x))]);
                Descend(program, depth + 1);
                down.AddRows([PoolRow.Single(pattern, RowSense.AtMost, (int)Math.Floor(x))]);
                Descend(down, depth + 1);
                return;
            }
        }

        // Whole levels, but no plan: artificial levels remain within the tolerance. Claim nothing.
        complete = false;
    }

    private void BranchOnPair(PoolProgram program, int i, int j, double sum, int depth)
    {
        using PoolProgram apart = program.Clone();
        int below = (int)Math.Floor(sum);
        if (i != j && model.Demand[i] == 1 && model.Demand[j] == 1)
        {
            program.Exclude(p => (PoolRow.Count(p, i) > 0) != (PoolRow.Count(p, j) > 0));
            Descend(program, depth + 1);
            apart.Exclude(p => PoolRow.Count(p, i) > 0 && PoolRow.Count(p, j) > 0);
        }
        else
        {
            program.AddRows([PoolRow.Pair(i, j, RowSense.AtLeast, below + 1)]);
            Descend(program, depth + 1);
            apart.AddRows([PoolRow.Pair(i, j, RowSense.AtMost, below)]);
        }

        Descend(apart, depth + 1);
    }
}
