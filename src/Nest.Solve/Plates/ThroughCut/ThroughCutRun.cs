using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>One run of <see cref="ThroughCutSolver"/>: the phases and what is known so far.</summary>
internal sealed class ThroughCutRun(
    ThroughModel model, CostSteps steps, SolveLimits limits, SearchBudget budget, long bound, Action<PlateSolution>? improved)
{
    private readonly ColumnPool _pool = new(model, 20000);
    private CutPlan? _best;
    private long _bound = bound;
    private double _secondsToBest = double.NaN;
    private double _secondsToProof = double.NaN;

    private bool Done => budget.Out || (_best is not null && _best.Cost <= _bound);

    public PlateSolution Run()
    {
        var search = new RuinRecreate(model, limits.Seed);
        Construct(search);
        if (_best is not null && !Done)
        {
            using var columns = new ColumnBound(model, _pool, steps);
            Generate(columns, 0.2);
            var share = Math.Max(0.05, Math.Min(0.2, budget.Used));
            while (!Done)
            {
                Improve(search, budget.Used + share);
                Choose(columns, Math.Min(0.98, budget.Used + 0.12));
                share = 0.25;
            }
        }

        return Answer();
    }

    /// <summary>Plans by each sorting rule; where limited plates leave pieces over, search without a budget until all are placed.</summary>
    private void Construct(RuinRecreate search)
    {
        const long unlimited = long.MaxValue / 8;
        foreach (var rule in (int[])[0, 4, 6, 7, 8])
        {
            search.Start([], unlimited);
            if (search.Construct(rule))
            {
                Offer(search.Current);
            }

            budget.Add(search.Work);
            if (Done)
            {
                return;
            }
        }

        if (_best is null)
        {
            Search(search, 1);
        }
    }

    /// <summary>Column generation up to a share of the limits.</summary>
    private void Generate(ColumnBound columns, double until)
    {
        while (!Done && budget.Used < until && columns.Round(budget))
        {
            Raise(columns.Best);
        }

        Raise(columns.Best);
        if (!columns.Exact && !Done && columns.Duals.Length > 0)
        {
            columns.Prove(budget, columns.Duals);
            Raise(columns.Best);
        }
    }

    private void Improve(RuinRecreate search, double until)
    {
        if (_best is null || Done)
        {
            return;
        }

        search.Start(_best.Sheets, _best.Cost - steps.Divisor);
        Search(search, until);
    }

    /// <summary>Ruin and recreate up to a share of the limits; each complete plan lowers the budget.</summary>
    private void Search(RuinRecreate search, double until)
    {
        var work = search.Work;
        var least = double.MaxValue;
        while (!Done && budget.Used < until)
        {
            for (var n = 0; n < 64; n++)
            {
                if (search.Step())
                {
                    Offer(search.Current);
                    if (Done)
                    {
                        return;
                    }

                    search.Start(_best!.Sheets, _best.Cost - steps.Divisor);
                    least = double.MaxValue;
                }

                if (search.MissingWeight < least)
                {
                    least = search.MissingWeight;
                    AddColumns(search.Current);
                }
            }

            AddColumns(search.Current);
            budget.Add(search.Work - work);
            work = search.Work;
        }
    }

    private void AddColumns(IEnumerable<CutSheet> sheets)
    {
        foreach (var sheet in sheets)
        {
            _pool.Add(sheet);
        }
    }

    /// <summary>The restricted master in whole numbers.</summary>
    private void Choose(ColumnBound columns, double until)
    {
        var seconds = budget.SecondsUntil(until);
        if (Done || _best is null || seconds < 0.01)
        {
            return;
        }

        var chosen = MasterModel.Solve(model, _pool.Columns, _best.Cost, _bound, seconds, budget, limits.Seed);
        if (chosen is not null)
        {
            var search = new RuinRecreate(model, limits.Seed);
            search.Start(chosen, long.MaxValue / 8); // takes the surplus out
            Offer(search.Current);
        }
    }

    private void Raise(long bound)
    {
        if (bound > _bound)
        {
            _bound = bound;
            Proof();
        }
    }

    private void Offer(IEnumerable<CutSheet> sheets)
    {
        var plan = new CutPlan(model, sheets.Where(s => s.Pieces > 0).Select(s => s.Clone()));
        AddColumns(plan.Sheets);
        if (_best is not null && plan.Cost >= _best.Cost)
        {
            return;
        }

        _best = plan;
        _secondsToBest = budget.Seconds;
        Proof();
        improved?.Invoke(Answer());
    }

    private void Proof()
    {
        if (_best is not null && _best.Cost <= _bound && double.IsNaN(_secondsToProof))
        {
            _secondsToProof = budget.Seconds;
        }
    }

    private PlateSolution Answer()
    {
        if (_best is null)
        {
            return new PlateSolution { Status = SolveStatus.NotFound, Layouts = [], Cost = 0, Bound = _bound };
        }

        var layouts = _best.Sheets
            .GroupBy(sheet => (sheet.Stock, sheet.Key))
            .OrderBy(group => group.Key.Stock)
            .ThenByDescending(group => group.Count())
            .ThenByDescending(group => group.First().Filled)
            .ThenBy(group => group.Key.Key)
            .Select(group => LayoutBuilder.Build(model, group.First(), group.Count()));
        return new PlateSolution
        {
            Status = _best.Cost <= _bound ? SolveStatus.Proven : SolveStatus.BestFound,
            Layouts = [.. layouts],
            Cost = _best.Cost,
            Bound = _bound,
            SecondsToBest = _secondsToBest,
            SecondsToProof = _best.Cost <= _bound ? _secondsToProof : double.NaN,
        };
    }
}
