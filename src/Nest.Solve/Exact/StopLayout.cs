using System.Numerics;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>The best layout of one load on a plate whose cuts are made at given positions of the stop, in one direction or in both.</summary>
/// <remarks>
/// S(w, h, load): the most that a rectangle from which exactly these pieces are cut is worth beside them, as in <see cref="LoadTable"/>; but where positions are given each cut measures one of them on the
/// part that it leaves on one side, metal of a raw edge included. In a direction without given positions those of <see cref="CutPositions"/> are enough, as its lemma moves cuts of one direction only.
/// Damage and stages are not seen, nor what may be carried over: a layout that obeys them all is worth no more.
/// Positions may be fractions of a unit: everything is counted in so much finer units. Rectangles are looked at from the plate down, and left where the table of all loads shows that they are worth too little.
/// O(rectangles that come up · loads · positions · shares), cut off by the number of tries.
/// </remarks>
internal sealed class StopLayout
{
    private const int Never = -1_000_000_000;
    private const long MostTries = 3_000_000;

    /// <summary>Parts of a unit up to which positions are counted.</summary>
    private const int MostFiner = 60;
    private const int MostSide = 1 << 20;

    /// <summary>Positions whose order is told apart, and loads.</summary>
    private const int MostPlaces = 8;
    private const int MostLoads = 1 << 18;

    /// <summary>Grains that rounding may take of a cut and its rest.</summary>
    private const int Rounding = 4;

    /// <summary>Table steps that a try is worth.</summary>
    private const double StepsPerTry = 30;

    private readonly PlateShape _shape;
    private readonly CutRules _rules;
    private readonly LoadTable? _table;
    private readonly ExactMeter _meter;
    private readonly int[][] _loads;
    private readonly (int A, int B)[][] _shares;
    private readonly int[] _pieces;
    private readonly int[] _numbers;
    private readonly double[] _areas;
    private readonly int[] _facing;
    private readonly Dictionary<ulong, int> _known = [];
    private readonly Dictionary<ulong, int> _most = [];
    private readonly StopCuts? _cuts;

    /// <summary>The plate's rules in units so much finer: made once for all positions of a load.</summary>
    private readonly Dictionary<int, CutRules> _finerRules = [];
    private int _finer = 1;
    private int _slack;
    private long _tries;

    /// <summary>Any layout of the load, and where those at given positions begin.</summary>
    /// <param name="shape">The plate, its raw edges whole units wide; its pieces are wanted as often as the load has them.</param>
    /// <param name="table">What rectangles of the plate without raw edges are worth where cuts may be anywhere, with a row for every width; null: there is none.</param>
    public StopLayout(PlateShape shape, LoadTable? table, ExactMeter meter)
    {
        (_shape, _rules, _table, _meter) = (shape, new(shape), table, meter);
        _finerRules[1] = _rules;
        (_loads, _shares) = LoadShares.Of(shape);
        _pieces = [.. _loads.Select(load => load.Sum())];
        _numbers = table is null ? [] : [.. _loads.Select(load => table.IndexOf(load))];
        _areas = [.. _loads.Select(load => load.Select((count, k) => (double)count * shape.Pieces[k].SizeX * shape.Pieces[k].SizeY).Sum())];
        _facing = [.. _loads.Select(load => load.Select((count, k) => count * shape.Pieces[k].Facing).Sum())];
    }

    private StopLayout(StopLayout any, CutRules rules, StopCuts cuts)
    {
        (_shape, _rules, _cuts, _table, _meter) = (rules.Shape, rules, cuts, any._table, any._meter);
        (_loads, _shares, _pieces, _numbers, _areas, _facing) = (any._loads, any._shares, any._pieces, any._numbers, any._areas, any._facing);
    }

    /// <summary>Ways to cut a rectangle and share its load that were looked at so far.</summary>
    public long Tries { get; private set; }

    private bool IsLong => _tries > MostTries;

    /// <summary>The most that the plate is worth beside the pieces with cuts at these positions, trims taken off.</summary>
    /// <param name="inX">Positions of crosscuts, in units of the shape; null: any.</param>
    /// <param name="inY">Positions of rips; null: any.</param>
    /// <param name="setting">Price of a setting, in grains: a right or top edge that is cut off takes one, as nothing else measures the usable plate.</param>
    /// <param name="need">Layouts worth less are of no use.</param>
    /// <param name="cuts">Nor those with more cuts.</param>
    /// <param name="order">The place of each position, those of crosscuts first, where each is set only once: what a position has parted is cut by none before it. Null: any order.</param>
    /// <returns>Less than needed: no layout is worth that; with as much as needed a layout too where it is wanted and lies on the component's grid. Null: not known.</returns>
    public (int Worth, PlateNode? Tree)? Best(StopPositions.Set? inX, StopPositions.Set? inY, int setting, int need, long cuts, int[]? order, bool withTree)
    {
        var finer = (inX?.Denominator ?? 1) * (inY?.Denominator ?? 1);
        if (finer > MostFiner || Math.Max(_shape.SizeX, _shape.SizeY) * finer >= MostSide || order?.Length > MostPlaces || _loads.Length > MostLoads)
        {
            return null;
        }

        if (!_finerRules.TryGetValue((int)finer, out var rules))
        {
            rules = _finerRules[(int)finer] = new(Finer(_shape, (int)finer));
        }

        var search = new StopLayout(this, rules, new(rules, Stops(inX, finer), Stops(inY, finer), order))
        {
            _finer = (int)finer,
            _slack = finer == 1 ? 0 : (int)Math.Ceiling((_shape.Prices.PerUnit + Rounding) * (cuts + 1)),
        };
        var (best, bestRaw) = (Never, 0);
        foreach (var raw in _shape.Raw.Sets)
        {
            var worth = search.Root(raw, Math.Max(need, best + 1) + Trims(raw)) - Trims(raw);
            (best, bestRaw) = worth > best ? (worth, raw) : (best, bestRaw);
        }

        _meter.Add(search._tries * StepsPerTry);
        Tries += search._tries;
        return search.IsLong ? null : (best, !withTree || best < need || search._shape.Scale == 0 ? null : search.Tree(bestRaw, best + Trims(bestRaw)));

        int Trims(int raw) => _shape.Raw.Trims[raw] + (setting * BitOperations.PopCount((uint)(_shape.Raw.Mask & ~raw)));
    }

    private static int[]? Stops(StopPositions.Set? set, long finer) =>
        set is { } some ? [.. some.Numerators.Select(n => (int)(n * (finer / some.Denominator)))] : null;

    /// <summary>The plate in finer units; its scale is 0 where these are no whole ones of the component.</summary>
    private static PlateShape Finer(PlateShape shape, int finer) => new(shape.SizeX * finer, shape.SizeY * finer, shape.Scale % finer == 0 ? shape.Scale / finer : 0)
    {
        Kerf = shape.Kerf * finer,
        Held = Times(shape.Held, finer),
        Longest = Times(shape.Longest, finer),
        FirstCut = shape.FirstCut,
        KeepLong = Times(shape.KeepLong, finer),
        KeepShort = Times(shape.KeepShort, finer),
        Prices = shape.Prices with { PerUnit = shape.Prices.PerUnit / finer, Keep = shape.Prices.Keep / finer / finer, Scrap = shape.Prices.Scrap / finer / finer },
        Raw = shape.Raw with { Right = shape.Raw.Right * finer, Top = shape.Raw.Top * finer },
        Pieces = [.. shape.Pieces.Select(piece => piece with { SizeX = piece.SizeX * finer, SizeY = piece.SizeY * finer })],
    };

    private static int Times(int length, int finer) => (int)Math.Min(int.MaxValue, (long)length * finer);

    private int Root(int raw, int need)
    {
        var (root, load) = (new Cell(_shape.SizeX, _shape.SizeY, raw), _loads.Length - 1);
        return _shape.FirstCut is not { } first ? Worth(root, load, 0, need) : Math.Max(PieceOf(root, load, out _), Cut(root, load, 0, need, first));
    }

    /// <param name="from">Place of the position that parted it.</param>
    /// <returns>The worth where it is as much as is needed; else something less than needed that is no less than the worth.</returns>
    private int Worth(Cell cell, int load, int from, int need)
    {
        if (load == 0)
        {
            return _shape.Worth(cell.W, cell.H);
        }

        var most = Most(cell, load);
        if (most < need || IsLong)
        {
            return Math.Min(most, need - 1);
        }

        var key = ((ulong)cell.W << 44) | ((ulong)cell.H << 24) | ((ulong)load << 5) | ((uint)from << 2) | (uint)cell.Raw;
        if (_known.TryGetValue(key, out var known))
        {
            return known;
        }

        if (_most.TryGetValue(key, out var limit) && limit < need)
        {
            return limit;
        }

        var best = Math.Max(PieceOf(cell, load, out _), Cut(cell, load, from, need, null));
        if (best >= need)
        {
            _known[key] = best;
            return best;
        }

        _most[key] = need - 1;
        return need - 1;
    }

    /// <summary>No layout leaves more, wherever cuts may be.</summary>
    /// <remarks>The table is in whole units. A side that is a fraction has a rest in every line along it, as pieces and kerfs are whole, and these may take up what is missing to the next unit: no cut grows by more than that.
    /// Without a table: all metal that is no piece as the best rest, a cut less than pieces, and one more where kerfs do not take all metal.</remarks>
    private int Most(Cell cell, int load)
    {
        if (load == 0)
        {
            return _shape.Worth(cell.W, cell.H);
        }

        if (cell.W < _rules.LeastX || cell.H < _rules.LeastY)
        {
            return Never;
        }

        if (_table is not null)
        {
            return _table.Most((cell.W + _finer - 1) / _finer, (cell.H + _finer - 1) / _finer, _numbers[load]) + _slack;
        }

        var free = ((double)cell.W * cell.H) - (_areas[load] * _finer * _finer);
        if (free < 0)
        {
            return Never;
        }

        var (cuts, prices) = (_pieces[load] - 1, _shape.Prices);
        cuts += free > (double)cuts * _shape.Kerf * Math.Max(cell.W, cell.H) ? 1 : 0;
        var rate = Math.Max(0, _shape.IsKept(cell.W, cell.H) ? Math.Max(prices.Keep, prices.Scrap) : prices.Scrap);
        return (int)Math.Min(Grain.Most / 2, Math.Ceiling((free * rate * (1 + 1e-9)) + 1 - _facing[load] - ((double)cuts * _rules.Costs[Math.Min(_rules.LeastX, _rules.LeastY)])));
    }

    /// <summary>Worth of the piece that the rectangle is as it stands.</summary>
    private int PieceOf(Cell cell, int load, out (int Kind, bool Turned) piece)
    {
        piece = (-1, false);
        for (var k = 0; cell.Raw == 0 && _pieces[load] == 1 && k < _shape.Pieces.Length; k++)
        {
            if (_loads[load][k] == 1 && _rules.IsPiece(k, cell.W, cell.H, out var turned))
            {
                piece = (k, turned);
                return -_shape.Pieces[k].Facing;
            }
        }

        return Never;
    }

    private int Cut(Cell cell, int load, int from, int need, CutDirection? only)
    {
        var best = Never;
        foreach (var (one, other, place, cost) in _cuts!.Of(cell, from, only))
        {
            foreach (var (a, b) in other.W > 0 ? _shares[load] : [(load, 0)])
            {
                _tries++;
                var (wanted, most) = (Math.Max(need, best + 1) + cost, other.W > 0 ? Most(other, b) : 0);
                if (!IsLong && Most(one, a) + most >= wanted && Worth(one, a, place, wanted - most) is var first && first + most >= wanted)
                {
                    best = Math.Max(best, first + (other.W > 0 ? Worth(other, b, place, wanted - first) : 0) - cost);
                }
            }
        }

        return best;
    }

    private PlateNode Tree(int raw, int worth) =>
        WorthTree.Placed(_shape, Node(new(_shape.SizeX, _shape.SizeY, raw), _loads.Length - 1, 0, worth, _shape.FirstCut));

    private PlateNode Node(Cell cell, int load, int from, int worth, CutDirection? only)
    {
        if (load == 0)
        {
            return WorthTree.Leaf(_shape, cell, -1, false);
        }

        if (PieceOf(cell, load, out var piece) == worth)
        {
            return WorthTree.Leaf(_shape, cell, piece.Kind, piece.Turned);
        }

        foreach (var (one, other, place, cost) in _cuts!.Of(cell, from, only))
        {
            foreach (var (a, b) in other.W > 0 ? _shares[load] : [(load, 0)])
            {
                var wanted = worth + cost;
                var first = Worth(one, a, place, wanted - (other.W > 0 ? Most(other, b) : 0));
                var second = other.W > 0 ? Worth(other, b, place, wanted - first) : 0;
                if (first + second == wanted)
                {
                    return WorthTree.Split(_shape, cell, one, other, Node(one, a, place, first, null), other.W > 0 ? Node(other, b, place, second, null) : null);
                }
            }
        }

        throw new InvalidOperationException("A layout does not hold the worth that it was asked for.");
    }
}
