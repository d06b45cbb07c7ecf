using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Output.Orders;
using Nest.Planning;
using Nest.Solve;

namespace Nest.Desk.Model;

/// <summary>How far a search is.</summary>
internal enum SearchState
{
    /// <summary>Another search runs; this one is next.</summary>
    Waiting,
    Running,
    Done,

    /// <summary>The job or its plan was refused: see the findings.</summary>
    Refused,
}

/// <summary>What a page shows of a search at one moment.</summary>
/// <param name="Points">Cost and bound so far, in the order of time.</param>
internal sealed record SearchView(SearchState State, IReadOnlyList<SolveProgress> Points, PlanResult? Result, bool Stopping)
{
    public Plan? Plan => Result?.Plan;
}

/// <summary>One search for a plan. It belongs to the desk, not to a page: closing the browser stops nothing.</summary>
internal sealed class Search : IDisposable
{
    /// <summary>More points than a chart can show are thinned.</summary>
    private const int MostPoints = 400;

    private readonly Lock _gate = new();
    private readonly CancellationTokenSource _stop = new();
    private readonly List<SolveProgress> _points = [];
    private SearchState _state = SearchState.Waiting;
    private PlanResult? _result;
    private Action? _changed;

    /// <summary>When it ends by itself at the latest, in seconds.</summary>
    public required double Seconds { get; init; }

    /// <summary>Number of the plan on the rack whose rest this search plans; null: it plans the whole job.</summary>
    public long? RestOf { get; init; }

    /// <summary>The job's own texts as this search read them, by full path: with them the plan can be gone back to.</summary>
    public IReadOnlyDictionary<string, byte[]> Texts { get; init; } = new Dictionary<string, byte[]>();

    /// <summary>What is worked out of the plan that was found, before the search ends; null: nothing more.</summary>
    public Func<Plan, CancellationToken, IReadOnlyList<string>>? Afterwards { get; init; }

    /// <summary>What <see cref="Afterwards"/> said.</summary>
    public IReadOnlyList<string> Told { get; private set; } = [];

    /// <summary>The plan with one supplier fewer, for each whose absence was worked out.</summary>
    public ImmutableArray<PlannedWithout> Without { get; private set; } = [];

    public Search() => Cancel = _stop.Token;

    public CancellationToken Cancel { get; }

    /// <summary>The view at this moment, and a call for each change after it, until the handle is disposed.</summary>
    /// <param name="changed">Called from the search's threads; it must return at once.</param>
    public (SearchView Now, IDisposable Handle) Subscribe(Action changed)
    {
        lock (_gate)
        {
            _changed += changed;
            return (View(), new Handle(() =>
            {
                lock (_gate)
                {
                    _changed -= changed;
                }
            }));
        }
    }

    public SearchView Now
    {
        get
        {
            lock (_gate)
            {
                return View();
            }
        }
    }

    /// <summary>Asks for an end with the best plan so far; nothing is asked of a search that was put away.</summary>
    public void Stop()
    {
        try
        {
            _stop.Cancel();
        }
        catch (ObjectDisposedException)
        {
            return;
        }

        Tell(() => { });
    }

    public void Begin() => Tell(() => _state = SearchState.Running);

    public void Add(SolveProgress point)
    {
        if (point.Complete)
        {
            Tell(() =>
            {
                _points.Add(point);
                if (_points.Count > MostPoints)
                {
                    // Every second one goes, never the last.
                    _points.RemoveAll(one => one.Seconds < point.Seconds && _points.IndexOf(one) % 2 == 1);
                }
            });
        }
    }

    /// <summary>A plan to show while the search goes on.</summary>
    public void Offer(PlanResult result) => Tell(() => _result = result);

    public void Tell(IReadOnlyList<string> told, ImmutableArray<PlannedWithout> without) => Tell(() => (Told, Without) = (told, without));

    public void End(PlanResult result) => Tell(() => (_result, _state) = (result, result.Plan is null ? SearchState.Refused : SearchState.Done));

    public void Dispose() => _stop.Dispose();

    private SearchView View() => new(_state, [.. _points], _result, _stop.IsCancellationRequested);

    private void Tell(Action change)
    {
        Action? changed;
        lock (_gate)
        {
            change();
            changed = _changed;
        }

        changed?.Invoke();
    }

    private sealed class Handle(Action end) : IDisposable
    {
        public void Dispose() => end();
    }
}
