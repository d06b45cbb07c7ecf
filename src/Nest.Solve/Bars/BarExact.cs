namespace Nest.Solve.Bars;

/// <summary>The master over a complete pool, decided.</summary>
/// <remarks>
/// Problem: is there a plan of at most the target cost over these layouts, and which is cheapest? Since the pool holds every layout
/// that such a plan can contain, the answer holds for the whole node. Method: CP-SAT on equality rows (exact integers).
/// Guarantee: exact when it returns true.
/// </remarks>
internal sealed class BarExact(BarModel model, WorkMeter meter)
{
    public bool Solve(LayoutPool pool, int[] low, int[] high, long target, out BarPlan? plan)
    {
        if (Environment.GetEnvironmentVariable("NEST_TRACE") is not null)
        {
            Console.Error.WriteLine($"t={meter.Seconds:0.00} exact pool={pool.Patterns.Count} target={target}");
        }

        (BarRestricted.Answer answer, plan) = BarRestricted.Solve(
            model, pool.Patterns, low, high, target, null, meter, 600, meter.Limits.Threads, equal: true);
        if (Environment.GetEnvironmentVariable("NEST_TRACE") is not null)
        {
            Console.Error.WriteLine($"t={meter.Seconds:0.00} {answer}");
        }

        return answer is BarRestricted.Answer.None or BarRestricted.Answer.Optimal;
    }
}
