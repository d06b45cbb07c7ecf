using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>The steps of <see cref="JointSolver"/> that solve each component by itself with some suppliers open: all at the lowest prices, then sets of few.</summary>
/// <remarks>Every plan buys from some set of suppliers. For one set, the components' bounds at the lowest prices, plus the deliveries that nothing waives, are below each
/// plan that buys from just this set, so the least of these sums over all sets is a bound.</remarks>
internal sealed class SupplierSteps(Job job, ImmutableArray<Blank> blanks, ImmutableArray<Component> components, JointSearch search, SolveLimits limits, CancellationToken cancel)
{
    /// <summary>Share of the time that the bound with the values of column generation may take.</summary>
    private const double BoundMost = 0.10;

    /// <summary>Seconds below which the bound with the values of column generation stays below the one without (measured on the metric
    /// example: 1095 against 1109 after one unit of deterministic time, 1122 after four).</summary>
    private const double LeastForCuts = 3;

    /// <summary>Deterministic time of the first choice: less finds nothing on the metric example, more nothing better.</summary>
    private const double FirstChoiceTime = 0.2;

    private readonly ImmutableArray<Component> _lowest = Components.Of(Scenario.AllAtLowest(job), blanks);
    private readonly ScenarioSolver _scenarios = new(job, blanks, limits with { Proves = false }, cancel);
    private readonly Money _saved = RestOfJob.MostSaved(job);

    /// <summary>Every supplier at the lowest prices, and beside it the bound and plans of whole pieces of stock.</summary>
    /// <param name="end">Share of the limit at which it ends.</param>
    /// <param name="firstBoundEnd">Share by which the first bound is there, however busy the machine.</param>
    public void Lowest(double end, double firstBoundEnd)
    {
        // Whole pieces of stock with the terms, but without column generation: a bound, and a plan, within a second or two. Beside the
        // column generation where there are threads for both, also where the exact method has one: neither may wait for the other on a busy machine.
        var both = limits.Threads > 1;
        var share = both || limits.Work is not null ? 1 : 0.5;
        var beside = both ? Task.Run(Relaxed) : Task.FromResult(Relaxed());

        // A set larger than the shop allows gives a bound, and layouts, but no plan.
        var (sum, _) = Solve(Everybody(), Math.Max(0.1, search.Until(end)));

        // The sum of the components' own plans is a fifth to a third too dear where deliveries and minimums count, and on a busy machine it was all
        // that there was after ten seconds. The choice takes a third of one.
        search.Choose(FirstChoiceTime, must: true);
        search.Report();
        var relaxed = beside.GetAwaiter().GetResult();
        for (var c = 0; c < components.Length; c++)
        {
            search.AddAll(c, relaxed.ColumnsOf(c));
        }

        Take(relaxed.Best);
        search.Raise(sum.Less(_saved));
        // With the values of column generation it is higher in the end, but in less time than this lower.
        if (search.Shares.All(share => share is not null) && (limits.Work is not null || BoundMost * limits.Seconds >= LeastForCuts))
        {
            search.Raise(JointBound.Of(job, [.. search.Shares.OfType<JointBound.Share>()], 4.0 * limits.Effort, Math.Min(BoundMost * limits.Seconds, search.Left), cancel));
        }

        search.Choose(1.0, onlyNew: true);

        // This runs beside the column generation. With a limit in work its plans are taken only at the end: else the answer would depend on
        // which of the two is quicker.
        RelaxedPlans Relaxed()
        {
            var own = new RelaxedPlans(
                job, components, _lowest, limits with { Seconds = Math.Max(0.1, share * search.Until(end)), Threads = 1, Proves = false }, search.Until(firstBoundEnd), cancel);
            own.Run(() =>
            {
                search.Raise(own.Bound);
                if (limits.Work is null)
                {
                    Take(own.Best);
                }

                search.Report();
            });
            return own;
        }

        void Take(JointPlan plan)
        {
            if (plan.Cost is not null)
            {
                search.Offer([.. plan.Parts.Select(part => part!)], plan.Extras);
            }
        }
    }

    /// <summary>The best plan of a component with every supplier open; null: none yet.</summary>
    public Chosen? Unrestricted(int c) =>
        _scenarios.Of(components[c], c, Everybody())?.Best is { } best ? search.Listed(c, best) : null;

    /// <summary>Every supplier at the lowest prices.</summary>
    private Scenario Everybody() => new([.. job.Stocks.Where(stock => !stock.IsLeftover).Select(Scenario.Key)], true);

    /// <summary>Every set of few suppliers, at listed and at lowest prices.</summary>
    /// <param name="end">Share of the limit at which it ends.</param>
    public void Sets(double end)
    {
        var scenarios = Scenario.Of(job, components.SelectMany(component => component.Stocks).Select(frame => frame.Stock));
        var suppliers = scenarios.SelectMany(scenario => scenario.Suppliers).Distinct(StringComparer.Ordinal).Count();
        if (limits.Work is not null && components.Sum(component => component.Items) > JointSolver.MostItemsForSets)
        {
            // With a limit in work nothing else would end this; the joint bound holds for all sets.
            return;
        }

        Money? least = null;
        var complete = suppliers <= Scenario.MostForSets;
        var looked = 0;
        for (; looked < scenarios.Length && !search.Done && (looked == 0 || search.Until(end) > 0); looked++)
        {
            var scenario = scenarios[looked];
            var (bound, possible) = Solve(scenario, Math.Max(0.1, search.Until(end) / (looked == 0 ? 2 : scenarios.Length - looked)));
            if (scenario.Lowest && possible)
            {
                var whole = bound.Value + scenario.LeastTerms(job);
                complete &= whole is not null;
                least = least is { } before && whole > before ? before : whole;
            }

            search.Choose(0.5, onlyNew: true);
        }

        // Only when every set has been looked at is the least of them a bound.
        search.Raise(complete && looked == scenarios.Length && least is { } ofAll ? Bound.Of(ofAll - _saved, Methods.EverySetOfSuppliers) : Bound.None);
    }

    /// <summary>Solves every component under the scenario; returns the sum of their bounds, and whether every part has stock under it (else
    /// no plan uses exactly these suppliers).</summary>
    private (Bound Bound, bool Possible) Solve(Scenario scenario, double seconds)
    {
        var forAll = scenario.Lowest && scenario.Suppliers.SetEquals(Everybody().Suppliers);
        var answers = _scenarios.Solve(scenario, seconds, search.Threads, Early, (c, answer) =>
        {
            search.AddAll(c, answer.Columns);
            search.AddAll(c, answer.Best?.Columns.Select(entry => entry.Column) ?? []);
        });
        for (var c = 0; scenario.Lowest && c < answers.Length; c++)
        {
            // The same component with every supplier open: what was proven of the layouts holds whoever may sell them.
            search.Shares[c] ??= answers[c] is { Feasible: true } answer ? new(_lowest[c], answer.Cuts) : null;
        }

        if (answers.Any(answer => !answer.Feasible))
        {
            return (Bound.None, false);
        }

        if (answers.All(answer => answer.Best is not null))
        {
            search.Offer([.. answers.Select((answer, c) => search.Listed(c, answer.Best!))], []);
        }

        return (Bound.Sum(answers.Select(answer => answer.Bound)), true);

        void Early(Chosen?[] now, Bound bound)
        {
            search.Raise(forAll ? bound.Less(_saved) : Bound.None);
            if (now.All(part => part is not null) && search.Offer([.. now.Select((part, c) => search.Listed(c, part!))], []))
            {
                search.Report();
            }
        }
    }
}
