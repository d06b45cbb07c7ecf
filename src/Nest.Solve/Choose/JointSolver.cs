using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Exact;

namespace Nest.Solve.Choose;

/// <summary>Solves a job whose components are tied together by purchase terms (price breaks, minimums, delivery, number of
/// suppliers; <see cref="JobTies"/>), or in which settings of fence and stop cost something (<see cref="SettingSteps.Matter"/>).</summary>
/// <remarks>
/// All layouts that any of the following finds, costed at listed prices, go into one <see cref="JointModel"/>; the best of its plans and
/// of the steps' own plans counts:
/// (1) small components: every layout there is (<see cref="AllColumns"/>), so that the model is exact on them;
/// (2) what the relaxation in whole pieces of stock wants, laid out (<see cref="RelaxedPlans"/>), and beside it every supplier open at the
/// lowest prices that breaks give: columns and bound;
/// (3) the rules of thumb (<see cref="Restrictions"/>), so that the one model is never dearer than they;
/// (3b) where sizes of a part's blanks cost or are ruled, what the best plan uses of them, and nothing else;
/// (4) again and again the prices of the best plan: open is only what its suppliers sell, at the price that the next piece would have;
/// (5) sets of suppliers, where there are few (<see cref="Scenario"/>);
/// (6) where settings cost something, after (2) and at the end: the plates of the best plan anew with them (<see cref="SettingSteps"/>).
/// Beside these steps, or between them where there is one thread or little time, the exact method looks for plans and proves (<see cref="JointProof"/>); where it has proven the best plan it ends them.
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
    private const double RulesEnd = 0.66;
    private const double RefineEnd = 0.83;
    private const double SetsEnd = 0.93;

    // Where settings cost something: the others' shares shrink by this, and plates are searched with settings up to these. Twenty made jobs: 0.2 % dearer with 0.4, 0.22 and 0.5.
    private const double OthersWithSettings = 0.65;
    private const double FirstSettingsEnd = 0.4;
    private const double SettingsEnd = 0.95;

    /// <summary>Of the time that is left, for the exact method: at first, and again with the plan that column generation has found.</summary>
    private const double FirstProveShare = 0.4;

    /// <inheritdoc cref="FirstProveShare"/>
    private const double ProveShare = 0.5;

    /// <summary>Share of the limit at which the exact method ends beside the other steps, and the least seconds for which it begins there.</summary>
    private const double BesideEnd = 0.95;

    /// <inheritdoc cref="BesideEnd"/>
    private const double LeastBeside = 4;

    private const double FirstChoiceShare = 0.15;

    /// <summary>Seconds for each component's first plan, in which the clock cuts nothing but what follows it; with a limit in work instead of time, about as much of that.</summary>
    private const double LeastSeconds = 0.05;

    /// <inheritdoc cref="LeastSeconds"/>
    private const long LeastWork = 50_000;

    /// <summary>With a limit in work instead of time, larger jobs are not solved for each set of suppliers, nor by each supplier's rule.</summary>
    public const int MostItemsForSets = 8;

    private readonly JointSearch _search = new(job, components, limits, cancel);
    private readonly double _others = SettingSteps.Matter(components) ? OthersWithSettings : 1;
    private readonly CancellationTokenSource _steps = CancellationTokenSource.CreateLinkedTokenSource(cancel);
    private JointProof? _proof;

    /// <summary>The best plan with all terms.</summary>
    public JointPlan Best => _search.Best;

    /// <summary>Of plans' costs without settings.</summary>
    public Bound Bound => _search.Bound;

    /// <summary>Of plans' costs with settings less what is carried over; none where they cost nothing.</summary>
    public Bound WithSettings => _search.WithSettings;

    /// <summary>Layouts found, at listed prices.</summary>
    public IReadOnlyList<Column> ColumnsOf(int c) => _search.ColumnsOf(c);

    /// <summary>Per component what was proven of its layouts at the lowest prices, for this demand and every smaller one; null when not
    /// all components got so far.</summary>
    public ImmutableArray<IReadOnlyList<(long[] Values, long[] Best)>>? Cuts =>
        _search.Shares.All(share => share is not null) ? [.. _search.Shares.Select(share => share!.Cuts)] : null;

    /// <summary>Begins from layouts per component, and a plan, that are known already (of the same job, or of another demand).</summary>
    public void Start(IEnumerable<IReadOnlyList<Column>> columns, JointPlan plan)
    {
        foreach (var (some, c) in columns.Select((some, c) => (some, c)))
        {
            _search.AddAll(c, some);
        }

        if (plan.Cost is not null)
        {
            _search.Offer([.. plan.Parts.Select(part => part!)], plan.Extras);
        }
    }

    /// <param name="progress">Called with the best plan so far and the bound, from several threads.</param>
    public void Run(Action<JointPlan, Bound>? progress)
    {
        _search.Progress = progress;
        _proof = new(job, components, withSettings: true, limits, cancel)
        {
            Best = () => _search.Whole(_proof!.CountsSettings), Take = Found, Raise = Proven, RaiseWithSettings = bound =>
            {
                _search.RaiseWithSettings(bound);
                Told();
            },
        };
        if (limits is { Threads: > 1, Work: null, Seconds: >= LeastBeside } && !(_proof.IsSmall && _proof.HasManyLoads) && _proof.RunBeside(BesideEnd * _search.Left))
        {
            _search.Threads--;
        }

        var suppliers = new SupplierSteps(job, blanks, components, _search, limits, _steps.Token);
        EveryLayout();
        if (_search.Exact.All(exact => exact))
        {
            // With every layout known, the choosing model alone often finds the best plan and proves it. It has no plan to start from, and where it
            // finds none soon the other steps need the time: without a share it once took all of it, and three pieces were left out.
            _search.Choose(4.0, share: FirstChoiceShare);
            _search.Raise(AllColumnsBound(4.0));
        }

        if (!_proof.IsBeside && _proof.IsSmall && !_proof.HasManyLoads)
        {
            // With many stocks to price the bound of whole pieces is there sooner, and a plan with it.
            Step(() => Prove(FirstProveShare * _search.Left), withSettings: true);
        }

        Step(() => suppliers.Lowest(_others * LowestEnd, FirstBoundEnd));
        var settings = new SettingSteps(components, _search, limits, _steps.Token);
        if (_others < 1)
        {
            Step(() => settings.Run(FirstSettingsEnd), withSettings: true);
        }

        // Where a component has many kinds the exact method's steps only take the others' time.
        if (!_proof.IsBeside && !_proof.HasManyLoads && (_proof.IsSmall || limits.Threads == 1 || limits.Work is not null))
        {
            Step(() => Prove(ProveShare * _search.Left), withSettings: true);
        }

        Step(() => Rules(suppliers));
        var again = new PlanAgain(job, blanks, components, _search, limits, _steps.Token);
        Step(() => again.Narrow(_others * RefineEnd));
        Step(() => again.Refine(_others * RefineEnd));
        Step(() => suppliers.Sets(_others * SetsEnd));
        if (_others < 1)
        {
            Step(() => settings.Run(SettingsEnd), withSettings: true);
        }

        // While the proof goes on beside.
        Step(_search.ChooseWithSettings, withSettings: true);
        Step(() => _proof.Wait(_search.Left), withSettings: true);
        _proof.End();
        TakeIn();
        FirstPlan();
        if (!_search.Done)
        {
            _search.Choose(8.0);
        }

        if (_others == 1 || _search.Left > 0)
        {
            _search.ChooseWithSettings();
        }
    }

    /// <summary>The exact method as a step.</summary>
    private void Prove(double seconds)
    {
        if (_proof!.Run(seconds))
        {
            TakeIn();
            _search.Choose(1.0, onlyNew: true);
        }
    }

    private void Found(ImmutableArray<ImmutableArray<(Column Column, int Count)>> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        _search.Offer([.. plan.Select((columns, c) => _search.TakeOut(c, columns))], extras);
        Told();
    }

    private void Proven(Bound bound)
    {
        _search.Raise(bound);
        Told();
    }

    /// <summary>What the exact method proves beside the other steps ends them.</summary>
    private void Told()
    {
        _search.Report();
        if (_search.DoneWithSettings)
        {
            _steps.Cancel();
        }
    }

    /// <summary>Takes in the layouts that the exact method has found.</summary>
    private void TakeIn()
    {
        foreach (var (c, column) in _proof!.NewColumns())
        {
            _search.AddAll(c, [column]);
        }
    }

    /// <param name="withSettings">A step that goes on until the plan is proven with what settings cost.</param>
    private void Step(Action step, bool withSettings = false)
    {
        TakeIn();
        // However short the time, one plan is made.
        if (!(withSettings ? _search.DoneWithSettings : _search.Done) && (Best.Cost is null || _search.Left > 0) && !(cancel.IsCancellationRequested && Best.Cost is not null))
        {
            step();
            _search.Report();
        }
    }

    private void EveryLayout()
    {
        using var guard = CancellationTokenSource.CreateLinkedTokenSource(_steps.Token);
        if (limits.Work is null)
        {
            guard.CancelAfter(TimeSpan.FromSeconds(LayoutsEnd * limits.Seconds));
        }

        Parallel.For(0, components.Length, new() { MaxDegreeOfParallelism = Math.Max(1, limits.Threads) }, c =>
            (_search.All[c], _search.Exact[c]) = AllColumns.Of(components[c], guard.Token));
        for (var c = 0; c < components.Length; c++)
        {
            _search.AddAll(c, _search.All[c]);
        }
    }

    private Bound AllColumnsBound(double deterministicTime) => components.All(component => component.LowerCosts.Valid)
        && new JointModel(job, components, [.. _search.All], [.. _search.Exact], lower: true)
            .Solve(deterministicTime * limits.Effort, Math.Max(0.1, 0.3 * _search.Left), limits.Seed, null, cancel) is { } answer
        ? Bound.Of(answer.Bound, Methods.EveryLayout)
        : Bound.None;

    /// <summary>As one would without a plan, at listed prices.</summary>
    private void Rules(SupplierSteps suppliers)
    {
        // Where a rule leaves a component as it is, the plan of the step before serves.
        var free = Enumerable.Range(0, components.Length).Select(suppliers.Unrestricted).ToArray();
        var rules = new RulePlans(job, blanks, components, limits with { Proves = false, Threads = _search.Threads }, _steps.Token);
        rules.Run(
            () => _search.Until(_others * RulesEnd),
            limits.Work is null || components.Sum(component => component.Items) <= MostItemsForSets ? null : (int)limits.WorkOf(3 * components.Length));
        for (var c = 0; c < components.Length; c++)
        {
            _search.AddAll(c, rules.ColumnsOf(c));
        }

        foreach (var plan in rules.Plans(free))
        {
            _search.Offer(plan, []);
        }

        _search.Choose(1.0, onlyNew: true);
    }

    /// <summary>However short the time, one plan is made: each part from its cheapest stock where its stocks are tied, else from all that serve it.</summary>
    private void FirstPlan()
    {
        if (Best is { Cost: not null, Missing: 0 } || cancel.IsCancellationRequested)
        {
            return;
        }

        var rule = Restrictions.Alone(job, blanks);
        var least = limits with { Threads = 1, Proves = false };
        least = limits.Work is { } work ? least with { Work = Math.Min(work, LeastWork) } : least with { Seconds = Math.Min(limits.Seconds, LeastSeconds) };
        var plan = components.Select((component, c) => RuleStart.Solve(
            component, RuleStart.Of(component, rule) ?? component.Blanks, least, cancel).Plan).ToList();
        if (plan.TrueForAll(own => own is not null))
        {
            _search.Offer([.. plan.Select((own, c) => _search.TakeOut(c, own!.Value))], []);
        }
    }
}
