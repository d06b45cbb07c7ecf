namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Improves a plan over several sizes of plate: the pieces of some of its sheets are cut anew from a cheaper choice of plates.</summary>
/// <remarks>
/// Where sizes and prices differ, the way from one choice of plates to a cheaper one leads through dearer ones, which a search by single
/// sheets does not take. So some sheets (in a small job all) are emptied together. Of all cheaper choices of plates for their pieces
/// (<see cref="Fleets"/>) the cheapest is taken that need not be filled more densely than was reached so far. Ruin and recreate fills just these
/// plates, from empty ones and with a slow late-acceptance memory. With several threads each fills
/// another choice. Heuristic; with a limit in work the clock decides nothing.
/// </remarks>
internal sealed class FleetSearch
{
    /// <summary>Denser than this no plate with several pieces is filled in practice; only the search order depends on it.</summary>
    private const double Densest = 0.99;

    private const int MostPieces = 360;

    /// <summary>Rough speed of the search, steps until a memory of one slot has run cold, and share of the time left for one turn.
    /// Measured on made jobs of 300 pieces; a memory ten times shorter or longer ends worse.</summary>
    private const double StepsPerSecond = 1e5;
    private const double StepsPerSlot = 330;
    private const double Share = 0.3;

    private readonly ThroughModel _model;
    private readonly CostSteps _steps;
    private readonly RuinRecreate[] _searches;
    private readonly Dictionary<string, int> _failed = new(StringComparer.Ordinal);
    private RandomSource _random;

    /// <summary>Density of filling that seems to be within reach: learnt from success and failure.</summary>
    private double _reach = 0.964;

    public FleetSearch(ThroughModel model, CostSteps steps, int seed, int threads)
    {
        (_model, _steps) = (model, steps);
        _searches = [.. Enumerable.Range(0, Math.Max(1, threads)).Select(t => new RuinRecreate(model, seed + (104_729 * t)))];
        _random = new RandomSource(seed ^ 0x5bd1e995);
    }

    /// <summary>One turn: the sheets of a cheaper plan; null when none was found.</summary>
    /// <param name="left">Whether any cheaper choice of plates could hold the pieces of the sheets that were emptied.</param>
    /// <param name="seen">Takes sheets for a pool of patterns.</param>
    public IReadOnlyList<CutSheet>? Turn(
        CutPlan best, long bound, SearchBudget budget, Action<IEnumerable<CutSheet>> seen, out bool left)
    {
        var emptied = Pick(best);
        var kept = best.Sheets.Where((_, n) => !emptied.Contains(n)).ToList();
        var part = best.Sheets.Where((_, n) => emptied.Contains(n)).ToList();
        var demand = new int[_model.ItemCount];
        long cost = 0;
        foreach (var sheet in part)
        {
            cost += CutPlan.SheetCost(_model, sheet);
            sheet.AddCounts(demand);
        }

        var limits = (int[])_model.StockLimit.Clone();
        foreach (var sheet in kept)
        {
            limits[sheet.Stock] -= limits[sheet.Stock] == int.MaxValue ? 0 : 1;
        }

        var wanted = 0.0;
        for (var i = 0; i < demand.Length; i++)
        {
            wanted += demand[i] * _model.Area[i];
        }

        var plates = part.Sum(sheet => _model.StockCost[sheet.Stock]);
        var fleets = Choose(limits, plates, wanted, Math.Max(0, best.Cost - bound));
        left = fleets.Count > 0;
        if (!left)
        {
            return null;
        }

        var memory = (int)Math.Clamp(budget.SecondsUntil(0.95) * StepsPerSecond * Share / StepsPerSlot, 100, 6000);
        var most = budget.WorkUntil(0.95);
        var answers = new (bool Found, double Missing, long Work)[fleets.Count];
        Parallel.For(0, fleets.Count, new ParallelOptions { MaxDegreeOfParallelism = _searches.Length }, t =>
        {
            _searches[t].Start(Fleets.Empty(_model, fleets[t].Plates), cost - 1, new PartOfJob(demand, fleets[t].Plates, memory));
            var search = _searches[t];
            var from = search.Work;
            var found = search.UntilIdle(60L * memory, () => budget.Out || (most is { } work ? search.Work - from >= work : budget.Used >= 0.95), out var lowest);
            answers[t] = (found, found ? 0 : lowest, search.Work - from);
        });
        budget.Add(answers.Max(answer => answer.Work));

        // Taken over in a fixed order: the cheapest that succeeded.
        IReadOnlyList<CutSheet>? found = null;
        var cheapest = long.MaxValue;
        for (var t = 0; t < fleets.Count; t++)
        {
            if (answers[t].Found)
            {
                _reach = Math.Min(Densest, Math.Max(_reach, wanted / fleets[t].Area) + 0.003);
                var sheets = _searches[t].Current.Where(sheet => sheet.Pieces > 0).ToList();
                var now = sheets.Sum(sheet => CutPlan.SheetCost(_model, sheet));
                if (now < cheapest)
                {
                    (cheapest, found) = (now, [.. kept, .. sheets]);
                }
            }
            else
            {
                var name = Name(fleets[t].Plates);
                _failed[name] = _failed.GetValueOrDefault(name) + 1;
                _reach = Math.Max(0.9, Math.Min(_reach, (wanted / fleets[t].Area) - Math.Min(0.01, answers[t].Missing / wanted)));
                seen(_searches[t].Current.Where(sheet => sheet.Pieces > 0));
            }
        }

        return found;
    }

    /// <summary>Which sheets to empty: all where the pieces are few, else those with the most room, by chance.</summary>
    private HashSet<int> Pick(CutPlan best)
    {
        var keys = new double[best.Sheets.Count];
        for (var n = 0; n < keys.Length; n++)
        {
            keys[n] = Rest(best.Sheets[n]) * (0.2 + _random.Real());
        }

        var emptied = new HashSet<int>();
        var pieces = 0;
        foreach (var n in Enumerable.Range(0, keys.Length).OrderByDescending(n => keys[n]).ThenBy(n => n))
        {
            if (emptied.Count == 0 || pieces + best.Sheets[n].Pieces <= MostPieces)
            {
                emptied.Add(n);
                pieces += best.Sheets[n].Pieces;
            }
        }

        return emptied;
    }

    /// <summary>Choices of plates to try, one for each thread.</summary>
    private List<(int[] Plates, long Cost, double Area)> Choose(int[] limits, long plates, double wanted, long slack)
    {
        var fleets = Fleets.Below(_model, limits, plates, _steps.Divisor)
            .Where(fleet => wanted / fleet.Area <= Densest && plates - fleet.Cost <= slack)
            .Select(fleet => (Fleet: fleet, Key: Math.Max(0, (wanted / fleet.Area) + (0.002 * _failed.GetValueOrDefault(Name(fleet.Plates))) - _reach)
                + (0.01 * fleet.Cost / Math.Max(1, plates))))
            .OrderBy(entry => entry.Key).ThenBy(entry => entry.Fleet.Cost)
            .Take(_searches.Length)
            .Select(entry => entry.Fleet)
            .ToList();
        // Where there is but one choice, every thread fills it in its own way.
        while (fleets.Count > 0 && fleets.Count < _searches.Length)
        {
            fleets.Add(fleets[0]);
        }

        return fleets;
    }

    private double Rest(CutSheet sheet) =>
        ((double)_model.StockWidth[sheet.Stock] * _model.StockHeight[sheet.Stock]) - sheet.Filled;

    private static string Name(int[] plates) => string.Join(',', plates);
}
