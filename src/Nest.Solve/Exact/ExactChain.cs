using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>The exact method for one component at fixed prices, or for a whole job with purchase terms: decides whether it fits, runs it, and
/// gives its bound in money units.</summary>
internal sealed class ExactChain
{
    /// <summary>Cells of the largest table: a plate of 3 000 × 1 500 on a grid of one millimetre.</summary>
    private const double MostCells = 4_600_000;

    /// <summary>A job whose tables take so little that nothing need be tried before.</summary>
    private const double QuickSteps = 4e8;

    /// <summary>So many times the limit of work the method may have: each call of a kernel may have the whole limit once, and all of them together take about ten times as much.</summary>
    private const double WorkTimes = 4;

    /// <summary>Pricings of all stock that are the least worth beginning for.</summary>
    private const double LeastPricings = 0.15;
    private const double ManyLoads = 1e15;

    /// <summary>Told what the method did; for the bench.</summary>
    public static Action<string>? Trace { get; set; }

    private readonly ImmutableArray<Component> _components;
    private readonly Job _job;
    private readonly bool _tied;
    private readonly double? _steps;
    private ExactJob? _exact;
    private ExactSearch? _search;

    private ExactChain(Job job, ImmutableArray<Component> components, bool tied, bool withSettings = false)
    {
        (_job, _components, _tied, CountsSettings) = (job, components, tied, withSettings && SettingTerms.Matter(components));
        _steps = components.Sum(StepsOf);
        if (!components.Any(HasPlates) && !(CountsSettings && HasFewLoads))
        {
            _steps = null;
        }
    }

    public static ExactChain For(Component component) => new(component.Job, [component], tied: false);

    /// <param name="withSettings">Whether settings count where they cost anything (<see cref="CountsSettings"/>).</param>
    /// <param name="layout">Told each layout that was found beside those of plans, and its component.</param>
    public static ExactChain For(Job job, ImmutableArray<Component> components, bool withSettings, Action<int, Column> layout) =>
        new(job, components, tied: true, withSettings) { Layout = layout };

    /// <summary>Told each layout that was found beside those of plans, and its component.</summary>
    public Action<int, Column>? Layout { get; init; }

    /// <summary>Whether settings are in the bounds that it tells, and have to be in the costs of plans that it is given.</summary>
    public bool CountsSettings { get; }

    /// <summary>Whether a few steps may do, so that it needs no plan to start from.</summary>
    public bool IsQuick => _steps < QuickSteps && Loads < 1e7;

    /// <summary>Whether the demand allows so few loads that all of them may be listed at once.</summary>
    public bool HasFewLoads => Loads <= ExactJob.FewLoads;

    /// <summary>Whether a component's demand allows so many loads that their lists never end, and values alone say no more than other bounds do.</summary>
    public bool HasManyLoads => _components.Any(component => ExactJob.LoadsOf(component.Demand) > ManyLoads);

    private double Loads => ExactJob.LoadsOf(_components.SelectMany(component => component.Demand));

    /// <summary>Whether there are so few stocks that it soon has a plan of its own.</summary>
    public bool IsSmall => _components.Sum(component => component.Stocks.Length) <= 40;

    /// <summary>Whether the tables of all stock can be made often enough to be worth beginning.</summary>
    public bool Fits(SolveLimits limits, double seconds)
    {
        var room = limits.Work is { } units ? WorkTimes * units * ExactMeter.StepsPerUnit : seconds * ExactMeter.StepsPerSecond * limits.Threads;
        return _steps is { } steps && seconds >= 0.01 && LeastPricings * steps <= room;
    }

    /// <summary>Runs the method, or goes on with it; where it does not fit, nothing is done.</summary>
    /// <param name="enough">Money units by which a plan may miss the bound and be proven.</param>
    /// <param name="best">Cost of the best plan so far and its layouts by component, whose counts of stock are looked at too; null: none.</param>
    /// <param name="take">Takes a plan: layouts per component, and pieces bought whole for the rack.</param>
    /// <param name="told">Told each higher bound: no plan costs less, in money units.</param>
    public void Run(
        SolveLimits limits, double seconds, long enough, Func<(long Cost, IReadOnlyList<Chosen> Parts)?> best,
        Action<ImmutableArray<ImmutableArray<(Column Column, int Count)>>, ImmutableArray<(StockFrame Frame, int Count)>> take, Action<long> told, CancellationToken cancel)
    {
        double? work = limits.Work is { } units ? WorkTimes * units : null;
        if (!Fits(limits, seconds) || cancel.IsCancellationRequested)
        {
            return;
        }

        var job = _exact ??= new ExactJob(_job, _components, _tied, MostCells);
        var search = _search ??= new(job, limits.Threads, enough * (double)Grain.PerUnit, CountsSettings, (plan, extras) =>
        {
            take([.. Enumerable.Range(0, _components.Length).Select(c => ExactPlan.ColumnsOf(job, c, plan))], extras);
            return Upper();
        })
        {
            Found = load =>
            {
                if (Layout is not null)
                {
                    var c = job.Sources[load.Stock].ComponentIndex;
                    Layout(c, ExactPlan.ColumnsOf(job, c, [(load, 1)])[0].Column);
                }
            },
            Told = bound =>
            {
                if (double.IsFinite(bound))
                {
                    told(Grain.UnitsDown(bound));
                }
            },
        };
        search.Upper = Math.Min(search.Upper, Upper());
        search.BestElsewhere = Upper;
        search.Elsewhere = () => best()?.Parts;
        search.Run(new(seconds, work, cancel));

        double Upper() => best() is { } plan ? plan.Cost * (double)Grain.PerUnit : double.PositiveInfinity;
    }

    private static bool HasPlates(Component component) => component.Stocks.Any(frame => !frame.IsBar && !frame.IsFree && frame.Stock.CutFor is null);

    /// <summary>Table steps of one pricing of all plates.</summary>
    private static double StepsOf(Component component)
    {
        double steps = 0;
        for (var s = 0; s < component.Stocks.Length; s++)
        {
            var frame = component.Stocks[s];
            if (!frame.IsBar && frame.Stock.Available != 0)
            {
                steps += frame.IsFree ? RelaxedLoads.UsualSteps : PlateGrid.StepsOf(component, s, MostCells) ?? RelaxedLoads.UsualSteps;
            }
        }

        return steps;
    }
}
