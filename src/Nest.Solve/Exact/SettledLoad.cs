using System.Collections.Immutable;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>What any layout of one load of a plate costs at least together with its settings of fence and stop.</summary>
/// <remarks>
/// Statement. In each direction the sizes need some number of positions (<see cref="StopPositions"/>), x and y, and where it is known which sets of so many serve a layout has one of these or a position more. So it costs
/// no less than the least of: a layout of the load at one of these sets in both directions, each position set once, and x + y settings; at one of these sets in one direction and anywhere in the other, and a setting more;
/// anywhere, and two more. Layouts that cost as much as a known one are not looked for, and this limits the cuts, each of which costs something. Each kind's pieces have one of two sizes in a direction: the least over
/// the ways to turn the kinds. (Where a kind lies both ways both sizes are needed, which is no less.) Left and bottom trims, which are the first cuts, come on top; right and top ones in <see cref="StopLayout"/>.
/// O(ways to turn · sets² · <see cref="StopLayout"/>), cut off by the number of sets.
/// </remarks>
internal sealed class SettledLoad
{
    /// <summary>Ways to turn the kinds up to which anything is looked at.</summary>
    private const int MostWays = 16;

    /// <summary>Sets of a direction up to which each is tried.</summary>
    private const int MostSets = 2500;

    /// <summary>Pairs of sets up to which each is tried.</summary>
    private const int MostPairs = 20_000;

    /// <summary>Tries after which no more layouts are looked for: a third of a second.</summary>
    private const long MostTries = 10_000_000;

    /// <summary>Of these for layouts at the sizes of the blanks.</summary>
    private const long MostTriesAtSizes = 2_000_000;

    /// <summary>More than any layout has that is looked for at the sizes of its blanks.</summary>
    private const int MostCuts = 100;

    /// <summary>Positions up to which all orders to set them are tried.</summary>
    private const int MostOrdered = 4;

    private readonly PlateShape _shape;
    private readonly Load _load;
    private readonly int _setting;
    private readonly ExactMeter _meter;
    private readonly ImmutableArray<(bool AlongX, double At)> _ends;
    private readonly int _trims;
    private readonly long[] _extentsX;
    private readonly long[] _extentsY;
    private readonly Func<double, long> _mostCuts;
    private readonly StopLayout _layouts;
    private readonly List<(int X, int Y)[]> _ways;
    private double[] _leastEnding = [];
    private double _cap;
    private Func<PlateNode, double> _take = _ => double.PositiveInfinity;

    /// <param name="shape">The plate with the pieces of the load alone, its raw edges whole units wide.</param>
    /// <param name="table">Of the plate's loads without raw edges, with a row for every width; null: there is none, and less is found.</param>
    /// <param name="setting">Price of a setting, in grains.</param>
    /// <param name="trims">Left and bottom trims that are made.</param>
    /// <param name="mostCuts">Most cuts of a layout of the load that costs so much, in grains.</param>
    /// <param name="ends">Positions at which another layout begins, in units of the shape.</param>
    public SettledLoad(
        PlateShape shape, Load load, LoadTable? table, int setting, int trims, Func<double, long> mostCuts, ImmutableArray<(bool AlongX, double At)> ends, ExactMeter meter)
    {
        (_shape, _load, _setting, _trims, _mostCuts, _ends, _meter) = (shape, load, setting, trims, mostCuts, ends, meter);
        _extentsX = [.. new[] { shape.SizeX, shape.SizeX + (long)shape.Raw.Right }.Distinct()];
        _extentsY = [.. new[] { shape.SizeY, shape.SizeY + (long)shape.Raw.Top }.Distinct()];
        _layouts = new(shape, table);
        _ways = [.. WaysOf(shape)];
    }

    /// <summary>All ways to turn the kinds: the sizes of each.</summary>
    private static IEnumerable<(int X, int Y)[]> WaysOf(PlateShape shape) => shape.Pieces.Where(piece => piece.SizeX > 0).Aggregate(
        (IEnumerable<(int X, int Y)[]>)[[]],
        (ways, piece) => ways.SelectMany(way => piece.MayTurn && piece.SizeX != piece.SizeY
            ? (IEnumerable<(int X, int Y)[]>)[[.. way, (piece.SizeX, piece.SizeY)], [.. way, (piece.SizeY, piece.SizeX)]]
            : [[.. way, (piece.SizeX, piece.SizeY)]])).Take(MostWays + 1);

    /// <summary>Looks for a layout with no other positions than the sizes of its blanks: few settings, if not the fewest.</summary>
    /// <param name="cap">Cost of a known layout with its settings, in grains, beside the stock's price.</param>
    /// <param name="take">Takes a layout, and says what the cheapest costs.</param>
    public void AtSizes(double cap, Func<PlateNode, double> take)
    {
        foreach (var way in _ways.Take(MostWays))
        {
            var (x, y) = (Sizes(way.Select(size => (long)size.X), _extentsX), Sizes(way.Select(size => (long)size.Y), _extentsY));
            var need = _shape.Prices.Fixed - cap + ((_trims + x.Numerators.Length + y.Numerators.Length) * (double)_setting);
            if (need > -Grain.Most && need < Grain.Most && !_meter.IsOver && _layouts.Tries < MostTriesAtSizes && _layouts.Best(x, y, _setting, (int)need, MostCuts, null, true, _meter) is (_, { } tree))
            {
                cap = take(tree);
            }
        }

        static StopPositions.Set Sizes(IEnumerable<long> sizes, long[] extents) => new([.. sizes.Where(size => !extents.Contains(size)).Distinct()], 1);
    }

    /// <param name="cap">Cost of a known layout with its settings, in grains, beside the stock's price.</param>
    /// <param name="take">Takes a layout.</param>
    /// <returns>In grains, beside the stock's price, no more than the known layout; and the same where the stop is left at each of the positions asked for.</returns>
    public (double Cost, ImmutableArray<double> Ending) Least(double cap, Func<PlateNode, double> take)
    {
        if (_ways.Count > MostWays)
        {
            return (_load.Cost, [.. _ends.Select(_ => (double)_load.Cost)]);
        }

        (_cap, _take, _leastEnding) = (cap, take, [.. _ends.Select(_ => cap + _setting)]);
        var least = _ways.Aggregate(cap, (some, way) => Math.Min(some, Least(way)));
        return (least, [.. _leastEnding]);
    }

    /// <summary>The same with these kinds turned.</summary>
    private double Least((int X, int Y)[] sizes)
    {
        var (inX, inY) = (Sets(true, 0), Sets(false, 0));
        (inX, inY) = (Sets(true, inX.Least + inY.Least, inY.Least), Sets(false, inX.Least + inY.Least, inX.Least));
        var number = (double)(_trims + inX.Least + inY.Least);
        var limit = _cap - (number * _setting);

        // Which sets serve where the other direction is free. Where the sets are not known there may be no more positions.
        var (someX, someY) = (Alone(inX, true, limit), Alone(inY, false, limit));
        var (moreX, moreY) = (inX.Sets is null ? 0 : 1, inY.Sets is null ? 0 : 1);
        var anywhere = _load.Cost + ((number + moreX + moreY) * _setting);
        var beyondX = someY.Select(one => one.Cost + ((number + moreX) * _setting)).Append(anywhere).Min();
        var beyondY = someX.Select(one => one.Cost + ((number + moreY) * _setting)).Append(anywhere).Min();
        var least = Math.Min(_cap, Math.Min(beyondX, beyondY));
        foreach (var (x, costX) in (long)someX.Count * someY.Count is 0 or > MostPairs ? [] : someX)
        {
            foreach (var (y, _) in someY.Where(y => Math.Max(costX, y.Cost) + (number * _setting) < least))
            {
                least = Math.Min(least, Once(x, y, least - (number * _setting)) + (number * _setting));
            }
        }

        if ((long)someX.Count * someY.Count > MostPairs)
        {
            least = Math.Min(least, Math.Max(someX.Min(one => one.Cost), someY.Min(one => one.Cost)) + (number * _setting));
        }

        for (var end = 0; end < _ends.Length; end++)
        {
            // With a position that no set of so few has there is one more.
            var (alongX, at) = _ends[end];
            var (answer, beyond) = alongX ? (inX, beyondX) : (inY, beyondY);
            var known = answer.Sets is { } sets && !sets.Any(set => set.Numerators.Any(n => n == at * set.Denominator));
            _leastEnding[end] = Math.Min(_leastEnding[end], known ? beyond : least);
        }

        return least;

        // The other direction's positions take a cut each at least.
        StopPositions.Answer Sets(bool alongX, int positions, int others = 0) => StopPositions.Of(
            sizes.Select(size => (long)(alongX ? size.X : size.Y)), alongX ? _extentsX : _extentsY, _shape.Kerf,
            Math.Max(0, _mostCuts(_cap - ((double)(_trims + positions) * _setting)) - others), all: true);
    }

    /// <summary>The sets at which a layout may cost less than the limit, with what it costs at least there; nothing where the sets are not known.</summary>
    private List<(StopPositions.Set? Set, double Cost)> Alone(StopPositions.Answer answer, bool alongX, double limit) =>
        answer.Sets is not { } sets || limit <= _load.Cost ? []
        : sets.Count > MostSets ? [(null, _load.Cost)]
        : [.. sets.Select(set => ((StopPositions.Set?)set, Cost: alongX ? Cost(set, null, limit) : Cost(null, set, limit))).Where(one => one.Cost < limit)];

    /// <summary>Least cost of a layout at these positions, each of which is set once; no less than the limit where it is that much.</summary>
    private double Once(StopPositions.Set? inX, StopPositions.Set? inY, double limit)
    {
        var least = Cost(inX, inY, limit);
        if (least >= limit || _layouts.Tries > MostTries || inX is not { } x || inY is not { } y || x.Numerators.Length + y.Numerators.Length > MostOrdered)
        {
            return least;
        }

        // In the order in which they are set no part is cut by one that came before the one that freed it.
        return Orders(x.Numerators.Length + y.Numerators.Length).Aggregate(limit, (some, order) => Math.Min(some, Cost(inX, inY, some, order)));
    }

    /// <summary>All orders of so many positions: the place of each.</summary>
    private static IEnumerable<int[]> Orders(int number) => number == 0 ? [[]]
        : Orders(number - 1).SelectMany(order => Enumerable.Range(0, number).Select(at => order.Select(place => place >= at ? place + 1 : place).Append(at).ToArray()));

    /// <summary>Least cost of a layout at these positions; no less than the limit where it is that much. With an order the layout is kept.</summary>
    private double Cost(StopPositions.Set? inX, StopPositions.Set? inY, double limit, int[]? order = null)
    {
        var need = _shape.Prices.Fixed - limit;
        if (need < -Grain.Most || _meter.IsOver || _layouts.Tries > MostTries
            || _layouts.Best(inX, inY, _setting, (int)Math.Floor(need) + 1, _mostCuts(limit), order, order is not null, _meter) is not var (worth, tree))
        {
            return _load.Cost;
        }

        if (tree is not null)
        {
            _ = _take(tree);
        }

        return worth > need ? Math.Max(_load.Cost, _shape.Prices.Fixed - worth) : limit;
    }
}
