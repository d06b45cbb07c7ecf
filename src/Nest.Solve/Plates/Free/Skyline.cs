namespace Nest.Solve.Plates.Free;

/// <summary>Fills a plate from below: the lowest place is filled next, by the piece that fits it best.</summary>
/// <remarks>
/// Method: skyline (Burke, Kendall, Whitwell 2004, best fit) with the score of Leung, Zhang, Sim 2011: a piece as wide as the place
/// comes before one that only ends level with a wall, that before any other; the given order decides ties. A place that nothing fits is
/// raised to its lower neighbour. Complexity: O(entries + segments) per piece. Guarantee: valid layout, heuristic; plates without
/// keep-outs only.
/// </remarks>
internal sealed class Skyline(FreeModel model)
{
    private readonly List<(long X, long Y, long Size)> _segments = [];

    public void Reset(FreeStock stock)
    {
        _segments.Clear();
        _segments.Add((0, 0, stock.SizeX));
    }

    /// <summary>Finds the next piece and place.</summary>
    /// <param name="entry">Index in <paramref name="kinds"/>.</param>
    /// <returns>False when nothing fits any more.</returns>
    public bool Next(FreeStock stock, ReadOnlySpan<int> kinds, ReadOnlySpan<int> copies, out int entry, out FreePlaced at)
    {
        while (true)
        {
            var n = Lowest();
            var (x, y, size) = _segments[n];
            if (y >= stock.SizeY)
            {
                (entry, at) = (-1, default);
                return false;
            }

            var left = (n == 0 ? stock.SizeY : _segments[n - 1].Y) - y;
            var right = (n == _segments.Count - 1 ? stock.SizeY : _segments[n + 1].Y) - y;
            var best = -1;
            (entry, at) = (-1, default);
            for (var e = 0; e < kinds.Length && best < 7; e++)
            {
                var kind = kinds[e];
                if (copies[e] <= 0 || !model.Allowed[stock.Index, kind])
                {
                    continue;
                }

                for (var turned = 0; turned < (model.Turns[kind] ? 2 : 1); turned++)
                {
                    var (w, h) = turned == 0 ? (model.SizeX[kind], model.SizeY[kind]) : (model.SizeY[kind], model.SizeX[kind]);
                    if (w > size || h > stock.SizeY - y)
                    {
                        continue;
                    }

                    var score = Score(w == size, h, left, right);
                    if (score > best)
                    {
                        best = score;
                        entry = e;
                        // Level with the right wall only: against it. Otherwise beside the higher wall.
                        var onRight = w < size && (h == right ? h != left : h != left && right > left);
                        at = new FreePlaced(kind, onRight ? x + size - w : x, y, turned == 1);
                    }
                }
            }

            if (best >= 0)
            {
                Put(n, at);
                return true;
            }

            Raise(n, stock.SizeY);
        }
    }

    private static int Score(bool full, long height, long left, long right) => full
        ? height == left && height == right ? 7 : height == left || height == right ? 6 : height < left && height < right ? 5 : 4
        : height == left || height == right ? 3 : height < Math.Max(left, right) ? 1 : 0;

    private int Lowest()
    {
        var n = 0;
        for (var s = 1; s < _segments.Count; s++)
        {
            if (_segments[s].Y < _segments[n].Y)
            {
                n = s;
            }
        }

        return n;
    }

    private void Put(int n, in FreePlaced at)
    {
        var (x, y, size) = _segments[n];
        var (w, h) = at.Turned ? (model.SizeY[at.Kind], model.SizeX[at.Kind]) : (model.SizeX[at.Kind], model.SizeY[at.Kind]);
        var placed = (at.X, y + h, w);
        if (w == size)
        {
            _segments[n] = placed;
        }
        else if (at.X == x)
        {
            _segments[n] = (x + w, y, size - w);
            _segments.Insert(n, placed);
        }
        else
        {
            _segments[n] = (x, y, size - w);
            _segments.Insert(n + 1, placed);
            n++;
        }

        Join(n);
    }

    /// <summary>Gives the place up: it becomes level with its lower neighbour.</summary>
    private void Raise(int n, long top)
    {
        var (x, _, size) = _segments[n];
        var left = n == 0 ? top : _segments[n - 1].Y;
        var right = n == _segments.Count - 1 ? top : _segments[n + 1].Y;
        _segments[n] = (x, Math.Min(left, right), size);
        Join(n);
    }

    /// <summary>Joins a segment with neighbours of its height.</summary>
    private void Join(int n)
    {
        if (n + 1 < _segments.Count && _segments[n + 1].Y == _segments[n].Y)
        {
            _segments[n] = (_segments[n].X, _segments[n].Y, _segments[n].Size + _segments[n + 1].Size);
            _segments.RemoveAt(n + 1);
        }

        if (n > 0 && _segments[n - 1].Y == _segments[n].Y)
        {
            _segments[n - 1] = (_segments[n - 1].X, _segments[n].Y, _segments[n - 1].Size + _segments[n].Size);
            _segments.RemoveAt(n);
        }
    }
}
