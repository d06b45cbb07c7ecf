using Nest.Core.Plans;
using Nest.Solve.Plates.Bounds;

namespace Nest.Solve.Plates.Free;

/// <summary>One run of the free kernel: what comes after what.</summary>
internal sealed class FreeSearch
{
    private readonly FreeModel _model;
    private readonly FreeBudget _budget;
    private readonly SolveLimits _limits;
    private readonly Action<PlateSolution>? _improved;
    private readonly FreeRandom _random;
    private readonly PlateFiller _filler;
    private readonly FreeConstructive _constructive;
    private FreePlan? _best;
    private double _bestRest;
    private long _bestCost = long.MaxValue;
    private long _bound;
    private double _secondsToBest = double.NaN;

    public FreeSearch(PlateProblem problem, SolveLimits limits, Action<PlateSolution>? improved, CancellationToken cancel)
    {
        _model = new FreeModel(problem);
        _budget = new FreeBudget(limits, cancel);
        _limits = limits;
        _improved = improved;
        _random = new FreeRandom(unchecked((ulong)limits.Seed));
        _filler = new PlateFiller(_model);
        _constructive = new FreeConstructive(_model, _filler, _budget, _random);
    }

    private bool Done => _bestCost <= _bound || _budget.Out;

    public PlateSolution Run()
    {
        for (var k = 0; k < _model.Kinds; k++)
        {
            if (!Enumerable.Range(0, _model.Stocks.Length).Any(s => _model.Allowed[s, k]))
            {
                return Nothing(SolveStatus.Impossible);
            }
        }

        Offer(_constructive.Build(0, FillRule.ShortSide, 0, 1, 1));
        (_bound, var worth) = PlateBounds.Best(_model, _best is null ? null : _bestCost, new FreeBudget(Part(0.2), _budget.Cancel));
        if (_bound == PlateBounds.Impossible)
        {
            if (_best is null || !Contradictions.Found(_bound, _bestCost, Methods.DualFeasibleFunctions))
            {
                return Nothing(SolveStatus.Impossible);
            }

            _bound = 0;
        }

        Report();
        _constructive.Worth = worth;
        Start();
        if (_best is not null)
        {
            Improve();
            Finish();
        }

        return Answer();
    }

    private SolveLimits Part(double share) => _limits with { Seconds = _limits.Seconds * share, Work = (long?)(_limits.Work * share) };

    /// <summary>Whole plans in many orders; tries longer when none was found yet, because plates are short.</summary>
    private void Start()
    {
        for (var i = 0; !Done && (i < 300 || _best is null) && !_budget.OutAt(_best is null ? 1 : 0.08); i++)
        {
            Offer(i < FreeOrder.Senses * 7
                ? _constructive.Build(i % FreeOrder.Senses, (FillRule)(i / FreeOrder.Senses), 0, 1, 0.08)
                : _constructive.Build(_random.Below(FreeOrder.Senses), (FillRule)_random.Below(PlateFiller.Rules), 0.4, 4, 0.08));
        }
    }

    private void Improve()
    {
        var several = _model.Stocks.Length > 1 || _model.Problem.PieceCost is not null;
        var renewal = new PlateRenewal(_model, _constructive, _budget, _random);
        var joiner = new PlateJoiner(_model, _budget);
        while (!Done)
        {
            var until = Math.Min(1, _budget.Used + 0.1);
            if (several)
            {
                Offer(renewal.Run(_best!, Math.Min(1, _budget.Used + 0.06), 4000, _bound));
            }

            if (!Done)
            {
                Squeeze(until);
            }

            if (!Done)
            {
                Offer(joiner.Run(Single(), 4, Math.Min(0.5, 0.02 * _budget.SecondsUntil(1))));
            }

        }
    }

    /// <summary>The largest leftover, at equal cost.</summary>
    private void Finish()
    {
        Offer(LastPlate.Tidy(_model, _best!, _filler, _budget, _random, 200));
    }

    /// <summary>Takes a weak plate out of the best plan, or puts a cheaper one in its place, and looks for places for its pieces.</summary>
    private void Squeeze(double share)
    {
        var (start, pool, gone) = Target(Single());
        if (start.Count == 0)
        {
            _budget.AddSteps(10_000);
            return;
        }

        var goal = new GoalSearch(_model, _filler, _budget, _random, start, pool);
        var all = goal.Run(share, _model.Stocks.Length == 1 ? long.MaxValue : 20_000);
        var plates = start.Select((p, i) => FreePlate.From(_model, p.Stock, goal.BestPlates[i])).ToList();
        if (!all)
        {
            // Not all: as little as possible on the plate that was to go.
            var kinds = goal.BestPool.Distinct().ToArray();
            var copies = kinds.Select(k => goal.BestPool.Count(b => b == k)).ToArray();
            _filler.Fill(_model.Stocks[gone.Stock], kinds, copies, FillRule.Bottom);
            if (copies.Any(c => c > 0))
            {
                return;
            }

            plates.Add(FreePlate.From(_model, gone.Stock, _filler.Placed));
        }

        Offer(new FreePlan([.. plates.Where(p => p.Placed.Length > 0).Select(p => (p, 1))]));
    }

    private (List<FreePlate> Start, List<int> Pool, FreePlate Gone) Target(List<FreePlate> plates)
    {
        var weakest = plates.OrderBy(p => p.Area / (double)_model.Stocks[p.Stock].Area).ToList();
        var gone = weakest[Math.Min(weakest.Count - 1, _random.Below(3) * _random.Below(3))];
        var rest = plates.Where(p => !ReferenceEquals(p, gone)).ToList();
        var cheaper = _model.Stocks.Where(s => s.Cost < _model.Stocks[gone.Stock].Cost
            && rest.Count(p => p.Stock == s.Index) < s.Limit).ToArray();
        if (cheaper.Length > 0 && _random.Below(4) > 0)
        {
            rest.Add(new FreePlate(cheaper[_random.Below(cheaper.Length)].Index, [], 0, 0));
        }

        return (rest, [.. gone.Placed.Select(p => p.Kind)], gone);
    }

    /// <summary>The best plan's plates one by one.</summary>
    private List<FreePlate> Single() =>
        [.. _best!.Plates.SelectMany(p => Enumerable.Range(0, p.Count).Select(_ => p.Plate with { })).Where(p => p.Placed.Length > 0)];

    /// <summary>Takes a plan that is cheaper, or as cheap with fewer plates or a larger rectangle left.</summary>
    private void Offer(FreePlan? plan)
    {
        if (plan is null || plan.Cost > _bestCost)
        {
            return;
        }

        var cheaper = plan.Cost < _bestCost;
        var rest = LastPlate.Rest(_model, plan);
        if (!cheaper && (plan.Pieces > _best!.Pieces || (plan.Pieces == _best.Pieces && rest <= _bestRest)))
        {
            return;
        }

        (_best, _bestCost, _bestRest) = (plan, plan.Cost, rest);
        _secondsToBest = cheaper ? _budget.Seconds : _secondsToBest;
        Report();
    }

    private void Report()
    {
        if (_best is not null)
        {
            _improved?.Invoke(Answer());
        }
    }

    private PlateSolution Answer() => _best is null
        ? Nothing(SolveStatus.NotFound)
        : _best.ToSolution(_model, _bound) with
        {
            SecondsToBest = _secondsToBest,
            SecondsToProof = _bound >= _bestCost ? _budget.Seconds : double.NaN,
        };

    private PlateSolution Nothing(SolveStatus status) => new()
    {
        Status = status,
        Layouts = [],
        Cost = 0,
        Bound = status == SolveStatus.Impossible ? 0 : _bound,
    };
}
