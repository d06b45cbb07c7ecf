using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;

namespace Nest.Solve.Choose;

/// <summary>Steps of <see cref="JointSolver"/> that plan anew from the best plan: with its sizes of blanks, at the prices that it reaches.</summary>
internal sealed class PlanAgain(
    Job job, ImmutableArray<Blank> blanks, ImmutableArray<Component> components, JointSearch search, SolveLimits limits, CancellationToken cancel)
{
    /// <summary>Parts whose stocks are tied (<see cref="SizeGroups"/>) planned anew from the sizes that the best plan uses: searches that know
    /// nothing of the ties have few layouts that keep to them.</summary>
    public void Narrow(double end)
    {
        var known = new HashSet<string>(StringComparer.Ordinal);
        for (var round = 0; round < (limits.Work is null ? 3 : 1) && search.Best is { Cost: not null, Missing: 0 } && !search.Done && search.Until(end) > 0.1; round++)
        {
            for (var c = 0; c < components.Length; c++)
            {
                var own = components[c].Sizes.Narrowed(components[c], search.Best.Parts[c]!);
                if (own is not { } some || !known.Add($"{c}|{Restrictions.Key(some)}"))
                {
                    continue;
                }

                var effort = limits with { Seconds = Math.Max(0.1, search.Until(end) / (2 * components.Length)), Threads = 1, Work = limits.Work / 4, Proves = false };
                var answer = RuleStart.Solve(components[c], some, effort, cancel);
                search.AddAll(c, answer.Columns);
                search.AddAll(c, answer.Plan?.Select(entry => entry.Column) ?? []);
            }

            search.Choose(1.0, onlyNew: true);
        }
    }

    /// <summary>Plans anew at the prices that the best plan has reached, from that plan on.</summary>
    public void Refine(double end)
    {
        // With a limit in work the number of rounds is part of it.
        var rounds = limits.Work is null ? 1000 : 1;
        var idle = 0;
        for (var round = 1; round <= rounds && idle < 3 && !search.Done && search.Best is { Cost: { } before, Missing: 0 } && search.Until(end) > 0.1; round++)
        {
            var answers = ReachedPrices.Solve(
                job, blanks, search.Best, limits with { Seconds = search.Until(end), Seed = limits.Seed + round, Proves = false, Threads = search.Threads }, cancel);
            for (var c = 0; c < answers.Length; c++)
            {
                search.AddAll(c, answers[c].Columns);
            }

            if (answers.All(answer => answer.Best is not null))
            {
                search.Offer([.. answers.Select((answer, c) => search.Listed(c, answer.Best!))], []);
            }

            search.Choose(1.0, onlyNew: true);
            search.Report();
            idle = search.Best.Cost < before ? 0 : idle + 1;
        }
    }
}
