using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>Solves the components of a job under scenarios, each component once for all scenarios that are the same to it.</summary>
internal sealed class ScenarioSolver(Job job, ImmutableArray<Blank> blanks, SolveLimits limits, CancellationToken cancel)
{
    /// <summary>A component's answer under a scenario.</summary>
    /// <param name="Feasible">False: some part has no stock under it.</param>
    internal sealed record Solved(
        Chosen? Best, Bound Bound, ImmutableArray<Column> Columns, IReadOnlyList<(long[] Values, long[] Best)> Cuts, bool Feasible);

    private static readonly Solved _none = new(null, Bound.None, [], [], Feasible: false);

    private readonly Dictionary<string, Solved> _solved = new(StringComparer.Ordinal);

    /// <summary>A component's answer, when it is there already.</summary>
    public Solved? Of(Component component, int c, Scenario scenario) => _solved.GetValueOrDefault(KeyOf(component, c, scenario));

    /// <summary>The answers of all components.</summary>
    /// <param name="early">Called while the search goes on, by one thread at a time: the best plan of each component so far (null: none
    /// yet) and the sum of their bounds. Not with a limit in work, as it would depend on who is first.</param>
    /// <param name="taken">Called with each component that was solved anew, in their order.</param>
    public ImmutableArray<Solved> Solve(Scenario scenario, double seconds, int threads, Action<Chosen?[], Bound> early, Action<int, Solved> taken)
    {
        var own = Components.Of(scenario.Apply(job), blanks);
        var keys = own.Select((component, c) => KeyOf(component, c, scenario)).ToArray();
        var open = Enumerable.Range(0, own.Length).Where(c => !_solved.ContainsKey(keys[c])).ToArray();
        var solved = new Solved[open.Length];
        var now = keys.Select(key => _solved.GetValueOrDefault(key)?.Best).ToArray();
        var bounds = keys.Select(key => _solved.GetValueOrDefault(key)?.Bound ?? Bound.None).ToArray();
        var gate = new Lock();
        ComponentQueue.Run([.. open.Select(c => ComponentQueue.Weight(own[c]))], seconds, threads, (at, share) =>
        {
            if (!IsServed(own[open[at]]))
            {
                solved[at] = _none;
                return;
            }

            var solver = new ComponentSolver(
                own[open[at]], limits with { Seconds = share, Threads = 1 }, (best, bound) => Early(open[at], best, bound), cancel);
            solver.Run();
            solved[at] = new(solver.Best, solver.Bound, [.. solver.Columns], solver.Cuts, Feasible: true);
        });

        // Taken in by order, not by who was ready first.
        for (var at = 0; at < open.Length; at++)
        {
            _solved[keys[open[at]]] = solved[at];
            taken(open[at], solved[at]);
        }

        return [.. keys.Select(key => _solved[key])];

        void Early(int c, Chosen best, Bound bound)
        {
            if (limits.Work is not null)
            {
                return;
            }

            lock (gate)
            {
                now[c] = best;
                bounds[c] = bound;
                early(now, Bound.Sum(bounds));
            }
        }
    }

    private static bool IsServed(Component component) => Enumerable.Range(0, component.Items).All(i =>
        Enumerable.Range(0, component.Stocks.Length).Any(s => component.Fits[s, i] is not null && component.Stocks[s].Stock.Available != 0));

    /// <summary>What of the scenario matters to a component: which of its suppliers are open and, where it has breaks, the prices.</summary>
    private static string KeyOf(Component component, int c, Scenario scenario)
    {
        var bought = component.Stocks.Select(frame => frame.Stock).Where(stock => !stock.IsLeftover).ToList();
        var names = bought.Select(Scenario.Key).Where(scenario.Suppliers.Contains).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);
        var lowest = scenario.Lowest && bought.Any(stock => !stock.Terms.Breaks.IsEmpty);
        return $"{c}|{lowest}|{string.Join('|', names)}";
    }
}
