using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>Solves one component of a job without purchase terms: first as each rule of thumb would, with less to choose from, then
/// the whole from the best of those plans and all their layouts.</summary>
/// <remarks>So the one model is never dearer than the rules it tried. Components of one group, where forms are no choice, go straight
/// to <see cref="ComponentSolver"/>. Guarantee: heuristic plan, valid bound (of the whole only).</remarks>
internal sealed class RuleSolver(
    Component component, ImmutableArray<Restriction> rules, SolveLimits limits, Action<Chosen, Bound> improved, CancellationToken cancel)
{
    /// <summary>Of the time, and of the work, that all rules together get.</summary>
    private const double Share = 0.45;

    public Chosen? Best { get; private set; }

    public Bound Bound { get; private set; }

    public void Run()
    {
        var clock = Stopwatch.StartNew();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var own = component.Groups.Length == 1 ? [] : rules
            .Select(rule => RuleStart.Of(component, rule))
            .Where(blanks => blanks is { } some && seen.Add(Restrictions.Key(some)))
            .Select(blanks => blanks!.Value).ToArray();
        var starts = new List<RuleStart.Answer>();
        Chosen? start = null;
        for (var r = 0; r < own.Length && !cancel.IsCancellationRequested; r++)
        {
            var left = (Share * limits.Seconds) - clock.Elapsed.TotalSeconds;
            if (left <= 0)
            {
                break;
            }

            var answer = RuleStart.Solve(component, own[r], limits with { Seconds = left / (own.Length - r), Work = limits.Work / own.Length }, cancel);
            starts.Add(answer);
            if (answer.Plan is { } plan)
            {
                var chosen = Surplus.TakeOut(component, plan, component.Demand.AsSpan());
                if (chosen.IsBetterThan(start))
                {
                    start = chosen;
                    improved(start, SizeBound.Of(component, component.Demand.AsSpan()));
                }
            }
        }

        var solver = new ComponentSolver(
            component, limits with { Seconds = Math.Max(0.05, limits.Seconds - clock.Elapsed.TotalSeconds) }, improved, cancel);
        if (start is not null)
        {
            solver.Start(start, starts.SelectMany(answer => answer.Columns));
        }

        solver.Run();
        Best = solver.WithFewSettings();
        Bound = solver.Bound;
    }
}
