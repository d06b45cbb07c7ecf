namespace Nest.Solve.Plates.Free;

/// <summary>Whole plans, plate by plate: of every kind of plate the one that gives most area for its cost is taken, as often as the
/// remaining demand allows.</summary>
/// <remarks>Method: sequential heuristic with repetition (Haessler 1971) over the maximal-space filler. Complexity: distinct layouts ×
/// stocks fills. Guarantee: heuristic; null when the limits of the plates are used up first.</remarks>
internal sealed class FreeConstructive(FreeModel model, PlateFiller filler, FreeBudget budget, FreeRandom random)
{
    private readonly int[] _kinds = new int[model.Kinds];
    private readonly int[] _copies = new int[model.Kinds];

    private readonly double[] _leastCost = [.. Enumerable.Range(0, model.Kinds).Select(k =>
        (double)Enumerable.Range(0, model.Stocks.Length).Where(s => model.Allowed[s, k]).Select(s => model.PieceCost(s, k)).DefaultIfEmpty(0).Min())];

    /// <summary>What each kind is worth; plates that give most worth for their cost are taken.</summary>
    public double[] Worth { get; set; } = model.Area;

    /// <summary>A plan for the whole demand.</summary>
    /// <param name="tries">Fills tried for each kind of plate at each step; the first uses the given order and rule.</param>
    public FreePlan? Build(int sense, FillRule rule, double noise, int tries, double deadline) =>
        Build([.. model.Demand], [.. model.Stocks.Select(s => s.Limit)], sense, rule, noise, tries, deadline);

    /// <summary>A plan for what is left, with the plates left.</summary>
    public FreePlan? Build(int[] left, int[] limits, int sense, FillRule rule, double noise, int tries, double deadline)
    {
        var plates = new List<(FreePlate, int)>();
        var byArea = random.Below(4) == 0;
        while (left.Any(r => r > 0))
        {
            FreePlate? best = null;
            var bestScore = double.MaxValue;
            var bestAll = false;
            for (var s = 0; s < limits.Length; s++)
            {
                for (var t = 0; t < tries && limits[s] > 0; t++)
                {
                    var plate = t == 0 ? Fill(s, left, sense, rule, noise)
                        : Fill(s, left, random.Below(FreeOrder.Senses), (FillRule)random.Below(PlateFiller.Rules), noise + 0.2);
                    if (plate is null)
                    {
                        break;
                    }

                    var all = plate.Placed.Length == left.Sum();
                    // A piece's cost counts only as far as another plate would be cheaper for it.
                    var (cost, worth) = ((double)plate.Cost, 0.0);
                    foreach (var p in plate.Placed)
                    {
                        cost -= _leastCost[p.Kind];
                        worth += byArea ? model.Area[p.Kind] : Worth[p.Kind];
                    }

                    var score = all ? plate.Cost : (cost + 1e-6) / worth * (1 + (0.1 * noise * random.Unit()));
                    if (best is null || (all && !bestAll && plate.Cost <= best.Cost)
                        || (all == bestAll && score < bestScore) || (!all && bestAll && plate.Cost < best.Cost))
                    {
                        (best, bestScore, bestAll) = (plate, score, all);
                    }
                }
            }

            if (best is null)
            {
                return null;
            }

            var used = new int[model.Kinds];
            foreach (var p in best.Placed)
            {
                used[p.Kind]++;
            }

            var count = limits[best.Stock];
            for (var k = 0; k < used.Length; k++)
            {
                if (used[k] > 0)
                {
                    count = Math.Min(count, left[k] / used[k]);
                }
            }

            for (var k = 0; k < used.Length; k++)
            {
                left[k] -= used[k] * count;
            }

            limits[best.Stock] -= limits[best.Stock] == int.MaxValue ? 0 : count;
            plates.Add((best, count));
            if (budget.OutAt(deadline))
            {
                tries = 1;
            }
        }

        return new FreePlan(plates);
    }

    private FreePlate? Fill(int stock, int[] left, int sense, FillRule rule, double noise)
    {
        var n = 0;
        var s = model.Stocks[stock];
        // Sometimes only pieces that are not much dearer here than elsewhere.
        var regret = noise == 0 || random.Below(2) == 0 ? double.MaxValue : random.Unit() * (s.Cost + 1) / (double)s.Area;
        for (var k = 0; k < left.Length; k++)
        {
            if (left[k] > 0 && model.Allowed[stock, k]
                && (regret == double.MaxValue || model.PieceCost(stock, k) - _leastCost[k] <= regret * model.Area[k]))
            {
                _kinds[n++] = k;
            }
        }

        if (n == 0)
        {
            return null;
        }

        var kinds = _kinds.AsSpan(0, n);
        var copies = _copies.AsSpan(0, n);
        FreeOrder.Sort(model, kinds, sense, noise, random);
        for (var i = 0; i < n; i++)
        {
            copies[i] = left[kinds[i]];
        }

        var before = filler.Steps;
        filler.Fill(s, kinds, copies, rule);
        budget.AddSteps(filler.Steps - before + 50 + (20L * n));
        return filler.Count == 0 ? null : FreePlate.From(model, stock, filler.Placed);
    }
}
