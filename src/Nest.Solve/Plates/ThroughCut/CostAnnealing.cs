namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Ruin and recreate on a whole plan of through-cuts by what it truly costs: its cuts, and what its rests are worth.</summary>
/// <remarks>
/// The other searches look for plates that hold all the pieces at less cost; between plans with the same plates they see no difference. Here each step takes a few parts out of
/// the trees of cuts (<see cref="Ruin"/>), puts the pieces back in a random order (<see cref="Recreate"/>), on a new plate too where there is no room, and is kept by
/// simulated annealing on the cost (Kirkpatrick, Gelatt, Vecchi 1983; from memory). Heuristic. A step costs O(pieces moved × sheets).
/// </remarks>
internal sealed class CostAnnealing
{
    private const long Unlimited = long.MaxValue / 8;

    /// <summary>First and last temperature, as shares of a plate's cost.</summary>
    private const double Hot = 0.003;

    /// <inheritdoc cref="Hot"/>
    private const double Cold = 0.0002;

    private readonly ThroughModel _model;
    private readonly SheetCosts _costs;
    private readonly TrialPlan _plan;
    private readonly Recreate _recreate;
    private RandomSource _random;
    private long _steps;
    private double _cost;

    public CostAnnealing(ThroughModel model, SheetCosts costs, int seed)
    {
        (_model, _costs, _random) = (model, costs, new(seed));
        (_plan, _recreate) = (new(model), new(model));
    }

    /// <summary>Work done so far in steps of roughly a microsecond.</summary>
    public long Work => (2 * _steps) + _recreate.Work;

    /// <summary>The cheapest sheets found.</summary>
    public List<CutSheet> Best { get; private set; } = [];

    public double BestCost { get; private set; }

    /// <param name="sheets">A plan that covers the demand of the model.</param>
    public void Start(IEnumerable<CutSheet> sheets)
    {
        _plan.Start(sheets, _model.Demand, Unlimited, ref _random);
        _cost = _plan.Sheets.Sum(_costs.Of);
        Keep();
    }

    /// <param name="used">Share of the time that is over; from 1 on the search ends.</param>
    /// <param name="most">Most steps.</param>
    public void Run(Func<double> used, double most)
    {
        for (var share = Share(); share < 1; share = Share())
        {
            var heat = _costs.MeanPlate * Hot * Math.Pow(Cold / Hot, share);
            for (var n = 0; n < 64; n++)
            {
                Step(heat);
            }
        }

        double Share() => Math.Max(used(), _steps / most);
    }

    private void Step(double heat)
    {
        _steps++;
        _plan.Begin();
        Ruin.Few(_model, _plan, ref _random);
        _recreate.All(_plan, _model.StockLimit, Unlimited, _random.Below(10), 0.2, ref _random);
        var cost = 0.0;
        foreach (var sheet in _plan.Trial)
        {
            cost += _costs.Of(sheet);
        }

        if (Array.Exists(_plan.TrialMissing, count => count > 0) || (cost > _cost && cost - _cost > -heat * Math.Log(1 - _random.Real())))
        {
            _plan.Reject();
            return;
        }

        _plan.Accept();
        _cost = cost;
        if (cost < BestCost - 0.5)
        {
            Keep();
        }
    }

    private void Keep()
    {
        (Best, BestCost) = ([.. _plan.Sheets.Where(sheet => sheet.Pieces > 0).Select(sheet => sheet.Clone())], _cost);
    }
}
