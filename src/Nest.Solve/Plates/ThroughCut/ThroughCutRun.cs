using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Plates.Bounds;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>One run of <see cref="ThroughCutSolver"/>: the phases and what is known so far.</summary>
internal sealed class ThroughCutRun(
    ThroughModel model, CostSteps steps, SolveLimits limits, SearchBudget budget, long bound, Action<PlateSolution>? improved)
{
    /// <summary>A budget no plan exceeds.</summary>
    private const long Unlimited = long.MaxValue / 8;

    /// <summary>From so many pieces on the first plan may be given up when the time is over.</summary>
    private const int LengthyPieces = 12_000;

    private SideBySide? _sideBySide;
    private CutPlan? _best;
    private long _bound = bound;
    private string _boundSource = Methods.PlateArea;
    private double _told = double.NaN;
    private double _secondsToBest = double.NaN;
    private double _secondsToProof = double.NaN;

    private bool Done => budget.Out || (_best is not null && _best.Cost <= _bound);

    /// <summary>Cost to aim at next: a fortieth of the gap lower, at least one step of cost.</summary>
    private long Goal => GoalBelow(_best!.Cost);

    private long GoalBelow(long cost) => cost - (Math.Max(1, (cost - _bound) / 40 / steps.Divisor) * steps.Divisor);

    public PlateSolution Run()
    {
        var search = new RuinRecreate(model, limits.Seed);
        Construct(search);
        if (_best is not null && !Done)
        {
            Improve(search, budget.Used + 0.04);
            Cover();
            var strips = new StripSearch(model, steps, limits.Seed, limits.Threads);
            Strips(strips, budget.Used + 0.3);
            while (!Done)
            {
                Strips(strips, budget.Used + 0.3);
                Improve(search, budget.Used + 0.2);
            }
        }

        Settle();
        return Answer();
    }

    /// <summary>Plans of dense strips, each with a search over the last plates.</summary>
    private void Strips(StripSearch strips, double until)
    {
        for (var left = true; left && !Done && budget.Used < until;)
        {
            var sheets = strips.Turn(_best!, budget, until, out left);
            if (sheets is not null)
            {
                Offer(sheets);
            }
        }
    }

    /// <summary>Bound by dual feasible functions with whole numbers of plates.</summary>
    private void Cover()
    {
        var share = budget.SecondsUntil(budget.Used + 0.05);
        if (share > 0 && _best is not null)
        {
            // With a limit in work these seconds are work: as a clock they would cut the bound short on a slow machine.
            var part = limits.Work is null ? limits with { Seconds = share } : limits with { Work = (long)(share * 1e6) };

            // Free layouts keep a kerf to damage, through-cuts need none and may run through it: as a bound of these the plates count as sound.
            var sound = model.Problem with { Stocks = [.. model.Problem.Stocks.Select(stock => stock with { KeepOuts = [] })] };
            var cover = PlateBounds.Best(sound, _best.Cost, part);
            if (cover != PlateBounds.Impossible)
            {
                Raise(steps.RoundUp(cover), Methods.DualFeasibleFunctions);
            }

            budget.Add(limits.Work is null ? 0 : (long)(share * 1e6));
        }

        if (model.StockCount > 1 && !Done && share > 0)
        {
            // Five hundredths of the time; half a nanosecond a step.
            var table = Math.Min(6e8, share * 1.5e9);
            Raise(steps.RoundUp(FleetBound.Cost(model, steps, table, limits.Threads, budget.Cancel)), Methods.PlateFleets);
            budget.Add((long)(table / 1500));
        }
    }

    /// <summary>Gathers the rest of the emptiest sheets into one rectangle each; costs nothing.</summary>
    private void Settle()
    {
        if (_best is null)
        {
            return;
        }

        var done = new Dictionary<(int, ulong), CutSheet>();
        var order = Enumerable.Range(0, _best.Sheets.Count)
            .OrderBy(n => _best.Sheets[n].Filled / ((double)model.StockWidth[_best.Sheets[n].Stock] * model.StockHeight[_best.Sheets[n].Stock]))
            .ThenBy(n => n);
        foreach (var n in order)
        {
            var sheet = _best.Sheets[n];
            if (!done.TryGetValue((sheet.Stock, sheet.Key), out var settled))
            {
                if (done.Count >= 12)
                {
                    break;
                }

                settled = RestGatherer.Gather(model, sheet, Math.Max(20, 400 / (1 + (sheet.Pieces / 8))), limits.Seed);
                done.Add((sheet.Stock, sheet.Key), settled);
            }

            _best.Sheets[n] = settled;
        }
    }

    /// <summary>Plans by each sorting rule; where limited plates leave pieces over, search without a budget until all are placed.</summary>
    private void Construct(RuinRecreate search)
    {
        // However short the time, one plan is made, unless that alone would take minutes: then the job level has one of its own (Lots).
        var lengthy = model.Demand.Sum(count => (long)count) > LengthyPieces;
        foreach (var rule in (int[])[0, 4, 6, 7, 8])
        {
            search.Start([], Unlimited);
            if (search.Construct(rule, lengthy ? () => budget.Out || search.Work >= budget.WorkUntil(1) : null))
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

    private void Improve(RuinRecreate search, double until)
    {
        if (_best is null || Done)
        {
            return;
        }

        if (limits.Threads <= 1)
        {
            search.Start(_best.Sheets, Goal);
            Search(search, until);
        }
        else
        {
            ImproveSideBySide(until);
        }
    }

    /// <summary>Several searches from the same plan.</summary>
    private void ImproveSideBySide(double until)
    {
        _sideBySide ??= new(model, limits.Seed, limits.Threads);
        foreach (var plan in _sideBySide.Run(_best!, _bound, GoalBelow, budget, until))
        {
            Offer(plan.Sheets);
        }
    }

    /// <summary>Ruin and recreate up to a share of the limits; each complete plan lowers the budget.</summary>
    private void Search(RuinRecreate search, double until)
    {
        var work = search.Work;
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

                    search.Start(_best!.Sheets, Goal);
                }

            }

            budget.Add(search.Work - work);
            work = search.Work;
        }
    }

    private void Raise(long bound, string source)
    {
        if (bound > _bound)
        {
            (_bound, _boundSource) = (bound, source);
            Proof();
        }
    }

    private void Offer(IEnumerable<CutSheet> sheets)
    {
        var plan = new CutPlan(model, sheets.Where(s => s.Pieces > 0).Select(s => s.Clone()));
        if (_best is not null && plan.Cost >= _best.Cost)
        {
            return;
        }

        _best = plan;
        _secondsToBest = budget.Seconds;
        Proof();
        if (improved is not null && (double.IsNaN(_told) || budget.Seconds - _told > 0.1))
        {
            improved(Answer());
            _told = budget.Seconds;
        }
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
            return new PlateSolution { Status = SolveStatus.NotFound, Layouts = [], Cost = 0, Bound = _bound, BoundSource = _boundSource };
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
            Status = !Contradictions.Found(_bound, _best.Cost, _boundSource) && _best.Cost <= _bound ? SolveStatus.Proven : SolveStatus.BestFound,
            Layouts = [.. layouts],
            Cost = _best.Cost,
            Bound = _bound,
            BoundSource = _boundSource,
            SecondsToBest = _secondsToBest,
            SecondsToProof = _best.Cost <= _bound ? _secondsToProof : double.NaN,
        };
    }
}
