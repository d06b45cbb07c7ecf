using System.Collections.Immutable;
using Nest.Solve.Plates.Bounds;

namespace Nest.Solve.Plates.Free;

/// <summary>Finds free layouts of one stock that are worth much at given values of the pieces, and bounds what any is worth.</summary>
/// <remarks>
/// Problem: max Σ (v_i − k_i)·a_i over free layouts with a_i ≤ demand_i. Method: fills in orders by value density with noise; the best
/// orders are varied. Bound: fractional bounded knapsack under all pairs of dual feasible functions at once
/// (<see cref="LayoutWorth"/>). Guarantee: layouts heuristic, bound proven in whole numbers.
/// </remarks>
public sealed class FreePricer
{
    private readonly FreeModel _model;
    private readonly PlateFiller _filler;
    private readonly LayoutWorth _worth;
    private readonly long[] _pieceCost;
    private readonly ulong _seed;

    /// <param name="items">Demand: most copies in one layout.</param>
    /// <param name="pieceCost">Cost of one piece in the unit of the values; <see cref="PlateProblem.Forbidden"/> where it must not
    /// come from this stock; null: zero.</param>
    public FreePricer(PlateStock stock, long kerf, ImmutableArray<PlateItem> items, ImmutableArray<long>? pieceCost = null, int seed = 1)
    {
        var costs = new long[1, items.Length];
        _pieceCost = new long[items.Length];
        for (var i = 0; i < items.Length; i++)
        {
            costs[0, i] = pieceCost?[i] == PlateProblem.Forbidden ? PlateProblem.Forbidden : 0;
            _pieceCost[i] = pieceCost?[i] ?? 0;
        }

        _model = new FreeModel(new PlateProblem
        {
            Stocks = [stock with { Limit = null }], Items = items, Kerf = kerf, PieceCost = costs, Cutting = new PlateCutting { Free = true },
        });
        _filler = new PlateFiller(_model);
        _seed = unchecked((ulong)seed);
        _worth = new LayoutWorth(_model, 0);
    }

    /// <param name="values">Value of each item, at least 0.</param>
    /// <param name="most">Most layouts wanted.</param>
    /// <param name="effort">Fills tried.</param>
    public Pricing<PlateLayout> Price(ReadOnlySpan<long> values, int most, int effort = 400, CancellationToken cancel = default)
    {
        var net = new long[_model.Kinds];
        for (var k = 0; k < net.Length; k++)
        {
            net[k] = _model.Allowed[0, k] ? Math.Max(0, values[k] - _pieceCost[k]) : 0;
        }

        var found = Search(net, most, effort, cancel);
        var bound = _worth.Most(net);
        return new Pricing<PlateLayout>(
            [.. found.Select(f => (FreePlan.Layout(_model, f.Plate, 1), f.Value))], bound);
    }

    private List<(FreePlate Plate, long Value)> Search(long[] net, int most, int effort, CancellationToken cancel)
    {
        var wanted = Enumerable.Range(0, net.Length).Where(k => net[k] > 0).ToArray();
        var found = new Dictionary<string, (FreePlate Plate, long Value)>();
        if (wanted.Length == 0)
        {
            return [];
        }

        var random = new FreeRandom(_seed);
        var order = new int[wanted.Length];
        var copies = new int[wanted.Length];
        var keys = new double[wanted.Length];
        var bestKeys = new double[wanted.Length];
        var bestRule = FillRule.ShortSide;
        long best = -1;
        for (var t = 0; t < effort && !cancel.IsCancellationRequested; t++)
        {
            var vary = t % 2 == 1 && best >= 0;
            var rule = vary && random.Below(2) == 0 ? bestRule : (FillRule)random.Below(PlateFiller.Rules);
            var power = random.Below(3) * 0.5;
            var noise = t == 0 ? 0 : 0.1 + (0.6 * random.Unit());
            for (var i = 0; i < wanted.Length; i++)
            {
                var k = wanted[i];
                keys[i] = vary ? bestKeys[i] * (1 + (0.4 * (random.Unit() - 0.5)))
                    : -net[k] / Math.Pow(_model.Area[k], 1 - (0.5 * power)) * (1 - (noise * random.Unit()));
                order[i] = k;
                copies[i] = _model.Demand[k];
            }

            var used = keys.ToArray();
            Array.Sort(keys, order);
            for (var i = 0; i < order.Length; i++)
            {
                copies[i] = _model.Demand[order[i]];
            }

            _filler.Fill(_model.Stocks[0], order, copies, rule);
            long value = 0;
            foreach (ref readonly var p in _filler.Placed)
            {
                value += net[p.Kind];
            }

            if (value > best)
            {
                (best, bestRule, bestKeys) = (value, rule, used);
            }

            Keep(found, value, most);
        }

        return [.. found.Values.OrderByDescending(f => f.Value)];
    }

    private void Keep(Dictionary<string, (FreePlate Plate, long Value)> found, long value, int most)
    {
        if (found.Count >= most && value <= found.Values.Min(f => f.Value))
        {
            return;
        }

        var plate = FreePlate.From(_model, 0, _filler.Placed);
        var key = string.Join(',', plate.Placed.Select(p => p.Kind).Order());
        if (!found.TryAdd(key, (plate, value)))
        {
            return;
        }

        if (found.Count > most)
        {
            found.Remove(found.MinBy(f => f.Value.Value).Key);
        }
    }
}
