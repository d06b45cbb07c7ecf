using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Exact;

namespace Nest.Solve.Choose;

/// <summary>Solves a job whose components are tied together by purchase terms (price breaks, minimums, delivery, number of
/// suppliers).</summary>
/// <remarks>
/// All layouts that any of the following finds, costed at listed prices, go into one <see cref="JointModel"/>; the best of its plans and
/// of the steps' own plans counts:
/// (1) small components: every layout there is (<see cref="AllColumns"/>), so that the model is exact on them;
/// (2) what the relaxation in whole pieces of stock wants, laid out (<see cref="RelaxedPlans"/>), and beside it every supplier open at the
/// lowest prices that breaks give: columns and bound;
/// (3) the rules of thumb (<see cref="Restrictions"/>), so that the one model is never dearer than they;
/// (3b) where sizes of a part's blanks cost or are ruled, what the best plan uses of them, and nothing else;
/// (4) again and again the prices of the best plan: open is only what its suppliers sell, at the price that the next piece would have;
/// (5) sets of suppliers, where there are few (<see cref="Scenario"/>).
/// Beside these steps, or between them where there are few stocks, the exact method looks for plans and proves (<see cref="JointProof"/>).
/// The bound is the highest of four.
/// (a) By sets of suppliers. Every plan buys from some set. For one set, the components' bounds at the lowest prices, plus the deliveries
/// that nothing waives, are below each plan that buys from just this set. So the least of these sums over all sets is a bound. With more
/// than four suppliers only the set of all is solved, and no delivery is counted.
/// (b) <see cref="JointBound"/>. It runs first without the values of column generation, but with what plates hold: so there is a bound early.
/// (c) Where every layout is known, the bound of the choosing model over the layouts' lower costs.
/// (d) The exact method's.
/// </remarks>
internal sealed class JointSolver(
    Job job, ImmutableArray<Blank> blanks, ImmutableArray<Component> components, SolveLimits limits, CancellationToken cancel)
{
    // Shares of the time at which the steps end.
    private const double LayoutsEnd = 0.06;
    private const double LowestEnd = 0.36;
    private const double FirstBoundEnd = 0.75;
    private const double BoundMost = 0.10;
    private const double RulesEnd = 0.66;
    private const double RefineEnd = 0.83;
    private const double SetsEnd = 0.93;

    /// <summary>Of the time that is left, for the exact method: at first, and again with the plan that column generation has found.</summary>
    private const double FirstProveShare = 0.4;

    /// <inheritdoc cref="FirstProveShare"/>
    private const double ProveShare = 0.5;

    /// <summary>Share of the limit at which the exact method ends beside the other steps, and the least seconds for which it begins there.</summary>
    private const double BesideEnd = 0.9;

    /// <inheritdoc cref="BesideEnd"/>
    private const double LeastBeside = 5;

    /// <summary>Seconds below which the bound with the values of column generation stays below the one without (measured on the metric
    /// example: 1095 against 1109 after one unit of deterministic time, 1122 after four).</summary>
    private const double LeastForCuts = 3;

    private const double FirstChoiceShare = 0.15;

    /// <summary>A model with more columns of a component only wastes its time.</summary>
    private const int MostColumns = 1500;

    /// <summary>With a limit in work instead of time, larger jobs are not solved for each set of suppliers, nor by each supplier's rule.</summary>
    private const int MostItemsForSets = 8;

    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly ColumnPool[] _pools = [.. components.Select(_ => new ColumnPool())];
    private readonly ImmutableArray<Column>[] _all = new ImmutableArray<Column>[components.Length];
    private readonly bool[] _exact = new bool[components.Length];
    private readonly ImmutableArray<Component> _lowest = Components.Of(Scenario.AllAtLowest(job), blanks);
    private readonly JointBound.Share?[] _shares = new JointBound.Share?[components.Length];
    private readonly ScenarioSolver _scenarios = new(job, blanks, limits with { Proves = false }, cancel);
    private int _threads = limits.Threads;
    private readonly Lock _gate = new();
    private readonly Money _saved = RestOfJob.MostSaved(job);
    private RelaxedPlans? _relaxed;
    private JointProof? _proof;
    private Action<JointPlan, Bound>? _progress;
    private int _chosenFrom = -1;

    /// <summary>The best plan with all terms.</summary>
    public JointPlan Best { get; } = new(job, components);

    public Bound Bound { get; private set; }

    /// <summary>Whether purchase terms, fuss or rules for a part's stocks matter for this job at all.</summary>
    public static bool IsTied(Job job, ImmutableArray<Component> components)
    {
        if (components.Any(component => Enumerable.Range(0, component.Items).Any(component.Sizes.Matters)))
        {
            return true;
        }

        // What layouts that stay have on order counts too: a piece bought whole beside it may be worth its break or minimum.
        var taken = KeptLayouts.Stocks(job.Kept);
        var bought = components.SelectMany(component => component.Stocks).Select(frame => frame.Stock)
            .Concat(job.Stocks.Where(stock => taken.ContainsKey(stock.Id))).Where(stock => !stock.IsLeftover).ToList();
        var suppliers = bought.Select(Scenario.Key).Distinct(StringComparer.Ordinal).Count();
        return (bought.Count > 0 && (FussCosts.OfLine(job) + FussCosts.OfSupplier(job)) > Money.Zero)
            || bought.Any(stock => !stock.Terms.IsPlain || (job.SupplierOf(stock.Supplier ?? "") is { IsPlain: false }))
            || (job.MostSuppliers is { } most && most < suppliers);
    }

    /// <summary>Layouts found, at listed prices.</summary>
    public IReadOnlyList<Column> ColumnsOf(int c) => _pools[c].Columns;

    /// <summary>Per component what was proven of its layouts at the lowest prices, for this demand and every smaller one; null when not
    /// all components got so far.</summary>
    public ImmutableArray<IReadOnlyList<(long[] Values, long[] Best)>>? Cuts =>
        _shares.All(share => share is not null) ? [.. _shares.Select(share => share!.Cuts)] : null;

    /// <summary>Begins from layouts per component, and a plan, that are known already (of the same job, or of another demand).</summary>
    public void Start(IEnumerable<IReadOnlyList<Column>> columns, JointPlan plan)
    {
        foreach (var (some, c) in columns.Select((some, c) => (some, c)))
        {
            AddAll(c, some);
        }

        if (plan.Cost is not null)
        {
            Offer([.. plan.Parts.Select(part => part!)], plan.Extras);
        }
    }

    /// <param name="progress">Called with the best plan so far and the bound, from several threads.</param>
    public void Run(Action<JointPlan, Bound>? progress)
    {
        _progress = progress;
        EveryLayout();
        if (_exact.All(exact => exact))
        {
            // With every layout known, the choosing model alone often finds the best plan and proves it. It has no plan to start from, and where it
            // finds none soon the other steps need the time: without a share it once took all of it, and three pieces were left out.
            Choose(4.0, share: FirstChoiceShare);
            Raise(AllColumnsBound(4.0));
        }

        _proof = new(job, components, limits, cancel) { Best = Whole, Take = Found, Raise = Proven };
        if (_proof.IsSmall)
        {
            // With many stocks to price the bound of whole pieces is there sooner, and a plan with it.
            Step(() => Prove(FirstProveShare * Left));
        }

        // With many stocks its rounds are long, and it needs no more than one thread. With a limit in work these would not end by any count of
        // steps that is left.
        if (!_proof.IsSmall && limits.Threads > 1 && limits.Work is null && Left >= LeastBeside && !Done && _proof.RunBeside(BesideEnd * Left))
        {
            _threads--;
        }

        Step(Lowest);
        if (_proof.IsSmall || (limits.Threads == 1 && limits.Work is null))
        {
            Step(() => Prove(ProveShare * Left));
        }

        Step(Rules);
        Step(Narrow);
        Step(Refine);
        Step(Sets);
        Step(() => _proof.Wait(Left));
        _proof.End();
        TakeIn();
        if (!Done)
        {
            Choose(8.0);
        }

        FewSettings();
    }

    /// <summary>Chooses once more among the layouts that cost least for what they cut, with what setting fence and stop costs for each that is
    /// used: fewer different layouts may be worth some metal.</summary>
    private void FewSettings()
    {
        const int Most = 250;
        if (Best.Missing > 0 || Best.SetUps == Money.Zero || cancel.IsCancellationRequested)
        {
            return;
        }

        var columns = Enumerable.Range(0, components.Length).Select(c =>
        {
            IEnumerable<Column> found = _exact[c] ? _all[c] : _pools[c].Columns;
            found = _shares[c] is { Cuts: [.., var (values, _)] }
                ? found.OrderBy(column => (column.Cost + (column.SetUp(components[c]) / 4.0) - (column.Worth(values) / IStockPricer.Scale)) / column.Counts.Sum())
                : found.OrderBy(column => (double)column.Cost / column.Counts.Sum());
            return Best.Parts[c]!.Columns.Select(entry => entry.Column).Concat(found.Take(Most)).DistinctBy(column => column.Key).ToImmutableArray();
        }).ToImmutableArray();
        var model = new JointModel(job, components, columns, [.. _exact.Select(_ => false)], setUps: true);
        if (model.Solve(4.0 * limits.Effort, Math.Max(0.2, 0.1 * limits.Seconds), limits.Seed, Best.Hint, cancel) is { } answer)
        {
            Offer([.. answer.Chosen.Select((chosen, c) => TakeOut(c, chosen))], answer.Extras);
        }
    }

    /// <summary>The exact method as a step.</summary>
    private void Prove(double seconds)
    {
        if (_proof!.Run(seconds))
        {
            TakeIn();
            Choose(1.0, onlyNew: true);
        }
    }

    private (long Cost, IReadOnlyList<Chosen> Parts)? Whole()
    {
        lock (_gate)
        {
            return Best is { Cost: { } cost, Missing: 0 } ? (cost.Units, [.. Best.Parts.Select(part => part!)]) : null;
        }
    }

    private void Found(ImmutableArray<ImmutableArray<(Column Column, int Count)>> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        Offer([.. plan.Select((columns, c) => TakeOut(c, columns))], extras);
        Report();
    }

    private void Proven(Bound bound)
    {
        Raise(bound);
        Report();
    }

    /// <summary>Takes in the layouts that the exact method has found.</summary>
    private void TakeIn()
    {
        foreach (var (c, column) in _proof!.NewColumns())
        {
            AddAll(c, [column]);
        }
    }

    private void Step(Action step)
    {
        TakeIn();
        // However short the time, one plan is made.
        if (!Done && (Best.Cost is null || Left > 0) && !(cancel.IsCancellationRequested && Best.Cost is not null))
        {
            step();
            Report();
        }
    }

    private double Left => limits.Seconds - _clock.Elapsed.TotalSeconds;

    /// <summary>Seconds until this share of the limit.</summary>
    private double Until(double share) => (share * limits.Seconds) - _clock.Elapsed.TotalSeconds;

    /// <summary>Proven, to less than a cent.</summary>
    private bool Done => Best.Cost is { } cost && Best.Missing == 0 && !Contradictions.Found(Bound, cost) && Bound.Proves(cost);

    private void Raise(Bound bound)
    {
        lock (_gate)
        {
            Bound = Bound.Higher(Bound, bound);
        }
    }

    private void Report()
    {
        lock (_gate)
        {
            _progress?.Invoke(Best, Bound);
        }
    }

    private void EveryLayout()
    {
        using var guard = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        if (limits.Work is null)
        {
            guard.CancelAfter(TimeSpan.FromSeconds(LayoutsEnd * limits.Seconds));
        }

        Parallel.For(0, components.Length, new() { MaxDegreeOfParallelism = Math.Max(1, limits.Threads) }, c =>
            (_all[c], _exact[c]) = AllColumns.Of(components[c], guard.Token));
        for (var c = 0; c < components.Length; c++)
        {
            AddAll(c, _all[c]);
        }
    }

    private Bound AllColumnsBound(double deterministicTime) => components.All(component => component.LowerCosts.Valid)
        && new JointModel(job, components, [.. _all], [.. _exact], lower: true)
            .Solve(deterministicTime * limits.Effort, Math.Max(0.1, 0.3 * Left), limits.Seed, null, cancel) is { } answer
        ? Bound.Of(answer.Bound, Methods.EveryLayout)
        : Bound.None;

    private void Lowest()
    {
        // Whole pieces of stock with the terms, but without column generation: a bound, and a plan, within a second or two. Beside the
        // column generation where there are threads for both.
        var alone = _threads > 1 || limits.Work is not null;
        _relaxed = new(job, components, _lowest, limits with { Seconds = Math.Max(0.1, Until(LowestEnd) * (alone ? 1 : 0.5)), Threads = 1, Proves = false }, Until(FirstBoundEnd), cancel);
        var first = _threads > 1 ? Task.Run(Relaxed) : Task.CompletedTask;
        if (_threads <= 1)
        {
            Relaxed();
        }

        // A set larger than the shop allows gives a bound, and layouts, but no plan.
        var (sum, _) = Solve(Everybody(), Math.Max(0.1, Until(LowestEnd)));
        first.GetAwaiter().GetResult();
        for (var c = 0; c < components.Length; c++)
        {
            AddAll(c, _relaxed.ColumnsOf(c));
        }

        Take(_relaxed.Best);
        Raise(sum.Less(_saved));
        // With the values of column generation it is higher in the end, but in less time than this lower.
        if (_shares.All(share => share is not null) && (limits.Work is not null || BoundMost * limits.Seconds >= LeastForCuts))
        {
            Raise(JointBound.Of(job, [.. _shares.OfType<JointBound.Share>()], 4.0 * limits.Effort, Math.Min(BoundMost * limits.Seconds, Left), cancel));
        }

        Choose(1.0, onlyNew: true);

        // This runs beside the column generation. With a limit in work its plans are taken only at the end: else the answer would depend on
        // which of the two is quicker.
        void Relaxed() => _relaxed.Run(() =>
        {
            Raise(_relaxed.Bound);
            if (limits.Work is null)
            {
                Take(_relaxed.Best);
            }

            Report();
        });

        void Take(JointPlan plan)
        {
            if (plan.Cost is not null)
            {
                Offer([.. plan.Parts.Select(part => part!)], plan.Extras);
            }
        }
    }

    private bool Offer(ImmutableArray<Chosen> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        lock (_gate)
        {
            return Best.Offer(plan, extras);
        }
    }

    /// <summary>As one would without a plan, at listed prices.</summary>
    private void Rules()
    {
        // Where a rule leaves a component as it is, the plan of the step before serves.
        var free = Enumerable.Range(0, components.Length).Select(Unrestricted).ToArray();
        var rules = new RulePlans(job, blanks, components, limits with { Proves = false, Threads = _threads }, cancel);
        rules.Run(
            () => Until(RulesEnd),
            limits.Work is null || components.Sum(component => component.Items) <= MostItemsForSets ? null : (int)limits.WorkOf(3 * components.Length));
        for (var c = 0; c < components.Length; c++)
        {
            AddAll(c, rules.ColumnsOf(c));
        }

        foreach (var plan in rules.Plans(free))
        {
            Offer(plan, []);
        }

        Choose(1.0, onlyNew: true);
    }

    /// <summary>Parts whose stocks are tied (<see cref="SizeGroups"/>) planned anew from the sizes that the best plan uses: searches that know
    /// nothing of the ties have few layouts that keep to them.</summary>
    private void Narrow()
    {
        var known = new HashSet<string>(StringComparer.Ordinal);
        for (var round = 0; round < (limits.Work is null ? 3 : 1) && Best is { Cost: not null, Missing: 0 } && !Done && Until(RefineEnd) > 0.1; round++)
        {
            for (var c = 0; c < components.Length; c++)
            {
                var own = components[c].Sizes.Narrowed(components[c], Best.Parts[c]!);
                if (own is not { } some || !known.Add($"{c}|{Restrictions.Key(some)}"))
                {
                    continue;
                }

                var effort = limits with { Seconds = Math.Max(0.1, Until(RefineEnd) / (2 * components.Length)), Threads = 1, Work = limits.Work / 4, Proves = false };
                var answer = RuleStart.Solve(components[c], some, effort, cancel);
                AddAll(c, answer.Columns);
                AddAll(c, answer.Plan?.Select(entry => entry.Column) ?? []);
            }

            Choose(1.0, onlyNew: true);
        }
    }

    private Chosen? Unrestricted(int c) =>
        _scenarios.Of(components[c], c, Everybody())?.Best is { } best ? Listed(c, best) : null;

    /// <summary>Every supplier at the lowest prices.</summary>
    private Scenario Everybody() => new([.. job.Stocks.Where(stock => !stock.IsLeftover).Select(Scenario.Key)], true);

    /// <summary>Every set of few suppliers, at listed and at lowest prices.</summary>
    private void Sets()
    {
        var scenarios = Scenario.Of(job, components.SelectMany(component => component.Stocks).Select(frame => frame.Stock));
        var suppliers = scenarios.SelectMany(scenario => scenario.Suppliers).Distinct(StringComparer.Ordinal).Count();
        if (limits.Work is not null && components.Sum(component => component.Items) > MostItemsForSets)
        {
            // With a limit in work nothing else would end this; the joint bound holds for all sets.
            return;
        }

        Money? least = null;
        var complete = suppliers <= Scenario.MostForSets;
        var looked = 0;
        for (; looked < scenarios.Length && !Done && (looked == 0 || Until(SetsEnd) > 0); looked++)
        {
            var scenario = scenarios[looked];
            var (bound, possible) = Solve(scenario, Math.Max(0.1, Until(SetsEnd) / (looked == 0 ? 2 : scenarios.Length - looked)));
            if (scenario.Lowest && possible)
            {
                var whole = bound.Value + scenario.LeastTerms(job);
                complete &= whole is not null;
                least = least is { } before && whole > before ? before : whole;
            }

            Choose(0.5, onlyNew: true);
        }

        // Only when every set has been looked at is the least of them a bound.
        Raise(complete && looked == scenarios.Length && least is { } ofAll ? Bound.Of(ofAll - _saved, Methods.EverySetOfSuppliers) : Bound.None);
    }

    /// <summary>Plans anew at the prices that the best plan has reached, from that plan on.</summary>
    private void Refine()
    {
        // With a limit in work the number of rounds is part of it.
        var rounds = limits.Work is null ? 1000 : 1;
        var idle = 0;
        for (var round = 1; round <= rounds && idle < 3 && !Done && Best is { Cost: { } before, Missing: 0 } && Until(RefineEnd) > 0.1; round++)
        {
            var answers = ReachedPrices.Solve(
                job, blanks, Best, limits with { Seconds = Until(RefineEnd), Seed = limits.Seed + round, Proves = false, Threads = _threads }, cancel);
            for (var c = 0; c < answers.Length; c++)
            {
                AddAll(c, answers[c].Columns);
            }

            if (answers.All(answer => answer.Best is not null))
            {
                Offer([.. answers.Select((answer, c) => Listed(c, answer.Best!))], []);
            }

            Choose(1.0, onlyNew: true);
            Report();
            idle = Best.Cost < before ? 0 : idle + 1;
        }
    }

    /// <summary>Solves every component under the scenario; returns the sum of their bounds, and whether every part has stock under it (else
    /// no plan uses exactly these suppliers).</summary>
    private (Bound Bound, bool Possible) Solve(Scenario scenario, double seconds)
    {
        var forAll = scenario.Lowest && scenario.Suppliers.SetEquals(Everybody().Suppliers);
        var answers = _scenarios.Solve(scenario, seconds, _threads, Early, (c, answer) =>
        {
            AddAll(c, answer.Columns);
            AddAll(c, answer.Best?.Columns.Select(entry => entry.Column) ?? []);
        });
        for (var c = 0; scenario.Lowest && c < answers.Length; c++)
        {
            // The same component with every supplier open: what was proven of the layouts holds whoever may sell them.
            _shares[c] ??= answers[c] is { Feasible: true } answer ? new(_lowest[c], answer.Cuts) : null;
        }

        if (answers.Any(answer => !answer.Feasible))
        {
            return (Bound.None, false);
        }

        if (answers.All(answer => answer.Best is not null))
        {
            Offer([.. answers.Select((answer, c) => Listed(c, answer.Best!))], []);
        }

        return (Bound.Sum(answers.Select(answer => answer.Bound)), true);

        void Early(Chosen?[] now, Bound bound)
        {
            Raise(forAll ? bound.Less(_saved) : Bound.None);
            if (now.All(part => part is not null) && Offer([.. now.Select((part, c) => Listed(c, part!))], []))
            {
                Report();
            }
        }
    }

    private void AddAll(int c, IEnumerable<Column> columns)
    {
        foreach (var column in columns)
        {
            _pools[c].Add(column.At(components[c]));
        }
    }

    /// <summary>A new plan, not a copy: its cost is that of the columns at listed prices.</summary>
    private Chosen Listed(int c, Chosen plan) => new([.. plan.Columns.Select(entry => (entry.Column.At(components[c]), entry.Count))], plan.Missing);

    private Chosen TakeOut(int c, IEnumerable<(Column, int)> columns) =>
        Surplus.TakeOut(components[c], columns, components[c].Demand.AsSpan());

    /// <param name="share">Of the time left.</param>
    private void Choose(double deterministicTime, bool onlyNew = false, double share = 1)
    {
        var known = _pools.Sum(pool => pool.Columns.Count);
        if (cancel.IsCancellationRequested || (Left <= 0.02 && Best.Cost is not null) || (onlyNew && known == _chosenFrom))
        {
            return;
        }

        _chosenFrom = known;
        var columns = Enumerable.Range(0, components.Length).Select(Candidates).ToImmutableArray();
        var model = new JointModel(job, components, columns, [.. _exact]);
        if (model.Solve(deterministicTime * limits.Effort, Math.Max(0.1, share * Left), limits.Seed, Best.Hint, cancel) is { } answer)
        {
            Offer([.. answer.Chosen.Select((chosen, c) => TakeOut(c, chosen))], answer.Extras);
        }
    }

    /// <summary>The columns that a model chooses from: of very many those that cost least beyond the value of what they cut, and those
    /// of the best plan.</summary>
    private ImmutableArray<Column> Candidates(int c)
    {
        var columns = _exact[c] ? _all[c] : [.. _pools[c].Columns];
        if (_exact[c] || columns.Length <= MostColumns || _shares[c] is not { Cuts: [.., var (values, _)] })
        {
            return columns;
        }

        var best = Best.Parts[c]?.Columns.Select(entry => entry.Column) ?? [];
        return [.. columns.OrderBy(column => column.Cost - (column.Worth(values) / IStockPricer.Scale)).Take(MostColumns)
            .Concat(best).DistinctBy(column => column.Key)];
    }
}
