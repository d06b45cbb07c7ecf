namespace Nest.Solve.Bars;

/// <summary>From the root bound to the proof.</summary>
internal sealed class BarTree(BarRun run, BarPricing pricing, Random random)
{
    private readonly BarModel model = run.Model;
    private readonly WorkMeter meter = run.Meter;

    public void Run()
    {
        var root = new BarMaster(model, pricing, meter.Limits.Seed);
        foreach ((BarPattern pattern, _) in run.Best?.Bars ?? [])
        {
            root.Add(pattern);
        }

        root.Generate(meter, 20000, run.Best?.Cost ?? long.MaxValue);
        run.Raise(root.Bound);
        if (run.Done || meter.Stop)
        {
            return;
        }

        int[] low = new int[model.Stocks];
        int[] high = [.. model.MostBars];
        Dive(root, low, high, 1);
        if (run.Done || meter.Stop)
        {
            return;
        }

        root.Sharpen(meter);
        run.Raise(root.Bound);
        if (Environment.GetEnvironmentVariable("NEST_TRACE") is not null) { Console.Error.WriteLine($"pivots={root.Pivots} rounds={root.Rounds}"); }
        if (Environment.GetEnvironmentVariable("NEST_TRACE") is not null)
        {
            BarDual d = root.BestDual!;
            double t0 = meter.Seconds;
            LayoutPool pool = LayoutPool.List(model, d, run.Target, high, 1000000, meter);
            Console.Error.WriteLine($"t={t0:0.00} LP={root.Objective} bound={(double)d.Scaled / d.Scale} target={run.Target} gap={(double)d.Gap(run.Target) / d.Scale:g4} pool={pool.Patterns.Count} complete={pool.Complete} in {meter.Seconds - t0:0.00} cols={root.Patterns.Count}");
            foreach (BarDual o in root.Duals)
            {
                pool.Sieve(o, run.Target);
            }

            Console.Error.WriteLine($"   sieved {pool.Patterns.Count}");
        }

        for (int k = 0; k < 3 && !run.Done && !meter.Stop; k++)
        {
            Dive(root, low, high, k);
            Restricted(root, low, high, 2);
        }
    }

    private void Dive(BarMaster root, int[] low, int[] high, int trial)
    {
        var dive = new BarDive(model, meter, random);
        run.Offer(dive.Run(root, low, high, run.Target, 20, trial == 0));
        foreach (BarPattern p in dive.Fresh)
        {
            root.Add(p);
        }
    }

    private void Restricted(BarMaster root, int[] low, int[] high, double seconds)
    {
        if (run.Done || meter.Stop)
        {
            return;
        }

        (_, BarPlan? plan) = BarRestricted.Solve(
            model, root.Patterns, low, high, run.Target, null, meter, seconds, meter.Limits.Threads);
        run.Offer(plan);
    }
}
