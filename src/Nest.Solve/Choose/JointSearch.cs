using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>What the steps of <see cref="JointSolver"/> share: the layouts found, the best plan and bound, the time that is left, and the choice among the layouts.</summary>
/// <remarks>Plans and bounds may be offered from several threads; layouts are added by one.</remarks>
internal sealed class JointSearch(Job job, ImmutableArray<Component> components, SolveLimits limits, CancellationToken cancel)
{
    /// <summary>A model with more columns of a component only wastes its time.</summary>
    private const int MostColumns = 1500;

    /// <summary>Least seconds of a choice that must be made, on a busy machine.</summary>
    private const double LeastMust = 5;

    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly ColumnPool[] _pools = [.. components.Select(_ => new ColumnPool())];
    private readonly Lock _gate = new();
    private int _chosenFrom = -1;

    /// <summary>What the best plan was made of when it was chosen with settings last: a better plan has other parts, in the same <see cref="Best"/>.</summary>
    private Chosen?[]? _chosenWithSettings;

    /// <summary>Every layout of a component, where there are few.</summary>
    public ImmutableArray<Column>[] All { get; } = new ImmutableArray<Column>[components.Length];

    /// <summary>Whether <see cref="All"/> has every layout of the component.</summary>
    public bool[] Exact { get; } = new bool[components.Length];

    /// <summary>What is proven of a component's layouts at the lowest prices; null: nothing yet.</summary>
    public JointBound.Share?[] Shares { get; } = new JointBound.Share?[components.Length];

    /// <summary>The best plan with all terms.</summary>
    public JointPlan Best { get; } = new(job, components);

    /// <summary>Of plans' costs without settings.</summary>
    public Bound Bound { get; private set; }

    /// <summary>Of plans' costs with settings less what is carried over; none where they cost nothing.</summary>
    public Bound WithSettings { get; private set; }

    /// <summary>Threads that the steps may use.</summary>
    public int Threads { get; set; } = limits.Threads;

    /// <summary>Told the best plan and the bound.</summary>
    public Action<JointPlan, Bound>? Progress { get; set; }

    /// <summary>Layouts found of a component, at listed prices.</summary>
    public IReadOnlyList<Column> ColumnsOf(int c) => _pools[c].Columns;

    /// <summary>Seconds that are left.</summary>
    public double Left => limits.Seconds - _clock.Elapsed.TotalSeconds;

    /// <summary>Seconds until this share of the limit.</summary>
    public double Until(double share) => (share * limits.Seconds) - _clock.Elapsed.TotalSeconds;

    /// <summary>Proven, to less than a cent.</summary>
    public bool Done => Best.Cost is { } cost && Best.Missing == 0 && !Contradictions.Found(Bound, cost) && (Bound.Proves(cost) || WithSettings.Proves(cost + Best.SetUps));

    /// <summary>Proven with settings too, to less than a cent; what is carried over only the whole plan knows.</summary>
    public bool DoneWithSettings => Done && (Best.SetUps == Money.Zero || WithSettings.Proves(Best.Cost!.Value + Best.SetUps));

    public void Raise(Bound bound)
    {
        lock (_gate)
        {
            Bound = Bound.Higher(Bound, bound);
        }
    }

    /// <inheritdoc cref="Raise"/>
    public void RaiseWithSettings(Bound bound)
    {
        lock (_gate)
        {
            WithSettings = Bound.Higher(WithSettings, bound);
        }
    }

    public void Report()
    {
        lock (_gate)
        {
            Progress?.Invoke(Best, Bound);
        }
    }

    /// <summary>The best plan where it is whole; null: none is.</summary>
    /// <param name="withSettings">Whether its cost has settings in it; nothing is carried over.</param>
    public (long Cost, IReadOnlyList<Chosen> Parts)? Whole(bool withSettings)
    {
        lock (_gate)
        {
            return Best is { Cost: { } cost, Missing: 0 } ? ((withSettings ? cost + Best.SetUps : cost).Units, [.. Best.Parts.Select(part => part!)]) : null;
        }
    }

    public bool Offer(ImmutableArray<Chosen> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        lock (_gate)
        {
            return Best.Offer(plan, extras);
        }
    }

    public void AddAll(int c, IEnumerable<Column> columns)
    {
        foreach (var column in columns)
        {
            _pools[c].Add(column.At(components[c]));
        }
    }

    /// <summary>A new plan, not a copy: its cost is that of the columns at listed prices.</summary>
    public Chosen Listed(int c, Chosen plan) => new([.. plan.Columns.Select(entry => (entry.Column.At(components[c]), entry.Count))], plan.Missing);

    public Chosen TakeOut(int c, IEnumerable<(Column, int)> columns) =>
        Surplus.TakeOut(components[c], columns, components[c].Demand.AsSpan());

    /// <summary>Chooses once more with what settings cost, where the best plan is another one than before; beyond the limit only where it was never done.</summary>
    public void ChooseWithSettings()
    {
        if (Best.Missing > 0 || Best.SetUps == Money.Zero || ReferenceEquals(Best.Parts, _chosenWithSettings) || (Left <= 0 && _chosenWithSettings is not null) || cancel.IsCancellationRequested)
        {
            return;
        }

        if (FewSettings.Of(job, components, Best, c => Exact[c] ? All[c] : _pools[c].Columns, c => Shares[c] is { Cuts: [.., var (values, _)] } ? values : null, Left, limits, cancel) is { } answer)
        {
            Offer([.. answer.Chosen.Select((chosen, c) => TakeOut(c, chosen))], answer.Extras);
        }

        _chosenWithSettings = Best.Parts;
    }

    /// <param name="share">Of the time left.</param>
    /// <param name="must">However little time is left.</param>
    public void Choose(double deterministicTime, bool onlyNew = false, double share = 1, bool must = false)
    {
        var known = _pools.Sum(pool => pool.Columns.Count);
        if (cancel.IsCancellationRequested || (Left <= 0.02 && Best.Cost is not null && !must) || (onlyNew && known == _chosenFrom))
        {
            return;
        }

        _chosenFrom = known;
        var columns = Enumerable.Range(0, components.Length).Select(Candidates).ToImmutableArray();
        var model = new JointModel(job, components, columns, [.. Exact]);
        if (model.Solve(deterministicTime * limits.Effort, Math.Max(must ? LeastMust : 0.1, share * Left), limits.Seed, Best.Hint, cancel) is { } answer)
        {
            Offer([.. answer.Chosen.Select((chosen, c) => TakeOut(c, chosen))], answer.Extras);
        }
    }

    /// <summary>The columns that a model chooses from: of very many those that cost least beyond the value of what they cut, and those
    /// of the best plan.</summary>
    private ImmutableArray<Column> Candidates(int c)
    {
        var columns = Exact[c] ? All[c] : [.. _pools[c].Columns];
        if (Exact[c] || columns.Length <= MostColumns || Shares[c] is not { Cuts: [.., var (values, _)] })
        {
            return columns;
        }

        var best = Best.Parts[c]?.Columns.Select(entry => entry.Column) ?? [];
        return [.. columns.OrderBy(column => column.Cost - (column.Worth(values) / IStockPricer.Scale)).Take(MostColumns)
            .Concat(best).DistinctBy(column => column.Key)];
    }
}
