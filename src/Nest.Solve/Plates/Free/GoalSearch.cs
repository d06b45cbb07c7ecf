namespace Nest.Solve.Plates.Free;

/// <summary>Tries to get all pieces onto a given set of plates.</summary>
/// <remarks>
/// Method: goal-driven search: pieces without a place stand in a pool; one to three plates are emptied and filled again from their own
/// pieces and the pool in a random biased order, and the change is kept when the weighted area without a place does not grow (or grows
/// little). Weights of pieces that stay in the pool rise (guided local search; Faroe, Pisinger, Zachariasen 2003; the goal-driven set-up
/// after Wei, Oon, Zhu, Lim 2013). Complexity: a move costs one to three fills. Guarantee: heuristic.
/// </remarks>
internal sealed class GoalSearch
{
    private readonly FreeModel _model;
    private readonly PlateFiller _filler;
    private readonly FreeBudget _budget;
    private readonly FreeRandom _random;
    private readonly int[] _stocks;
    private readonly FreePlaced[][] _plates;
    private readonly List<int> _pool;
    private readonly double[] _weight;
    private int[] _order = new int[256];
    private double[] _keys = new double[256];
    private int[] _ones = new int[256];
    private readonly FreePlaced[][] _new = new FreePlaced[3][];

    public GoalSearch(FreeModel model, PlateFiller filler, FreeBudget budget, FreeRandom random, IReadOnlyList<FreePlate> start, IReadOnlyList<int> pool)
    {
        (_model, _filler, _budget, _random) = (model, filler, budget, random);
        _stocks = [.. start.Select(p => p.Stock)];
        _plates = [.. start.Select(p => p.Placed)];
        _pool = [.. pool];
        _weight = new double[model.Kinds];
        Array.Fill(_weight, 1);
        BestPlates = [.. _plates];
        BestPool = [.. _pool];
        BestArea = BestPool.Sum(k => model.Area[k]);
    }

    /// <summary>The plates when least area was without a place.</summary>
    public FreePlaced[][] BestPlates { get; private set; }

    /// <summary>What had no place then.</summary>
    public List<int> BestPool { get; private set; }

    public double BestArea { get; private set; }

    public long Moves { get; private set; }

    /// <summary>Runs until all have a place (true), the share of the limits is used, or the number of moves is done.</summary>
    public bool Run(double share, long moves)
    {
        var value = Value(_pool);
        var slack = 0.02;
        for (var m = 0L; m < moves && _pool.Count > 0; m++)
        {
            if ((m & 31) == 0 && _budget.OutAt(share))
            {
                break;
            }

            Moves++;
            value = Move(value, slack);
            if ((m & 255) == 255)
            {
                foreach (var k in _pool)
                {
                    _weight[k] *= 1.1;
                }

                if ((m & 8191) == 8191)
                {
                    Array.Fill(_weight, 1);
                }

                value = Value(_pool);
            }
        }

        return BestPool.Count == 0;
    }

    private double Value(List<int> pool) => pool.Sum(k => _model.Area[k] * _weight[k]);

    private double Move(double value, double slack)
    {
        _budget.AddSteps(200);
        var r = _random.Below(16);
        var width = Math.Min(_plates.Length, r < 7 ? 1 : r < 14 ? 2 : 3);
        Span<int> which = stackalloc int[3];
        for (var i = 0; i < width; i++)
        {
            do
            {
                which[i] = _random.Below(_plates.Length);
            }
            while (which[..i].Contains(which[i]));
        }

        var n = Gather(which[..width]);
        var sense = _random.Below(FreeOrder.Senses);
        var noise = _random.Below(3) switch { 0 => 0.1, 1 => 0.3, _ => 0.8 };
        var rule = (FillRule)_random.Below(PlateFiller.Rules);
        for (var i = 0; i < n; i++)
        {
            var k = _order[i];
            _keys[i] = -FreeOrder.Size(_model, k, sense) * Math.Sqrt(_weight[k]) * (1 - (noise * _random.Unit()));
            _ones[i] = 1;
        }

        _keys.AsSpan(0, n).Sort(_order.AsSpan(0, n));
        var left = n;
        for (var i = 0; i < width; i++)
        {
            var before = _filler.Steps;
            _filler.Fill(_model.Stocks[_stocks[which[i]]], _order.AsSpan(0, left), _ones.AsSpan(0, left), rule);
            _budget.AddSteps(_filler.Steps - before);
            _new[i] = _filler.Placed.ToArray();
            var kept = 0;
            for (var e = 0; e < left; e++)
            {
                if (_ones[e] > 0)
                {
                    _order[kept++] = _order[e];
                }
            }

            left = kept;
            _ones.AsSpan(0, left).Fill(1);
        }

        var after = 0.0;
        for (var e = 0; e < left; e++)
        {
            after += _model.Area[_order[e]] * _weight[_order[e]];
        }

        if (after > value * (1 + slack))
        {
            return value;
        }

        for (var i = 0; i < width; i++)
        {
            _plates[which[i]] = _new[i];
        }

        _pool.Clear();
        _pool.AddRange(_order.AsSpan(0, left));
        var area = _pool.Sum(k => _model.Area[k]);
        if (area < BestArea || _pool.Count == 0)
        {
            BestArea = area;
            BestPlates = [.. _plates];
            BestPool = [.. _pool];
        }

        return after;
    }

    private int Gather(ReadOnlySpan<int> which)
    {
        var n = 0;
        foreach (var b in which)
        {
            foreach (var p in _plates[b])
            {
                Add(ref n, p.Kind);
            }
        }

        foreach (var k in _pool)
        {
            Add(ref n, k);
        }

        return n;
    }

    private void Add(ref int n, int kind)
    {
        if (n == _order.Length)
        {
            Array.Resize(ref _order, n * 2);
            Array.Resize(ref _keys, n * 2);
            Array.Resize(ref _ones, n * 2);
        }

        _order[n++] = kind;
    }
}
