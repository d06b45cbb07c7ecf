using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Exact;

namespace Nest.Solve.Choose;

/// <summary>The exact method over all components with the exact terms: a step of <see cref="JointSolver"/>, or on a thread of its own beside the
/// other steps.</summary>
/// <remarks>What it finds beside them is told at once; the layouts wait until they are asked for, as the pools are the other steps' own. After
/// <see cref="End"/> nothing is told any more, though a programme or a table that was begun may still take its time.</remarks>
internal sealed class JointProof
{
    private readonly ImmutableArray<Component> _components;
    private readonly SolveLimits _limits;
    private readonly ExactChain _exact;
    private readonly bool _fits;
    private readonly CancellationTokenSource _stop;
    private readonly Lock _gate = new();
    private readonly List<(int Component, Column Column)> _found = [];
    private Task? _beside;
    private bool _ended;

    /// <param name="withSettings">Whether settings count where they cost anything (<see cref="CountsSettings"/>).</param>
    public JointProof(Job job, ImmutableArray<Component> components, bool withSettings, SolveLimits limits, CancellationToken cancel)
    {
        (_components, _limits) = (components, limits);
        _exact = ExactChain.For(job, components, withSettings, (c, column) =>
        {
            lock (_gate)
            {
                _found.Add((c, column));
            }
        });
        _stop = CancellationTokenSource.CreateLinkedTokenSource(cancel);

        // Its programmes don't know what layouts that stay have on order.
        _fits = job.Kept.IsEmpty;
    }

    /// <summary>Whether the costs of plans that it asks for have to have settings in them.</summary>
    public bool CountsSettings => _exact.CountsSettings;

    /// <summary>The best plan so far; null: none is whole.</summary>
    public required Func<(long Cost, IReadOnlyList<Chosen> Parts)?> Best { get; init; }

    /// <summary>Takes a plan.</summary>
    public required Action<ImmutableArray<ImmutableArray<(Column Column, int Count)>>, ImmutableArray<(StockFrame Frame, int Count)>> Take { get; init; }

    /// <summary>Takes a bound without settings.</summary>
    public required Action<Bound> Raise { get; init; }

    /// <summary>Where settings count, takes a bound with them.</summary>
    public Action<Bound>? RaiseWithSettings { get; init; }

    /// <summary>Whether there are so few stocks that it soon has a plan of its own: then it may be a step.</summary>
    public bool IsSmall => _exact.IsSmall;

    /// <summary>Whether it runs beside the other steps.</summary>
    public bool IsBeside => _beside is not null;

    /// <inheritdoc cref="ExactChain.HasManyLoads"/>
    public bool HasManyLoads => _exact.HasManyLoads;

    /// <summary>Runs it, or goes on with it; false where it does not fit.</summary>
    public bool Run(double seconds) => Run(_limits, seconds);

    /// <summary>Begins it on one thread beside the other steps; false where it does not fit.</summary>
    public bool RunBeside(double seconds)
    {
        var own = _limits with { Threads = 1 };
        if (!_fits || !_exact.Fits(own, seconds))
        {
            return false;
        }

        _beside = Task.Run(() => Run(own, seconds), CancellationToken.None);
        return true;
    }

    /// <summary>Waits for what runs beside.</summary>
    public void Wait(double seconds) => _beside?.Wait(TimeSpan.FromSeconds(Math.Max(0.01, seconds)), CancellationToken.None);

    /// <summary>Ends what runs beside.</summary>
    public void End()
    {
        lock (_gate)
        {
            _ended = true;
        }

        _stop.Cancel();
        if (_beside is { IsFaulted: true })
        {
            // A fault is a fault, whether anybody waited for it or not.
            _beside.GetAwaiter().GetResult();
        }
    }

    /// <summary>The layouts found since this was called last.</summary>
    public ImmutableArray<(int Component, Column Column)> NewColumns()
    {
        lock (_gate)
        {
            var found = _found.ToImmutableArray();
            _found.Clear();
            return found;
        }
    }

    private bool Run(SolveLimits limits, double seconds)
    {
        if (_fits)
        {
            _exact.Run(limits, seconds, Money.UnitsPerCurrency / 100, Best, Found, Told, _stop.Token);
        }

        return _fits;
    }

    private void Told(long bound)
    {
        lock (_gate)
        {
            if (!_ended)
            {
                if (CountsSettings)
                {
                    RaiseWithSettings!(Bound.Of(Money.FromUnits(bound), Methods.LoadsWithinGapAndSettings));
                }
                else
                {
                    Raise(Bound.Of(Money.FromUnits(bound), Methods.LoadsWithinGap));
                }
            }
        }
    }

    private void Found(ImmutableArray<ImmutableArray<(Column Column, int Count)>> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        lock (_gate)
        {
            if (!_ended)
            {
                _found.AddRange(plan.SelectMany((columns, c) => columns.Select(entry => (c, entry.Column))));
                Take(plan, extras);
            }
        }
    }
}
