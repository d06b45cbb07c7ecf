namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Plans whose dense plates come from strips and whose last plates come from a search over choices of plates.</summary>
/// <remarks>
/// Method: <see cref="StripPlan"/> fills plates at values drawn anew each time. The least dense plates are given up. For the pieces that are
/// left, <see cref="Fleets"/> lists the choices of plates that would make the whole plan cheaper than the best known. One is taken that need
/// not be filled more densely than was reached so far, and ruin and recreate fills just these plates. Pieces that had no place are
/// worth more next time (sequential value correction, Belov and Scheithauer 2007). Several threads work on plans of their own; what
/// they find is taken over in a fixed order. Heuristic.
/// </remarks>
internal sealed class StripSearch
{
    /// <summary>Denser than this no plate with several pieces is filled in practice; only the search order depends on it.</summary>
    private const double Densest = 0.995;

    /// <summary>Most plates that are given up.</summary>
    private const int MostGivenUp = 5;

    // Measured on five made jobs of 300 pieces at equal work: one plan a turn left 2.1 % of the bound on average, four 1.8 %. Half the memory
    // or a third of the patience changed nothing.

    /// <summary>Plans of strips made in a turn; the most promising is searched.</summary>
    private const int PlansPerTurn = 4;

    /// <summary>Plans made from nothing before sheets of the best plan are kept in new ones.</summary>
    private const int FreshPlans = 4;

    /// <summary>Work after which no further plan is made in a turn: plans of thousands of pieces take seconds.</summary>
    private const long CheapPlans = 500_000;

    /// <summary>Length of the memory of late acceptance, for each piece.</summary>
    private const int SlotsPerPiece = 6;

    /// <summary>How often the memory may be passed through without a better state.</summary>
    private const int Patience = 30;

    private readonly ThroughModel _model;
    private readonly CostSteps _steps;
    private readonly StripLane[] _lanes;
    private readonly double _plate;

    public StripSearch(ThroughModel model, CostSteps steps, int seed, int threads)
    {
        (_model, _steps) = (model, steps);
        _plate = Enumerable.Range(0, model.StockCount).Max(s => (double)model.StockWidth[s] * model.StockHeight[s]);
        _lanes = [.. Enumerable.Range(0, Math.Max(1, threads)).Select(t => new StripLane(model, MostGivenUp, seed + (15_485_863 * t)))];
    }

    /// <summary>One plan for each thread: the sheets of the cheapest plan below the best; null when none was found.</summary>
    /// <param name="left">False: there was nothing to do, so little metal is wanted; another turn would do nothing again, and no limit of work would end it.</param>
    public IReadOnlyList<CutSheet>? Turn(CutPlan best, SearchBudget budget, double until, out bool left)
    {
        var answers = new Answer[_lanes.Length];
        var most = budget.WorkUntil(until);
        Parallel.For(0, _lanes.Length, new ParallelOptions { MaxDegreeOfParallelism = _lanes.Length }, t =>
            answers[t] = Try(_lanes[t], best, most, budget, until));
        var done = answers.Max(a => a.Work);
        left = done > 0;
        budget.Add(done);
        IReadOnlyList<CutSheet>? found = null;
        var cheapest = best.Cost;
        foreach (var answer in answers)
        {
            var cost = answer.Sheets?.Sum(s => CutPlan.SheetCost(_model, s)) ?? long.MaxValue;
            if (cost < cheapest)
            {
                (cheapest, found) = (cost, answer.Sheets);
            }
        }

        return found;
    }

    private double Density(CutSheet sheet) =>
        sheet.Filled / ((double)_model.StockWidth[sheet.Stock] * _model.StockHeight[sheet.Stock]);

    /// <summary>The densest sheets of the best plan, by chance some more or fewer: the rest is filled with strips anew.</summary>
    private List<CutSheet> Keep(StripLane lane, CutPlan best)
    {
        var share = 0.3 + (0.5 * lane.Random.Real());
        return [.. best.Sheets.Select((sheet, n) => (Sheet: sheet, Key: Density(sheet) * (1 - (0.03 * lane.Random.Real())), N: n))
            .OrderByDescending(e => e.Key).ThenBy(e => e.N).Take((int)(share * best.Sheets.Count)).Select(e => e.Sheet)];
    }

    private Answer Try(StripLane lane, CutPlan best, long? most, SearchBudget budget, double until)
    {
        var from = lane.Work;
        bool Stop() => most is { } work ? lane.Work - from >= work : budget.Used >= until;
        var choices = new List<Choice>();
        for (var n = 0; n < PlansPerTurn && (n == 0 || (lane.Work - from < CheapPlans && !Stop())); n++)
        {
            var sheets = lane.Plan.Build(lane.Values(_plate), 0.2 * _plate, Stop, lane.Turns > FreshPlans && lane.Random.Below(2) == 0 ? Keep(lane, best) : null);
            var order = sheets.OrderByDescending(Density).ToList();
            for (var gone = 0; gone <= Math.Min(MostGivenUp, order.Count); gone++)
            {
                Consider(lane, order[..^gone], gone, best.Cost, choices);
            }
        }

        if (choices.Count == 0 || Stop())
        {
            lane.Learn([]);
            return new Answer(null, lane.Work - from);
        }

        var choice = choices.MinBy(c => c.Key)!;
        var memory = (int)Math.Clamp(choice.Pieces * SlotsPerPiece, 100, 2000);
        lane.Search.Start(Fleets.Empty(_model, choice.Plates), choice.Below, new PartOfJob(choice.Demand, choice.Plates, memory));
        if (lane.Search.UntilIdle((long)Patience * memory, () => Stop() || budget.Out, out _))
        {
            lane.Reach[choice.Gone] = Math.Max(lane.Reach[choice.Gone], choice.Density) + 0.003;
            lane.Learn([]);
            return new Answer([.. choice.Kept, .. lane.Search.Current.Where(s => s.Pieces > 0).Select(s => s.Clone())], lane.Work - from);
        }

        lane.Reach[choice.Gone] = Math.Max(0.85, Math.Min(lane.Reach[choice.Gone], choice.Density - 0.0005));
        lane.Learn(lane.Search.Missing);
        return new Answer(null, lane.Work - from);
    }

    /// <summary>Cheaper choices of plates for what the kept sheets leave.</summary>
    private void Consider(StripLane lane, List<CutSheet> kept, int gone, long below, List<Choice> choices)
    {
        var demand = (int[])_model.Demand.Clone();
        var limits = (int[])_model.StockLimit.Clone();
        long cost = 0;
        foreach (var sheet in kept)
        {
            sheet.AddCounts(demand, -1);
            cost += CutPlan.SheetCost(_model, sheet);
            limits[sheet.Stock] -= limits[sheet.Stock] == int.MaxValue ? 0 : 1;
        }

        var (wanted, pieces, pieceCosts) = (0.0, 0, 0L);
        for (var i = 0; i < demand.Length; i++)
        {
            wanted += demand[i] * _model.Area[i];
            pieces += demand[i];
            pieceCosts += _model.HasPieceCost ? demand[i] * (long)AreaBound.LeastPieceCost(_model, i) : 0;
        }

        var room = below - cost - pieceCosts;
        if (room <= 0 || pieces == 0)
        {
            return;
        }

        foreach (var (plates, price, area) in Fleets.Below(_model, limits, room, _steps.Divisor))
        {
            var density = wanted / area;
            if (density <= Densest)
            {
                var key = Math.Max(0, density - lane.Reach[gone]) + (0.02 * (price + cost) / below) + (0.004 * lane.Random.Real());
                choices.Add(new Choice(kept, gone, plates, demand, pieces, density, below - cost - 1, key));
            }
        }
    }

    /// <summary>A choice of plates for what kept sheets leave.</summary>
    private sealed record Choice(
        List<CutSheet> Kept, int Gone, int[] Plates, int[] Demand, int Pieces, double Density, long Below, double Key);

    /// <param name="Sheets">Of a whole plan; null: none was found.</param>
    private readonly record struct Answer(IReadOnlyList<CutSheet>? Sheets, long Work);
}
