namespace Nest.Solve.Plates.Free;

/// <summary>Fills one plate with pieces in a given order, each where a rule likes it best.</summary>
/// <remarks>
/// Method: placement into empty maximal spaces. A kind that does not fit once never fits again on this plate, so that work goes by
/// kinds and placed pieces. Complexity: O(pieces · spaces²) worst, usually O(pieces · spaces). Guarantee: valid layout, heuristic.
/// </remarks>
internal sealed class PlateFiller(FreeModel model)
{
    /// <summary>Rules to choose from by chance.</summary>
    public const int Rules = 8;

    private readonly MaximalSpaces _spaces = new();
    private readonly Skyline _skyline = new(model);
    private FreePlaced[] _placed = new FreePlaced[64];
    private long[] _leastX = new long[64];
    private long[] _leastY = new long[64];

    public int Count { get; private set; }

    public ReadOnlySpan<FreePlaced> Placed => _placed.AsSpan(0, Count);

    /// <summary>Inflated area of the pieces placed.</summary>
    public double Area { get; private set; }

    /// <summary>Steps done since the start, roughly hundredths of a microsecond.</summary>
    public long Steps { get; private set; }

    /// <summary>Fills an empty plate.</summary>
    /// <param name="kinds">Kinds in the order of placing; a kind may come several times.</param>
    /// <param name="copies">Copies of each entry; what is not placed stays in it.</param>
    public void Fill(FreeStock stock, ReadOnlySpan<int> kinds, Span<int> copies, FillRule rule)
    {
        Count = 0;
        Area = 0;
        if (rule == FillRule.Skyline)
        {
            if (stock.Stock.KeepOuts.IsDefaultOrEmpty)
            {
                FromBelow(stock, kinds, copies);
                return;
            }

            rule = FillRule.Bottom;
        }

        _spaces.Reset(stock.Start);
        Least(kinds);
        for (var e = 0; e < kinds.Length && _spaces.Count > 0; e++)
        {
            var kind = kinds[e];
            if (!model.Allowed[stock.Index, kind])
            {
                continue;
            }

            while (copies[e] > 0 && Put(stock, kind, rule, _leastX[e], _leastY[e]))
            {
                copies[e]--;
                Area += model.Area[kind];
            }
        }
    }

    private void FromBelow(FreeStock stock, ReadOnlySpan<int> kinds, Span<int> copies)
    {
        _skyline.Reset(stock);
        while (_skyline.Next(stock, kinds, copies, out var entry, out var at))
        {
            Add(at);
            copies[entry]--;
            Area += model.Area[at.Kind];
            Steps += 8 + (2 * kinds.Length);
        }
    }

    /// <summary>Smallest sizes from each entry of the order on: narrower spaces are useless then.</summary>
    private void Least(ReadOnlySpan<int> kinds)
    {
        if (_leastX.Length < kinds.Length)
        {
            _leastX = new long[kinds.Length * 2];
            _leastY = new long[kinds.Length * 2];
        }

        var (x, y) = (long.MaxValue, long.MaxValue);
        for (var e = kinds.Length - 1; e >= 0; e--)
        {
            var k = kinds[e];
            x = Math.Min(x, model.SizeX[k]);
            y = Math.Min(y, model.SizeY[k]);
            if (model.Turns[k])
            {
                x = Math.Min(x, model.SizeY[k]);
                y = Math.Min(y, model.SizeX[k]);
            }

            _leastX[e] = x;
            _leastY[e] = y;
        }
    }

    private bool Put(FreeStock stock, int kind, FillRule rule, long leastX, long leastY)
    {
        var best = (First: double.MaxValue, Second: double.MaxValue);
        var at = default(FreePlaced);
        var spaces = _spaces.Spaces;
        Steps += 4 + (spaces.Length * 2);
        for (var turned = 0; turned < (model.Turns[kind] ? 2 : 1); turned++)
        {
            var (x, y) = turned == 0 ? (model.SizeX[kind], model.SizeY[kind]) : (model.SizeY[kind], model.SizeX[kind]);
            foreach (ref readonly var s in spaces)
            {
                if (unchecked(s.X2 - s.X1) < x || unchecked(s.Y2 - s.Y1) < y)
                {
                    continue;
                }

                var score = Score(stock, s, x, y, rule);
                if (score.First < best.First || (score.First == best.First && score.Second < best.Second))
                {
                    best = score;
                    at = new FreePlaced(kind, s.X1, s.Y1, turned == 1);
                }
            }
        }

        if (best.First == double.MaxValue)
        {
            return false;
        }

        Add(at);
        var (w, h) = at.Turned ? (model.SizeY[kind], model.SizeX[kind]) : (model.SizeX[kind], model.SizeY[kind]);
        _spaces.Take(at.X, at.Y, at.X + w, at.Y + h, leastX, leastY);
        Steps += spaces.Length * 4;
        return true;
    }

    private void Add(in FreePlaced at)
    {
        if (Count == _placed.Length)
        {
            Array.Resize(ref _placed, Count * 2);
        }

        _placed[Count++] = at;
    }

    private (double First, double Second) Score(FreeStock stock, in FreeSpace s, long x, long y, FillRule rule)
    {
        switch (rule)
        {
            case FillRule.Bottom:
                return (s.Y1 + y, s.X1);
            case FillRule.Left:
                return (s.X1 + x, s.Y1);
            case FillRule.ShortSide:
                return (Math.Min(s.SizeX - x, s.SizeY - y), Math.Max(s.SizeX - x, s.SizeY - y));
            case FillRule.LongSide:
                return (Math.Max(s.SizeX - x, s.SizeY - y), Math.Min(s.SizeX - x, s.SizeY - y));
            case FillRule.Space:
                return (((double)s.SizeX * s.SizeY) - ((double)x * y), Math.Min(s.SizeX - x, s.SizeY - y));
            case FillRule.FarCorner:
                double dx = stock.SizeX - s.X1 - x, dy = stock.SizeY - s.Y1 - y;
                return (-((dx * dx) + (dy * dy)), s.Y1);
            default:
                return (-Contact(stock, s.X1, s.Y1, x, y), s.Y1 + s.X1);
        }
    }

    private double Contact(FreeStock stock, long x1, long y1, long x, long y)
    {
        long x2 = x1 + x, y2 = y1 + y, sum = 0;
        sum += x1 == 0 ? y : 0;
        sum += y1 == 0 ? x : 0;
        sum += x2 == stock.SizeX ? y : 0;
        sum += y2 == stock.SizeY ? x : 0;
        Steps += Count;
        foreach (ref readonly var p in Placed)
        {
            var (w, h) = p.Turned ? (model.SizeY[p.Kind], model.SizeX[p.Kind]) : (model.SizeX[p.Kind], model.SizeY[p.Kind]);
            if (p.X == x2 || p.X + w == x1)
            {
                sum += Math.Max(0, Math.Min(y2, p.Y + h) - Math.Max(y1, p.Y));
            }
            else if (p.Y == y2 || p.Y + h == y1)
            {
                sum += Math.Max(0, Math.Min(x2, p.X + w) - Math.Max(x1, p.X));
            }
        }

        return sum;
    }
}
