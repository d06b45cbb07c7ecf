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
    private FreePlan? _best;
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

        var constructive = new FreeConstructive(_model, _filler, _budget, _random);
        Offer(constructive.Build(0, FillRule.ShortSide, 0, 1, 1));
        _bound = PlateBounds.Best(
            _model, _best is null ? null : _bestCost, _limits with { Seconds = _limits.Seconds * 0.2, Work = null }, _budget.Cancel);
        if (_bound == PlateBounds.Impossible)
        {
            return Nothing(SolveStatus.Impossible);
        }

        Report();
        for (var i = 0; i < 500 && !Done && !_budget.OutAt(0.1); i++)
        {
            var first = i < FreeOrder.Senses * 7;
            Offer(first
                ? constructive.Build(i % FreeOrder.Senses, (FillRule)(i / FreeOrder.Senses), 0, 1, 0.1)
                : constructive.Build(_random.Below(FreeOrder.Senses), (FillRule)_random.Below(7), 0.4, 4, 0.1));
        }

        while (!Done && _best is not null)
        {
            Squeeze();
        }

        return Answer();
    }

    /// <summary>Takes the weakest plates out of the best plan, or puts a cheaper one in their place, and looks for places.</summary>
    private void Squeeze()
    {
        var plates = Single();
        var (start, pool) = Target(plates);
        var goal = new GoalSearch(_model, _filler, _budget, _random, start, pool);
        var alone = _model.Stocks.Length == 1;
        if (goal.Run(1, alone ? long.MaxValue : 20000))
        {
            Offer(Plan(start.Select((p, i) => FreePlate.From(_model, p.Stock, goal.BestPlates[i]))));
        }
    }

    private (List<FreePlate> Start, List<int> Pool) Target(List<FreePlate> plates)
    {
        var weakest = plates.OrderBy(p => p.Area / (double)_model.Stocks[p.Stock].Area).ToList();
        var at = _model.Stocks.Length == 1 ? 0 : Math.Min(weakest.Count - 1, _random.Below(3) * _random.Below(3));
        var gone = weakest[at];
        var rest = plates.Where(p => !ReferenceEquals(p, gone)).ToList();
        var cheaper = _model.Stocks.Where(s => s.Cost < _model.Stocks[gone.Stock].Cost
            && rest.Count(p => p.Stock == s.Index) < s.Limit).ToArray();
        if (cheaper.Length > 0 && _random.Below(4) > 0)
        {
            rest.Add(new FreePlate(cheaper[_random.Below(cheaper.Length)].Index, [], 0, 0));
        }

        return (rest, [.. gone.Placed.Select(p => p.Kind)]);
    }

    /// <summary>The best plan's plates one by one.</summary>
    private List<FreePlate> Single() =>
        [.. _best!.Plates.SelectMany(p => Enumerable.Range(0, p.Count).Select(_ => p.Plate with { })).Where(p => p.Placed.Length > 0)];

    private static FreePlan Plan(IEnumerable<FreePlate> plates) => new([.. plates.Where(p => p.Placed.Length > 0).Select(p => (p, 1))]);

    private void Offer(FreePlan? plan)
    {
        if (plan is null || plan.Cost >= _bestCost)
        {
            return;
        }

        (_best, _bestCost) = (plan, plan.Cost);
        _secondsToBest = _budget.Seconds;
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
