using System.Collections.Immutable;

namespace Nest.Solve.Exact;

/// <summary>A programme over listed loads, with the loads of its answer at their true cost: those that break a rule which the lists don't see are worked
/// out anew and the programme is solved again.</summary>
/// <remarks>Listed costs are never above the true ones, so each answer is a bound; when its loads are all true it is the best plan.
/// One more programme for each load that turns out dearer.</remarks>
internal static class StrictLoads
{
    private const int MostRounds = 60;

    /// <param name="sources">By number of the loads' stock.</param>
    /// <param name="withTree">A load with the tree that it was listed with.</param>
    /// <param name="settings">What loads cost in settings: of those in the answer worked out more closely too; null: nothing.</param>
    public static LoadMaster.Answer Solve(
        IReadOnlyList<LoadSource> sources, List<Load> loads, Func<Load, Load> withTree, Func<IReadOnlyList<Load>, LoadMaster.Answer> solve, LoadSettings? settings, ExactMeter meter)
    {
        var answer = solve(loads);
        for (var round = 0; round < MostRounds && answer.Closed && !meter.IsOver; round++)
        {
            var dearer = settings is not null && answer.Plan.Aggregate(false, (some, entry) => settings.Sharpen(entry.Load, meter) || some);
            foreach (var load in answer.Plan.Select(entry => entry.Load).Where(load => !load.Real).Distinct().ToImmutableArray())
            {
                if (!sources[load.Stock].IsTrue(withTree(load)) && sources[load.Stock].Strict(load) is { IsKnown: true } strict)
                {
                    loads.Remove(load);
                    if (strict.Load is { } real)
                    {
                        // Neither is above the truth: the list sees raw edges, the layout damage and stages.
                        loads.Add(real with { Cost = Math.Max(real.Cost, load.Cost) });
                    }

                    dearer = true;
                }
            }

            if (!dearer)
            {
                break;
            }

            answer = solve(loads);
        }

        return answer;
    }
}
