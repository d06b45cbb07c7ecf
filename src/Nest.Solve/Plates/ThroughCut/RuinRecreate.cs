namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Goal-driven ruin and recreate on sheets of through-cuts.</summary>
/// <remarks>
/// Problem: a plan cheaper than the best one. Method: a budget just below the best cost is set; sheets that fit into it are kept, pieces
/// that don't fit are missing. Each step empties a sheet or some subtrees (<see cref="Ruin"/>), puts missing pieces back at their best
/// spots in a random order (<see cref="Recreate"/>), and is kept by late acceptance on the missing area; when nothing is missing a
/// cheaper plan is found and the budget falls.
/// Literature: Gardeyn and Wauters, goal-driven ruin and recreate for guillotine bin packing (EJOR 2022); Christiaens and Vanden
/// Berghe, slack induction (2020); Burke and Bykov, late acceptance (2017). Heuristic, no guarantee. A step costs O(pieces moved × sheets).
/// </remarks>
internal sealed class RuinRecreate
{
    private const int History = 300;

    /// <summary>Weight of the squared rests beside the missing area. Measured on 33 hard bin-packing instances at equal work: 0 gave
    /// 596 plates, 0.1 gave 595, 0.4 gave 594.</summary>
    private const double RestWeight = 0.2;

    private readonly double _plate;
    private readonly ThroughModel _model;
    private readonly TrialPlan _plan;
    private readonly Recreate _recreate;
    private double _objective;
    private double[] _history = new double[History];
    private int[] _limits;
    private int _slots = History;
    private RandomSource _random;
    private int _step;

    public RuinRecreate(ThroughModel model, int seed)
    {
        _model = model;
        _plate = Enumerable.Range(0, model.StockCount).Max(s => (double)model.StockWidth[s] * model.StockHeight[s]);
        _random = new RandomSource(seed);
        _plan = new TrialPlan(model);
        _recreate = new Recreate(model);
        _limits = model.StockLimit;
    }

    /// <summary>Most that the next plan may cost.</summary>
    public long Budget { get; private set; }

    /// <summary>Sheets of the current state, for a pool of patterns.</summary>
    public IReadOnlyList<CutSheet> Current => _plan.Sheets;

    public long Steps { get; private set; }

    /// <summary>Work done so far in steps of roughly a microsecond.</summary>
    public long Work => (2 * Steps) + _recreate.Work;

    public double MissingWeight => _plan.MissingWeight;

    /// <summary>Copies of each item that have no place.</summary>
    public ReadOnlySpan<int> Missing => _plan.Missing;

    /// <summary>Whether all pieces are placed.</summary>
    public bool Complete => _plan.Complete;

    /// <summary>Starts from a plan; what is above the budget is taken apart, emptiest sheets first.</summary>
    /// <param name="part">What to cut and from which plates, where the search is for a part of the job only; null: the whole job.</param>
    public void Start(IEnumerable<CutSheet> plan, long budget, PartOfJob? part = null)
    {
        Budget = budget;
        _limits = part?.Plates ?? _model.StockLimit;
        _slots = part?.Memory ?? History;
        if (_history.Length < _slots)
        {
            _history = new double[_slots];
        }

        _step = 0;
        _plan.Start(plan, part?.Demand ?? _model.Demand, budget, ref _random);
        _objective = Objective(_plan.MissingWeight, _plan.Sheets);
        Array.Fill(_history, _plan.MissingWeight > 0 ? _objective : double.MaxValue);
    }

    /// <summary>Puts everything missing in place by one sorting rule, opening sheets as needed; true when nothing is missing.</summary>
    /// <param name="stop">Asked now and then: the plan stays incomplete where it says so.</param>
    public bool Construct(int rule, Func<bool>? stop = null)
    {
        _plan.Begin();
        _recreate.All(_plan, _limits, Budget, rule, 0, ref _random, stop);
        _plan.Accept();
        return _plan.Complete;
    }

    /// <summary>Steps until nothing is missing, until so many steps found no state with less missing, or until it is to stop.</summary>
    /// <param name="stop">Asked every 64 steps.</param>
    /// <param name="lowest">Least <see cref="MissingWeight"/> seen.</param>
    /// <returns>Whether nothing is missing: <see cref="Current"/> is then a plan within the budget.</returns>
    public bool UntilIdle(long patience, Func<bool> stop, out double lowest)
    {
        lowest = MissingWeight;
        for (var idle = 0L; idle < patience && !stop(); idle += 64)
        {
            for (var n = 0; n < 64; n++)
            {
                if (Step())
                {
                    return true;
                }
            }

            if (MissingWeight < lowest)
            {
                (lowest, idle) = (MissingWeight, -64);
            }
        }

        return false;
    }

    /// <summary>One step; true when nothing is missing: <see cref="Current"/> is then a plan within the budget.</summary>
    public bool Step()
    {
        Steps++;
        _plan.Begin();
        Ruin.Some(_model, _plan, ref _random);
        _recreate.All(_plan, _limits, Budget, _random.Below(10), 0.2, ref _random);
        var slot = _step % _slots;
        _step++;
        var now = Objective(_plan.TrialWeight, _plan.Trial);
        if (_plan.TrialWeight <= 0 || now <= _history[slot] || now <= _objective)
        {
            _plan.Accept();
            _objective = now;
        }
        else
        {
            _plan.Reject();
        }

        if (_objective < _history[slot])
        {
            _history[slot] = _objective;
        }

        return _plan.MissingWeight <= 0 && _plan.Complete;
    }

    /// <summary>Missing area less a small share of the squared rests: of two states with the same pieces missing the one with its free
    /// area in fewer pieces is better.</summary>
    private double Objective(double missing, List<CutSheet> sheets)
    {
        var squares = 0.0;
        foreach (var sheet in sheets)
        {
            squares += sheet.RestSquares;
        }

        return missing - (RestWeight * squares / _plate);
    }
}
