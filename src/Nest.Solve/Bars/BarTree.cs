namespace Nest.Solve.Bars;

/// <summary>From the root bound to the proof: branching on the number of bars of each stock, and complete pools of layouts.</summary>
/// <remarks>
/// Problem: the whole bar problem, from a solved linear programme. Method: best-first branch and bound; a node is a range of bars for
/// each stock (which leaves the pricing as it is). At each node: bound by column generation, a dive for plans, then, where few enough
/// layouts can still belong to a better plan, all of them are listed (<see cref="LayoutPool"/>) and the master over them is solved
/// exactly (<see cref="BarExact"/>); else the node is split on a stock with a fractional number of bars. Guarantee: the global bound is
/// the least bound of the nodes that are open or given up, in integers.
/// </remarks>
internal sealed class BarTree(BarRun run, BarPricing pricing, Random random)
{
    private readonly BarModel model = run.Model;
    private readonly WorkMeter meter = run.Meter;
    private readonly List<Node> open = [];
    private readonly List<Node> givenUp = [];
    private int treated;

    /// <summary>Least gap within which there were too many layouts to list them at a node that can be split.</summary>
    private long crowdedGap = long.MaxValue;

    /// <param name="Crowded">Whether it cannot be split and has too many layouts to list them at once.</param>
    private sealed record Node(int[] Low, int[] High, long Bound, int Depth, bool Crowded = false);

    /// <summary>Layouts met on the way.</summary>
    public IReadOnlyList<BarPattern> Met { get; private set; } = [];

    public void Run()
    {
        using var master = new BarMaster(model, pricing, meter.Limits.Seed);
        foreach ((BarPattern pattern, _) in run.Best?.Bars ?? [])
        {
            master.Add(pattern);
        }

        Met = master.Patterns;
        var root = new Node(new int[model.Ranges], [.. model.MostBars], run.Bound, 0);
        open.Add(root);
        while (open.Count > 0 && !run.Done && !meter.Stop)
        {
            int at = Next();
            Node node = open[at];
            open.RemoveAt(at);
            Treat(node, master);
            Settle();
        }

        // What was given up: look for better plans until the limit; the bound stays what it is.
        for (int trial = 0; givenUp.Count > 0 && !run.Done && !meter.Stop && trial < 400; trial++)
        {
            Node node = givenUp[trial % givenUp.Count];
            master.Restrict(model.Demand, node.Low, node.High, false);
            master.Generate(meter, 2000, run.Target + 1);
            Dive(master, node, false);
            if (trial % 4 == 3)
            {
                Restricted(master, node, 4);
            }
        }
    }

    private int Next()
    {
        int best = 0;
        for (int k = 1; k < open.Count; k++)
        {
            if ((open[k].Crowded, open[k].Bound, -open[k].Depth).CompareTo((open[best].Crowded, open[best].Bound, -open[best].Depth)) < 0)
            {
                best = k;
            }
        }

        return best;
    }

    /// <summary>The global bound from the nodes that remain.</summary>
    private void Settle()
    {
        if (meter.Stop && open.Count == 0 && givenUp.Count == 0)
        {
            return;
        }

        // What was closed cannot hold a plan within the target, and no whole number lies between.
        long least = run.Best is null ? long.MaxValue : run.Target + 1;
        foreach (Node n in open.Concat(givenUp))
        {
            least = Math.Min(least, n.Bound);
        }

        if (least < long.MaxValue)
        {
            run.Raise(least, Methods.BarTree);
        }
    }

    private void Treat(Node node, BarMaster master)
    {
        if (node.Depth > 0)
        {
            master.Restrict(model.Demand, node.Low, node.High, false);
        }

        master.Generate(meter, 100_000, run.Target + 1);
        long bound = Math.Max(node.Bound, model.RoundUp(master.Bound));
        if (bound > run.Target)
        {
            return;
        }

        node = node with { Bound = bound };
        if (node.Depth == 0)
        {
            run.Raise(bound, Methods.BarTree);
        }

        if (meter.Stop)
        {
            givenUp.Add(node);
            return;
        }

        int split = SplitStock(master);
        if (split < 0 && open.Exists(n => n.Bound < bound && !n.Crowded))
        {
            // The dear end of a branch waits until the global bound has come as far.
            open.Add(node);
            return;
        }

        if (node.Depth == 0 || split < 0 || treated++ % 6 == 0)
        {
            Dive(master, node, node.Depth == 0);
        }

        if (bound > run.Target)
        {
            return;
        }

        // A node that is split anyway needs no sharper bound: its parts have their own.
        bool lists = split < 0 || 2 * (run.Target - bound) < crowdedGap;
        if (lists)
        {
            master.Sharpen(meter);
            bound = Math.Max(bound, model.RoundUp(master.Bound));
            node = node with { Bound = bound };
        }

        if (node.Depth == 0)
        {
            run.Raise(bound, Methods.BarTree);
        }

        if (bound > run.Target || (lists && Settles(master, node, split)))
        {
            return;
        }

        if (split >= 0)
        {
            Split(master, node, split);
        }
        else if (node.Crowded)
        {
            givenUp.Add(node);
        }
        else
        {
            // Listing at length comes last: a plan is often found at other nodes before.
            open.Add(node with { Crowded = true });
        }
    }

    /// <summary>Whether listing the node's layouts settles it. Within half of a gap in which they were too many it is worth asking again.</summary>
    private bool Settles(BarMaster master, Node node, int split)
    {
        if (split < 0)
        {
            return Exact(master, node, node.Crowded ? 300_000 : 20_000, model.Stocks == 1) || node.Bound > run.Target;
        }

        bool settled = Exact(master, node, 2_000, false) || node.Bound > run.Target;
        if (!settled)
        {
            crowdedGap = Math.Min(crowdedGap, run.Target - node.Bound);
        }

        return settled;
    }

    /// <summary>The stock whose number of bars is farthest from whole, or -1 when all are whole (or nothing is gained by it).</summary>
    private int SplitStock(BarMaster master)
    {
        if (model.Stocks == 1 && model.PlainCost)
        {
            return -1;
        }

        double[] use = master.StockUse();
        int stock = -1;
        double most = 1e-4;
        for (int s = 0; s < use.Length; s++)
        {
            double part = Math.Min(use[s] - Math.Floor(use[s]), Math.Ceiling(use[s]) - use[s]);
            if (part > most)
            {
                (most, stock) = (part, s);
            }
        }

        return stock;
    }

    private void Split(BarMaster master, Node node, int stock)
    {
        if (node.Low[stock] >= node.High[stock])
        {
            givenUp.Add(node);
            return;
        }

        // Any whole number inside the range makes the split complete; near the programme's own it is strong.
        int below = Math.Clamp((int)Math.Floor(master.StockUse()[stock]), node.Low[stock], node.High[stock] - 1);
        int[] high = [.. node.High];
        int[] low = [.. node.Low];
        high[stock] = below;
        low[stock] = below + 1;
        open.Add(new Node(node.Low, high, node.Bound, node.Depth + 1));
        open.Add(new Node(low, node.High, node.Bound, node.Depth + 1));
    }

    /// <summary>Lists all layouts that can matter and settles the node by them. False when there are too many or it took too long.</summary>
    private bool Exact(BarMaster master, Node node, int most, bool otherDuals)
    {
        if (run.Best is null || meter.Stop)
        {
            return false;
        }

        long target = run.Target;
        if (new PoolListing(model, master, random, meter).List(target, node.High, most, otherDuals) is not { } pool)
        {
            return false;
        }

        var exact = new BarExact(model, meter);
        bool closed = exact.Solve(pool, node.Low, node.High, target, otherDuals ? 6 : 1, out BarPlan? plan);
        run.Offer(plan);
        return closed;
    }

    private void Dive(BarMaster master, Node node, bool nearest)
    {
        run.Offer(new BarDive(model, meter, random).Run(master, node.Low, node.High, run.Target, 20, nearest));
    }

    private void Restricted(BarMaster master, Node node, double seconds)
    {
        if (!run.Done && !meter.Stop)
        {
            run.Offer(BarRestricted.Solve(model, master.Patterns, node.Low, node.High, run.Target, meter, seconds, meter.Limits.Threads));
        }
    }
}
