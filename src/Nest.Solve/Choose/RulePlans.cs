using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;

namespace Nest.Solve.Choose;

/// <summary>Plans by the rules of thumb (<see cref="Restrictions"/>): each component once for each way in which the rules restrict
/// it.</summary>
/// <remarks>List scheduling over all such tasks; forms first, as the suppliers' turn comes once more with their sets.</remarks>
internal sealed class RulePlans(
    Job job, ImmutableArray<Blank> blanks, ImmutableArray<Component> components, SolveLimits limits, CancellationToken cancel)
{
    /// <summary>Less than this is no time to solve what may come from several forms.</summary>
    private const double LeastShare = 0.5;

    private readonly List<ImmutableArray<Blank>?[]> _rules =
        [.. Restrictions.Of(job, blanks).Select(rule => components.Select(component => RuleStart.Of(component, rule)).ToArray())];

    private readonly Dictionary<string, RuleStart.Answer>[] _known =
        [.. components.Select(_ => new Dictionary<string, RuleStart.Answer>(StringComparer.Ordinal))];

    /// <summary>Layouts found for a component.</summary>
    public IEnumerable<Column> ColumnsOf(int c) => _known[c].Values.SelectMany(answer =>
        answer.Columns.Concat(answer.Plan?.Select(entry => entry.Column) ?? []));

    /// <param name="left">Seconds that are left.</param>
    /// <param name="most">Tasks at most; null: as many as there is time for.</param>
    public void Run(Func<double> left, int? most)
    {
        var tasks = new List<(int C, string Key, ImmutableArray<Blank> Blanks)>();
        foreach (var row in _rules)
        {
            for (var c = 0; c < row.Length; c++)
            {
                if (row[c] is { } some && _known[c].TryAdd(Restrictions.Key(some), new(null, [])))
                {
                    tasks.Add((c, Restrictions.Key(some), some));
                }
            }
        }

        var fitting = most ?? (limits.Work is null ? (int)(left() * limits.Threads / LeastShare) : tasks.Count);
        tasks = [.. tasks.Take(Math.Max(3, fitting))];
        var answers = new RuleStart.Answer[tasks.Count];
        ComponentQueue.Run(
            [.. tasks.Select(task => ComponentQueue.Weight(components[task.C]))], Math.Max(0.1, left()), limits.Threads, (t, seconds) =>
            {
                var effort = limits with { Seconds = seconds, Threads = 1, Work = limits.Work / Math.Max(1, _rules.Count) };
                answers[t] = left() > 0 ? RuleStart.Solve(components[tasks[t].C], tasks[t].Blanks, effort, cancel) : new(null, []);
            });
        for (var t = 0; t < answers.Length; t++)
        {
            _known[tasks[t].C][tasks[t].Key] = answers[t];
        }
    }

    /// <summary>The rules' plans that are complete.</summary>
    /// <param name="free">By component, the plan where a rule restricts nothing; null: none.</param>
    public IEnumerable<ImmutableArray<Chosen>> Plans(IReadOnlyList<Chosen?> free)
    {
        foreach (var row in _rules)
        {
            var plans = row.Select((some, c) => some is { } own
                ? _known[c].GetValueOrDefault(Restrictions.Key(own))?.Plan is { } plan
                    ? Surplus.TakeOut(components[c], plan, components[c].Demand.AsSpan())
                    : null
                : free[c]).ToArray();
            if (plans.All(plan => plan is not null))
            {
                yield return [.. plans.Select(plan => plan!)];
            }
        }
    }
}
