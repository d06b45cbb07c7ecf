using Nest.Solve.Plates;

namespace Nest.Tests.Plates.Free;

/// <summary>Least cost of a tiny free problem by trying every whole position of every piece; null: no plan exists.</summary>
internal sealed class FreeBruteForce
{
    private readonly PlateProblem _problem;
    private readonly List<int> _pieces;
    private readonly Dictionary<(int Stock, int Set), bool> _fits = [];

    private FreeBruteForce(PlateProblem problem)
    {
        _problem = problem;
        _pieces = [.. problem.Items.SelectMany((item, i) => Enumerable.Repeat(i, item.Demand))];
    }

    public static long? Cost(PlateProblem problem)
    {
        var brute = new FreeBruteForce(problem);
        return brute.Cover((1 << brute._pieces.Count) - 1, [.. problem.Stocks.Select(s => s.Limit ?? int.MaxValue)]);
    }

    private long? Cover(int left, int[] limits)
    {
        if (left == 0)
        {
            return 0;
        }

        long? best = null;
        var first = left & -left;
        for (var set = left; set > 0; set = (set - 1) & left)
        {
            if ((set & first) == 0)
            {
                continue;
            }

            for (var s = 0; s < limits.Length; s++)
            {
                if (limits[s] == 0 || !Fits(s, set))
                {
                    continue;
                }

                limits[s]--;
                var cost = _problem.Stocks[s].Cost + Cover(left & ~set, limits);
                limits[s]++;
                for (var p = 0; p < _pieces.Count; p++)
                {
                    cost += (set >> p & 1) == 1 ? _problem.PieceCost?[s, _pieces[p]] ?? 0 : 0;
                }

                best = best is null || cost < best ? cost ?? best : best;
            }
        }

        return best;
    }

    private bool Fits(int stock, int set)
    {
        if (_fits.TryGetValue((stock, set), out var known))
        {
            return known;
        }

        var pieces = Enumerable.Range(0, _pieces.Count).Where(p => (set >> p & 1) == 1).Select(p => _pieces[p])
            .OrderByDescending(i => _problem.Items[i].SizeX * _problem.Items[i].SizeY).ToList();
        var fits = pieces.All(i => _problem.PieceCost?[stock, i] != PlateProblem.Forbidden)
            && Place(_problem.Stocks[stock], pieces, 0, []);
        return _fits[(stock, set)] = fits;
    }

    private bool Place(PlateStock stock, List<int> pieces, int next, List<PlateRect> placed)
    {
        if (next == pieces.Count)
        {
            return true;
        }

        var item = _problem.Items[pieces[next]];
        var k = _problem.Kerf;
        foreach (var (w, h) in item.MayTurn ? new[] { (item.SizeX, item.SizeY), (item.SizeY, item.SizeX) } : [(item.SizeX, item.SizeY)])
        {
            for (var x = 0L; x + w <= stock.SizeX; x++)
            {
                for (var y = 0L; y + h <= stock.SizeY; y++)
                {
                    if (placed.Concat(stock.KeepOuts).All(o => x + w + k <= o.X || o.X + o.SizeX + k <= x || y + h + k <= o.Y || o.Y + o.SizeY + k <= y))
                    {
                        placed.Add(new PlateRect(x, y, w, h));
                        if (Place(stock, pieces, next + 1, placed))
                        {
                            return true;
                        }

                        placed.RemoveAt(placed.Count - 1);
                    }
                }
            }
        }

        return false;
    }
}
