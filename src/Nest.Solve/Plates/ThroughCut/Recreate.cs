namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Puts what is missing back into the changed copy of a plan, each piece at its best spot, opening plates within the budget.</summary>
/// <remarks>Cost: O(pieces × sheets × rests).</remarks>
internal sealed class Recreate(ThroughModel model)
{
    private readonly List<int> _order = [];
    private readonly double[] _keys = new double[model.ItemCount];
    private readonly int[] _failed = new int[model.ItemCount];
    private int _stamp;

    /// <summary>Work done so far in steps of roughly a microsecond.</summary>
    public long Work { get; private set; }

    /// <param name="limits">Most plates of each stock.</param>
    /// <param name="budget">Most that the plan may cost.</param>
    /// <param name="rule">How pieces are sorted: by area, longer side, width, height, shorter side, or by chance alone (9).</param>
    /// <param name="noise">Share of chance in the order.</param>
    /// <param name="stop">Asked now and then: the rest stays missing where it says so.</param>
    public void All(TrialPlan plan, int[] limits, long budget, int rule, double noise, ref RandomSource random, Func<bool>? stop = null)
    {
        var put = 0;
        _stamp++;
        _order.Clear();
        for (var i = 0; i < model.ItemCount; i++)
        {
            if (plan.TrialMissing[i] == 0)
            {
                continue;
            }

            _keys[i] = rule switch
            {
                < 4 => model.Area[i],
                < 6 => Math.Max(model.Width[i], model.Height[i]),
                6 => model.Width[i],
                7 => model.Height[i],
                8 => Math.Min(model.Width[i], model.Height[i]),
                _ => 1,
            };
            _keys[i] *= 1 + ((rule == 9 ? 1 : noise) * random.Real());
            _order.Add(i);
        }

        _order.Sort((a, b) => _keys[a] != _keys[b] ? _keys[b].CompareTo(_keys[a]) : a.CompareTo(b));
        foreach (var item in _order)
        {
            while (plan.TrialMissing[item] > 0 && PutOne(plan, limits, budget, item, ref random))
            {
                if (stop is not null && ++put % 64 == 0 && stop())
                {
                    plan.SumAnew();
                    return;
                }
            }
        }

        plan.SumAnew();
    }

    private bool PutOne(TrialPlan plan, int[] limits, long budget, int item, ref RandomSource random)
    {
        var trial = plan.Trial;
        Work += 1 + (trial.Count / 16);
        var area = model.Area[item];
        var best = new Spot(-1, 0, double.NegativeInfinity);
        var at = -1;
        var turned = false;
        if (_failed[item] != _stamp)
        {
            for (var s = 0; s < trial.Count; s++)
            {
                var sheet = trial[s];
                if (sheet.LargestRest < area || !model.Fits[sheet.Stock, item] || random.Below(64) == 0)
                {
                    continue;
                }

                if (model.HasPieceCost && plan.TrialCost + model.CostOf(sheet.Stock, item) > budget)
                {
                    continue;
                }

                if (sheet.BestSpot(model, model.Width[item], model.Height[item], out var spot) && spot.Score > best.Score)
                {
                    (best, at, turned) = (spot, s, false);
                }

                if (model.Turns[item] && sheet.BestSpot(model, model.Height[item], model.Width[item], out spot) && spot.Score > best.Score)
                {
                    (best, at, turned) = (spot, s, true);
                }
            }
        }

        if (at < 0)
        {
            _failed[item] = _stamp;
            at = OpenSheet(plan, limits, budget, item, ref random);
            if (at < 0)
            {
                return false;
            }

            Array.Clear(_failed);
            return PutOn(plan, at, item, ref random);
        }

        plan.Own(at).Put(model, best, item, turned);
        plan.PutOn(trial[at].Stock, item);
        return true;
    }

    private bool PutOn(TrialPlan plan, int at, int item, ref RandomSource random)
    {
        var sheet = plan.Trial[at];
        var plain = sheet.BestSpot(model, model.Width[item], model.Height[item], out var a);
        var b = default(Spot);
        var turned = model.Turns[item] && sheet.BestSpot(model, model.Height[item], model.Width[item], out b);
        if (!plain && !turned)
        {
            return false;
        }

        var turn = turned && (!plain || (b.Score == a.Score ? random.Below(2) == 0 : b.Score > a.Score));
        plan.Own(at).Put(model, turn ? b : a, item, turn);
        plan.PutOn(sheet.Stock, item);
        return true;
    }

    /// <summary>Opens a plate that holds the piece within the budget; −1 where there is none.</summary>
    private int OpenSheet(TrialPlan plan, int[] limits, long budget, int item, ref RandomSource random)
    {
        var chosen = -1;
        var bestKey = double.MaxValue;
        var greedy = random.Below(2) == 0;
        for (var s = 0; s < model.StockCount; s++)
        {
            if (!model.Fits[s, item] || plan.TrialUsed[s] >= limits[s]
                || plan.TrialCost + model.StockCost[s] + model.CostOf(s, item) > budget)
            {
                continue;
            }

            var key = greedy ? (double)model.StockCost[s] / ((double)model.StockWidth[s] * model.StockHeight[s]) : random.Real();
            if (key < bestKey)
            {
                (bestKey, chosen) = (key, s);
            }
        }

        if (chosen < 0)
        {
            return -1;
        }

        // With keep-outs there are several blanks; one that holds the piece is drawn at random.
        var blanks = model.Blank[chosen];
        var from = random.Below(blanks.Length);
        for (var b = 0; b < blanks.Length; b++)
        {
            var blank = blanks[(from + b) % blanks.Length];
            if (blank.BestSpot(model, model.Width[item], model.Height[item], out _)
                || (model.Turns[item] && blank.BestSpot(model, model.Height[item], model.Width[item], out _)))
            {
                return plan.Open(blank);
            }
        }

        return -1;
    }
}
