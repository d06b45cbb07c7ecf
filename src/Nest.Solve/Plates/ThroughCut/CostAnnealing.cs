namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Ruin and recreate on a whole plan of through-cuts by what it truly costs: its cuts, what its rests are worth, and settings where they are to count.</summary>
/// <remarks>
/// The other searches look for plates that hold all the pieces at less cost; between plans with the same plates they see no difference. Here each step takes a few parts out of
/// the trees of cuts, or all pieces of a kind (<see cref="Ruin"/>), puts the pieces back as blocks of equal ones (<see cref="BlockRecreate"/>) or one by one in a random order (<see cref="Recreate"/>),
/// and is kept by simulated annealing on the cost (Kirkpatrick, Gelatt, Vecchi 1983; from memory). With few plates a new one is seldom opened: else a piece without room stays missing, at a price that
/// rises while some are missing and falls while none is (strategic oscillation, Glover 1977; from memory), so that full plates can be changed at all. Heuristic. A step costs O(pieces moved × sheets).
/// </remarks>
internal sealed class CostAnnealing
{
    private const long Unlimited = long.MaxValue / 8;

    // Measured with settings on four made jobs of 20 to 44 pieces, 2.5 s: half or three times the heat, new plates in a third or a thirtieth of the steps, blocks in all steps: within 1 %. Without blocks 5 to 14 % dearer.

    /// <summary>First and last temperature, as shares of a plate's cost.</summary>
    private const double Hot = 0.003;

    /// <inheritdoc cref="Hot"/>
    private const double Cold = 0.0002;

    /// <summary>Of so many steps one takes all pieces of a kind.</summary>
    private const int KindEvery = 4;

    /// <summary>Of so many steps one puts pieces back one by one only.</summary>
    private const int SinglesEvery = 2;

    /// <summary>With no more sheets, of so many steps one may open a plate more; with more of them pieces without room have a chance on others (three jobs of many kinds 0.3 % dearer).</summary>
    private const int OpensEvery = 8;

    private const int StepsInARow = 64;

    /// <summary>By which the price of what is missing rises or falls after some steps, and its least and most in shares of what its metal costs.</summary>
    private const double Change = 1.05;

    /// <inheritdoc cref="Change"/>
    private const double LeastPrice = 0.1;

    /// <inheritdoc cref="Change"/>
    private const double MostPrice = 3;

    private readonly ThroughModel _model;
    private readonly SheetCosts _costs;
    private readonly TrialPlan _plan;
    private readonly Recreate _recreate;
    private readonly BlockRecreate _blocks;
    private readonly int[] _asMany;
    private readonly HashSet<(int Stock, ulong Key)> _alike = [];
    private readonly double _metal;
    private RandomSource _random;
    private long _steps;
    private double _steered;
    private double _missing;
    private double _price = 1;

    public CostAnnealing(ThroughModel model, SheetCosts costs, int seed)
    {
        (_model, _costs, _random) = (model, costs, new(seed));
        (_plan, _recreate, _blocks, _asMany) = (new(model), new(model), new(model), new int[model.StockCount]);
        _metal = costs.MeanPlate / Enumerable.Range(0, model.StockCount).Average(s => (double)model.StockWidth[s] * model.StockHeight[s]);
    }

    /// <summary>Work done so far in steps of roughly a microsecond.</summary>
    public long Work => (2 * _steps) + _recreate.Work + _blocks.Work;

    /// <summary>The cheapest sheets found that hold all pieces.</summary>
    public List<CutSheet> Best { get; private set; } = [];

    /// <summary>Infinite: there are none yet.</summary>
    public double BestCost { get; private set; } = double.PositiveInfinity;

    /// <param name="sheets">A plan that covers the demand of the model, or plates on which pieces are still to be put.</param>
    public void Start(IEnumerable<CutSheet> sheets)
    {
        _plan.Start(sheets, _model.Demand, Unlimited, ref _random);
        (_steered, var cost) = CostOf(_plan.Sheets);
        _missing = _plan.Complete ? 0 : _plan.MissingWeight;
        if (_plan.Complete)
        {
            Keep(cost);
        }
    }

    /// <param name="used">Share of the time that is over; from 1 on the search ends.</param>
    /// <param name="most">Most steps.</param>
    public void Run(Func<double> used, double most)
    {
        for (var share = Share(); share < 1; share = Share())
        {
            var heat = _costs.MeanPlate * Hot * Math.Pow(Cold / Hot, share);
            for (var n = 0; n < StepsInARow; n++)
            {
                Step(heat);
            }

            _price = _missing > 0 ? Math.Min(MostPrice, _price * Change) : Math.Max(LeastPrice, _price / Change);
        }

        double Share() => Math.Max(used(), _steps / most);
    }

    private void Step(double heat)
    {
        _steps++;
        _plan.Begin();
        var limits = _model.StockLimit;
        if (_plan.Trial.Count <= Ruin.FewSheets && _random.Below(OpensEvery) != 0)
        {
            Array.Copy(_plan.TrialUsed, _asMany, _asMany.Length);
            limits = _asMany;
        }

        if (_random.Below(KindEvery) == 0)
        {
            Ruin.Kind(_model, _plan, ref _random);
        }
        else
        {
            Ruin.Few(_model, _plan, ref _random);
        }

        if (_random.Below(SinglesEvery) != 0)
        {
            _blocks.Some(_plan, limits, ref _random);
        }

        _recreate.All(_plan, limits, Unlimited, _random.Below(10), 0.2, ref _random);
        var (steered, cost) = CostOf(_plan.Trial);
        var missing = Array.Exists(_plan.TrialMissing, count => count > 0) ? _plan.TrialWeight : 0;
        var more = steered - _steered + (_price * _metal * (missing - _missing));
        if (more > 0 && more > -heat * Math.Log(1 - _random.Real()))
        {
            _plan.Reject();
            return;
        }

        _plan.Accept();
        (_steered, _missing) = (steered, missing);
        if (missing == 0 && cost < BestCost - 0.5)
        {
            Keep(cost);
        }
    }

    /// <summary>What steers the search, and what the sheets cost. Those with the same pieces will be cut alike, with one set of settings.</summary>
    private (double Steered, double Cost) CostOf(List<CutSheet> sheets)
    {
        _alike.Clear();
        var (cost, hopes) = (0.0, 0.0);
        foreach (var sheet in sheets)
        {
            cost += _costs.Of(sheet);
            hopes += _costs.Hopes(sheet);
            if (_costs.CountsSettings && _alike.Add((sheet.Stock, sheet.Key)))
            {
                cost += _costs.Settings(sheet);
            }
        }

        return (cost - hopes, cost);
    }

    private void Keep(double cost)
    {
        (Best, BestCost) = ([.. _plan.Sheets.Where(sheet => sheet.Pieces > 0).Select(sheet => sheet.Clone())], cost);
    }
}
