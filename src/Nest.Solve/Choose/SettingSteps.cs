using System.Collections.Immutable;

namespace Nest.Solve.Choose;

/// <summary>Steps of <see cref="JointSolver"/> that make the plates of the best plan cheaper by what they truly cost with settings of fence and stop (<see cref="PlateAnnealing"/>): the other
/// searches go without them, and leave plans in which every second cut needs one.</summary>
/// <remarks>A search from the best plan, then one that begins from empty plates, and so on in turn until the time is over; with a limit in work the first alone. The first two may take any plates; the others
/// order nothing that the plan does not order, as orders may have terms of their own.</remarks>
internal sealed class SettingSteps(ImmutableArray<Component> components, JointSearch search, SolveLimits limits, CancellationToken cancel)
{
    /// <summary>Of one search, for each piece: twelve made jobs of 20 to 44 pieces, 10 s: 0.4 % dearer with 1000.</summary>
    private const double StepsByPiece = 4000;

    private int _searches;

    /// <summary>Whether settings cost something on a saw that cuts plates.</summary>
    public static bool Matter(ImmutableArray<Component> components) => components.Any(component => component.Stocks.Any(FewStops.IsSawn));

    /// <param name="end">Share of the limit at which it ends.</param>
    public void Run(double end)
    {
        for (var round = 0; search.Until(end) > 0 && (round == 0 || limits.Work is null) && !cancel.IsCancellationRequested && search.Whole(withSettings: true) is { } best; round++)
        {
            var plan = Again(best.Parts, fromAny: round < 2, anew: round % 2 == 1, limits with { Seconds = search.Until(end), Threads = limits.Work is null ? search.Threads : 1, Seed = limits.Seed + _searches++ });
            for (var c = 0; c < plan.Length; c++)
            {
                search.AddAll(c, plan[c].Columns.Select(entry => entry.Column));
            }

            search.Offer(plan, search.Best.Extras);
            search.Report();
        }
    }

    /// <param name="fromAny">Whether any plates may be taken.</param>
    /// <param name="anew">Whether it begins from empty plates: then what it finds counts only where it is cheaper.</param>
    private ImmutableArray<Chosen> Again(IReadOnlyList<Chosen> parts, bool fromAny, bool anew, SolveLimits effort)
    {
        var plan = parts.ToImmutableArray();
        var some = Enumerable.Range(0, components.Length).Where(c => components[c].Stocks.Any(FewStops.IsSawn)).ToArray();
        var all = (double)Math.Max(1, some.Sum(Pieces));
        foreach (var c in some)
        {
            var component = components[c];
            int?[] open = fromAny ? [.. component.Stocks.Select(frame => frame.Stock.Available)] : Open(component, parts[c]);
            var groups = component.Groups.Where(group => group.Stocks.Any(stock => FewStops.IsSawn(component.Stocks[stock]))).ToList();
            foreach (var group in groups)
            {
                var share = Pieces(c) / all / groups.Count;
                var own = effort with { Seconds = effort.Seconds * share, Work = effort.Work is { } work ? (long)(work * share) : null };
                if (PlateAnnealing.Run(component, group, plan[c], open, own, StepsByPiece, cancel, withSettings: true, anew) is { IsEmpty: false } answer
                    && search.TakeOut(c, answer) is var better && (!anew || Cost(component, better) < Cost(component, plan[c])))
                {
                    plan = plan.SetItem(c, better);
                }
            }
        }

        return plan;

        static long Cost(Component component, Chosen chosen) => chosen.Cost + chosen.SetUps(component);

        // Nothing is left out, and nothing is cut beyond the demand.
        long Pieces(int c) => components[c].Demand.Sum(count => (long)count);
    }

    /// <summary>Leftovers, and as many bought pieces as the plan has.</summary>
    private static int?[] Open(Component component, Chosen plan)
    {
        int?[] open = [.. component.Stocks.Select(frame => frame.Stock.IsLeftover ? frame.Stock.Available : 0)];
        foreach (var (column, count) in plan.Columns.Where(entry => !component.Stocks[entry.Column.Stock].Stock.IsLeftover))
        {
            open[column.Stock] += count;
        }

        return open;
    }
}
