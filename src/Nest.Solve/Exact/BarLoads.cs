using System.Collections.Immutable;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>Loads of a bar: the exact pricer of the bar kernel, and a depth-first search for all that are nearly as good.</summary>
/// <remarks>
/// U_k(c), the most that kinds k, k + 1, … and what is left make of a length c (unbounded knapsack, O(kinds · length)), is never below what
/// they can add; a partial load whose worth + U misses the limit is left. Cost is exact: on bars it is linear but for the leftover.
/// </remarks>
internal sealed class BarLoads : LoadSource
{
    private const long MostCells = 4_000_000;

    /// <summary>Partial loads that a list may take.</summary>
    private const long MostVisits = 20_000_000;

    private readonly IStockPricer _pricer;
    private readonly int[] _lengths;
    private readonly long[] _pieceCost;
    private readonly int _room;
    private readonly int _kerf;
    private readonly long _unit;
    private readonly long _fixed;
    private readonly bool _canList;

    public BarLoads(BlankKinds kinds, int component, int stock, int number)
        : base(kinds, component, stock, number)
    {
        var all = kinds.Component;
        var frame = all.Stocks[stock];
        _pricer = StockPricers.For(all, stock);
        _fixed = (frame.Loading.Units + (frame.Trims.Left > Length.Zero && !frame.Stock.CleanEdges.Right ? frame.BarCut.Units : 0) - frame.TrimCredit()) * Grain.PerUnit;
        _pieceCost = [.. kinds.Members.Select(members => all.Fits[stock, members[0]] is { } fit
            ? (fit.ExtraCost.Units + frame.BarCut.Units + fit.AngledCuts.Units) * Grain.PerUnit : 0)];
        var lengths = kinds.Members.Select(members => all.SizeX(stock, members[0])).ToArray();
        var (kerf, room) = (all.Units(frame.Saw.Kerf), all.Units(frame.Usable.SizeX));
        _unit = lengths.Append(kerf).Append(room).Aggregate(0L, WholeNumbers.Divisor);
        _canList = room / _unit * (kinds.Count + 1) <= MostCells;
        (_kerf, _room) = ((int)(kerf / _unit), (int)Math.Min(int.MaxValue / 2, (room + kerf) / _unit));
        _lengths = [.. lengths.Select(length => length == 0 ? 0 : (int)Math.Min(int.MaxValue / 4, (length + kerf) / _unit))];
    }

    public override bool CanList => _canList;

    public override double Steps => 20.0 * _room;

    public override long EmptyCost => _fixed - Leftover(_room - _kerf);

    public override long Best(ReadOnlySpan<int> values, out Load? load)
    {
        const int PerGrain = (int)(IStockPricer.Scale / Grain.PerUnit);
        var own = new long[Kinds.Component.Items];
        for (var i = 0; i < own.Length; i++)
        {
            own[i] = (long)values[Kinds.Of[i]] * PerGrain;
        }

        var (columns, upper) = _pricer.Price(own, 1);
        load = columns.IsEmpty || columns[0].Counts.All(n => n == 0)
            ? null
            : new(Number, [.. Kinds.CountsOf(columns[0].Counts.AsSpan())], (columns[0].Cost - Frame.Stock.PiecePrice.Units) * Grain.PerUnit, null, true);
        return ((upper + PerGrain - 1) / PerGrain) - _fixed;
    }

    public override List<Load>? All(double mostSteps) => Within(new int[Kinds.Count], long.MaxValue / 4, new((long)Math.Min(mostSteps / 100, 20_000), 1, () => false), out _);

    public override List<Load>? Within(ReadOnlySpan<int> values, long gap, ListLimits limits, out long joins)
    {
        var order = Enumerable.Range(0, Kinds.Count).Where(k => _lengths[k] > 0).OrderByDescending(k => _lengths[k]).ToArray();
        var worth = new long[_room + 1];
        for (var c = 0; c <= _room; c++)
        {
            worth[c] = Leftover(c - _kerf);
        }

        var tables = new long[order.Length + 1][];
        tables[order.Length] = worth;
        var net = values.ToArray().Select((value, k) => value - _pieceCost[k]).ToArray();
        for (var at = order.Length - 1; at >= 0; at--)
        {
            var k = order[at];
            var own = (long[])tables[at + 1].Clone();
            for (var c = _lengths[k]; c <= _room; c++)
            {
                own[c] = Math.Max(own[c], own[c - _lengths[k]] + net[k]);
            }

            tables[at] = own;
        }

        var limit = Best(values, out _) + _fixed - gap;
        var counts = new int[Kinds.Count];
        var loads = new List<Load>();
        var most = Math.Min(limits.Joins, MostVisits);
        var left = most;
        var whole = Visit(0, _room, 0, 0, 0);
        joins = most - Math.Max(0, left);
        return whole ? loads : null;

        bool Visit(int at, int room, long sum, int pieces, int longest)
        {
            if (--left < 0)
            {
                return false;
            }

            if (sum + tables[at][room] < limit)
            {
                return true;
            }

            if (at == order.Length)
            {
                Take(room, pieces, longest);
                return true;
            }

            var k = order[at];
            var go = true;
            for (var n = 0; go && n <= Kinds.Demand[k] && n * _lengths[k] <= room; n++)
            {
                if (Frame.Saw.MostPieces is { } allowed && pieces + n > allowed)
                {
                    break;
                }

                counts[k] = n;
                go = Visit(at + 1, room - (n * _lengths[k]), sum + (n * net[k]), pieces + n, n > 0 ? Math.Max(longest, _lengths[k] - _kerf) : longest);
            }

            counts[k] = 0;
            return go;
        }

        void Take(int room, int pieces, int longest)
        {
            var held = Frame.Saw.ShortestHeld.Nanometres;
            var unit = Kinds.Component.Unit * _unit;
            if (pieces == 0 || (held > 0 && Math.Max(longest, room - _kerf) * (Int128)unit < held))
            {
                return;
            }

            var cost = _fixed - Leftover(room - _kerf);
            for (var k = 0; k < counts.Length; k++)
            {
                cost += counts[k] * _pieceCost[k];
            }

            loads.Add(new(Number, [.. counts], cost, null, true));
        }
    }

    /// <summary>Worth of what is left of the usable length, exactly as the cost model has it.</summary>
    private long Leftover(int rest)
    {
        if (rest <= 0)
        {
            return 0;
        }

        var length = (Int128)rest * _unit * Kinds.Component.Unit;
        var worth = Frame.Rule is { } rule && length >= rule.KeepLength.Nanometres ? Frame.Worth.Keep : Frame.Worth.Scrap;
        return (long)(worth.Units * length / Frame.Sheet.SizeX.Nanometres) * Grain.PerUnit;
    }
}
