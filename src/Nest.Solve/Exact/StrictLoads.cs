using System.Collections.Immutable;

namespace Nest.Solve.Exact;

/// <summary>A programme over listed loads, with the loads of its answer at their true cost: bare ones, those whose settings are not worked out yet, and those that break a rule which the
/// lists don't see are worked out, and the programme is solved again.</summary>
/// <remarks>Listed costs are never above the true ones, so each answer is a bound; when its loads are all true it is the best plan.
/// One more programme for each load that turns out dearer.</remarks>
internal static class StrictLoads
{
    private const int MostRounds = 200;

    /// <summary>Ways to cut that are looked at for a bare load before settings are.</summary>
    private const long QuickTries = 1_000_000;

    /// <param name="sources">By number of the loads' stock.</param>
    /// <param name="withTree">A load with the tree that it was listed with.</param>
    /// <param name="settings">What loads cost in settings: of those in the answer worked out more closely too; null: nothing.</param>
    /// <param name="raised">A bare load worked out by who listed it; null: by its stock.</param>
    public static LoadMaster.Answer Solve(
        IReadOnlyList<LoadSource> sources, List<Load> loads, Func<Load, Load> withTree, Func<IReadOnlyList<Load>, LoadMaster.Answer> solve, LoadSettings? settings, ExactMeter meter,
        Func<Load, long, ExactMeter, Load?>? raised = null)
    {
        var answer = solve(loads);
        var bound = answer.Bound;
        for (var round = 0; round < MostRounds && answer.Closed && !meter.IsOver && (Raise(QuickTries) || Sharpen() || Raise(long.MaxValue) || Obey()); round++)
        {
            answer = solve(loads);
            bound = Math.Max(bound, answer.Bound);
        }

        // Costs only rise, so what was shown before the time was up holds.
        return answer with { Bound = bound };

        bool Raise(long tries) => Work(load => load.IsBare, load => raised is null ? sources[load.Stock].Raised(load, tries, meter) : raised(load, tries, meter));

        bool Sharpen() => settings is not null && answer.Plan.Aggregate(false, (some, entry) => settings.Sharpen(entry.Load, meter) || some);

        // Neither is above the truth: the list sees raw edges, the layout damage and stages.
        bool Obey() => Work(load => !load.Real && !load.IsBare && !sources[load.Stock].IsTrue(withTree(load)), load => sources[load.Stock].Strict(load) is not { IsKnown: true } strict ? load
            : strict.Load is { } real ? real with { Cost = Math.Max(real.Cost, load.Cost) } : null);

        // Whether some load of the answer turned out dearer.
        bool Work(Func<Load, bool> asked, Func<Load, Load?> other)
        {
            var changed = false;
            foreach (var load in answer.Plan.Select(entry => entry.Load).Distinct().Where(asked).ToImmutableArray())
            {
                var known = other(load);
                if (known != load)
                {
                    loads.Remove(load);
                    changed = true;
                    if (known is not null)
                    {
                        loads.Add(known);
                    }
                }
            }

            return changed;
        }
    }
}
