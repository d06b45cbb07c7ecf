using Nest.Solve.Plates.Free;

namespace Nest.Solve.Plates.Bounds;

/// <summary>All pairs of dual feasible functions of one stock, as weights of pieces: on one plate the weights sum to at most 1.</summary>
/// <remarks>
/// Method: for functions f along X and g along Y, Σ f(x_i)·g(y_i) ≤ f(X)·g(Y) for any pieces packed without overlap (conservative
/// scales; Fekete, Schepers 2004). A piece that may turn gets the smaller value of both ways. On a square plate the mean of both for
/// every piece (turning or not) is valid as well, because the transposed layout satisfies the inequality too (after the symmetric
/// formulation of Dell'Amico, Martello, Vigo 2002 and Boschetti, Mingozzi 2003). Guarantee: valid for free layouts, so for through-cuts too; weights are rounded down.
/// </remarks>
internal sealed class StockScales
{
    /// <summary>Weight of a full plate.</summary>
    public const long One = 1L << 40;

    private readonly FreeModel _model;
    private readonly FreeStock _stock;
    private readonly List<ScaleFunction> _x;
    private readonly List<ScaleFunction> _y;
    private readonly double[][] _xOfX;
    private readonly double[][] _xOfY;
    private readonly double[][] _yOfX;
    private readonly double[][] _yOfY;
    private readonly bool[] _straight;
    private readonly bool[] _turned;

    public StockScales(FreeModel model, int stock, int most)
    {
        _model = model;
        _stock = model.Stocks[stock];
        _straight = new bool[model.Kinds];
        _turned = new bool[model.Kinds];
        var along = new List<(long, int)>();
        var across = new List<(long, int)>();
        for (var k = 0; k < model.Kinds; k++)
        {
            if (!model.Allowed[stock, k])
            {
                continue;
            }

            _straight[k] = _stock.Holds(model.SizeX[k], model.SizeY[k]);
            _turned[k] = model.Turns[k] && _stock.Holds(model.SizeY[k], model.SizeX[k]);
            // On a square plate the mean of both ways uses the transposed layout: there every piece lies across too, turning or not, and a
            // function that counts pieces must know of both sizes.
            if (_straight[k] || (_turned[k] && _stock.SizeX == _stock.SizeY))
            {
                along.Add((model.SizeX[k], model.Demand[k]));
                across.Add((model.SizeY[k], model.Demand[k]));
            }

            if (_turned[k] || (_straight[k] && _stock.SizeX == _stock.SizeY))
            {
                along.Add((model.SizeY[k], model.Demand[k]));
                across.Add((model.SizeX[k], model.Demand[k]));
            }
        }

        var square = _stock.SizeX == _stock.SizeY && _turned.Any(t => t);
        var all = Enumerable.Range(0, model.Kinds).All(k => !_straight[k] || _turned[k] || model.SizeX[k] == model.SizeY[k]);
        Modes = square ? all ? [1] : [0, 1] : [0];
        _x = ScaleFunctions.For(_stock.SizeX, model.SizeX, model.SizeY, along, most);
        _y = ScaleFunctions.For(_stock.SizeY, model.SizeX, model.SizeY, across, most);
        _xOfX = [.. _x.Select(f => f.OfX.Select(v => (double)v / f.Full).ToArray())];
        _xOfY = [.. _x.Select(f => f.OfY.Select(v => (double)v / f.Full).ToArray())];
        _yOfX = [.. _y.Select(f => f.OfX.Select(v => (double)v / f.Full).ToArray())];
        _yOfY = [.. _y.Select(f => f.OfY.Select(v => (double)v / f.Full).ToArray())];
    }

    /// <summary>The pairs under which given amounts of the pieces weigh most (in plates), heaviest first. Floating point: only chooses,
    /// <see cref="Weights"/> is exact.</summary>
    public List<(double Weight, int X, int Y, int Mode)> Heaviest(ReadOnlySpan<double> amounts, int most)
    {
        var kinds = new List<int>();
        for (var k = 0; k < amounts.Length; k++)
        {
            if (amounts[k] > 1e-9 && (_straight[k] || _turned[k]))
            {
                kinds.Add(k);
            }
        }

        // Compact copies: amounts, and the pieces in the two possible ways.
        var n = kinds.Count;
        var amount = new double[n];
        var (fx, fy, gx, gy) = (new double[n], new double[n], new double[n], new double[n]);
        var best = new List<(double Weight, int X, int Y, int Mode)>();
        var least = 0.0;
        for (var i = 0; i < n; i++)
        {
            amount[i] = amounts[kinds[i]];
        }

        for (var x = 0; x < _x.Count; x++)
        {
            Compact(_xOfX[x], fx);
            Compact(_xOfY[x], fy);
            for (var y = 0; y < _y.Count; y++)
            {
                Compact(_yOfX[y], gx);
                Compact(_yOfY[y], gy);
                foreach (var mode in Modes)
                {
                    var sum = 0.0;
                    for (var i = 0; i < n; i++)
                    {
                        var k = kinds[i];
                        var (straight, turned) = (fx[i] * gy[i], fy[i] * gx[i]);
                        sum += amount[i] * (mode == 1 ? 0.5 * (straight + turned)
                            : !_turned[k] ? straight : !_straight[k] ? turned : Math.Min(straight, turned));
                    }

                    if (x == 0 && y == 0)
                    {
                        sum *= (double)_stock.SizeX * _stock.SizeY / Math.Max(1, (double)_stock.Area);
                    }

                    if (sum > least)
                    {
                        best.Add((sum, x, y, mode));
                        if (best.Count >= 4 * most)
                        {
                            Trim(2 * most);
                            least = best[^1].Weight;
                        }
                    }
                }
            }
        }

        Trim(most);
        return best;

        void Compact(double[] from, double[] to)
        {
            for (var i = 0; i < to.Length; i++)
            {
                to[i] = from[kinds[i]];
            }
        }

        void Trim(int count)
        {
            best.Sort((a, b) => (-a.Weight, a.X, a.Y, a.Mode).CompareTo((-b.Weight, b.X, b.Y, b.Mode)));
            if (best.Count > count)
            {
                best.RemoveRange(count, best.Count - count);
            }
        }
    }

    /// <summary>Work of one call of <see cref="Heaviest"/>, in steps of the search budget.</summary>
    public long Steps => (long)_x.Count * _y.Count * _model.Kinds / 2;

    /// <summary>Ways to combine both orientations: 0 the smaller value, 1 the mean (square plates only).</summary>
    public IReadOnlyList<int> Modes { get; }

    /// <summary>Weights of all kinds (0 where the stock does not take the kind: the caller skips those) under a pair of functions.
    /// The first pair is the area, net of keep-outs.</summary>
    public void Weights(int x, int y, int mode, Span<long> weights)
    {
        var (f, g) = (_x[x], _y[y]);
        var area = x == 0 && y == 0;
        var full = area ? Int128.Max(1, _stock.Area) : (Int128)f.Full * g.Full;
        // Beyond 2^80 the product with One would overflow: both are cut down the safe way.
        var shift = 0;
        while ((full >> shift) > (Int128)1 << 80)
        {
            shift++;
        }

        var down = (full >> shift) + (shift > 0 ? 1 : 0);
        for (var k = 0; k < weights.Length; k++)
        {
            if (!_straight[k] && !_turned[k])
            {
                weights[k] = 0;
                continue;
            }

            var straight = (Int128)f.OfX[k] * g.OfY[k];
            var turned = (Int128)f.OfY[k] * g.OfX[k];
            weights[k] = mode == 1 ? (Part(straight) + Part(turned)) / 2
                : !_turned[k] ? Part(straight) : !_straight[k] ? Part(turned) : Part(Int128.Min(straight, turned));
        }

        long Part(Int128 value) => (long)((value >> shift) * One / down);
    }
}
