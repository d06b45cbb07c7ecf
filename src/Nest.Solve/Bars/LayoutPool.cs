namespace Nest.Solve.Bars;

/// <summary>All layouts that can still belong to a plan within a target cost.</summary>
/// <remarks>
/// Problem: list every layout whose excess over the bound is within the gap (<see cref="BarDual"/>). Method: one complete
/// depth-first listing per stock with an exact completion bound (<see cref="LayoutSearch"/>), then a sieve by other duals.
/// Guarantee: complete when <see cref="Complete"/>; then a plan within the target exists exactly when one exists over the pool.
/// </remarks>
internal sealed class LayoutPool
{
    private LayoutPool(List<BarPattern> patterns, bool complete)
    {
        Patterns = patterns;
        Complete = complete;
    }

    public List<BarPattern> Patterns { get; private set; }

    public bool Complete { get; }

    public static LayoutPool List(BarModel model, BarDual dual, long target, ReadOnlySpan<int> high, int most, WorkMeter meter)
    {
        var result = new List<BarPattern>();
        for (int s = 0; s < model.Stocks; s++)
        {
            if (high[s] == 0)
            {
                continue;
            }

            var value = new long[model.Types];
            for (int i = 0; i < model.Types; i++)
            {
                value[i] = model.MostCopies[s][i] > 0 ? dual.Dual[i] - (dual.Scale * model.PieceCost(s, i)) : 0;
            }

            foreach (Leftovers which in LayoutSearch.Classes(model, s))
            {
                int group = which == Leftovers.Kept ? model.GroupOf[s] : -1;
                if (group >= 0 && high[model.Stocks + group] == 0)
                {
                    continue;
                }

                Int128 least = dual.LeastValue(s, group, target);
                var search = new LayoutSearch(model, s, which, value, dual.Scale, model.MostCopies[s], true, 12_000_000);
                bool done = search.All((long)Int128.Clamp(least, long.MinValue / 4, long.MaxValue / 4), most - result.Count, search.Steps + (200L * most), () => meter.Stop);
                meter.Steps(search.Steps * 5);
                result.AddRange(search.Found.Select(f => f.Pattern));
                if (!done)
                {
                    return new LayoutPool(result, false);
                }
            }
        }

        return new LayoutPool(result, true);
    }

    /// <summary>Whether another dual excludes some of the layouts.</summary>
    public bool Excludes(BarDual dual, long target) => Patterns.Exists(Excluded(dual, target));

    /// <summary>Drops what another dual excludes.</summary>
    public void Sieve(BarDual dual, long target) => Patterns.RemoveAll(Excluded(dual, target));

    private static Predicate<BarPattern> Excluded(BarDual dual, long target)
    {
        Int128 gap = dual.Gap(target);
        return p => dual.Excess(p) > gap;
    }
}
