using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Tests.Plates;

/// <summary>Cheapest plan of a very small through-cut job by trying everything, in true sizes straight from the rules (no inflated
/// sizes, no sharing of code with the kernel).</summary>
internal sealed class PlateBruteForce
{
    private readonly PlateProblem _problem;
    private readonly List<int> _pieces = [];
    private readonly Dictionary<(int, long, long, long, long, int, int, int), bool> _known = [];
    private readonly bool[,] _fits;
    private readonly long[] _areas;

    private PlateBruteForce(PlateProblem problem)
    {
        _problem = problem;
        for (var i = 0; i < problem.Items.Length; i++)
        {
            for (var n = 0; n < problem.Items[i].Demand; n++)
            {
                _pieces.Add(i);
            }
        }

        _areas = [.. Enumerable.Range(0, 1 << _pieces.Count).Select(set => _pieces.Where((_, n) => (set >> n & 1) == 1).Sum(item => problem.Items[item].SizeX * problem.Items[item].SizeY))];
        _fits = new bool[problem.Stocks.Length, 1 << _pieces.Count];
        for (var s = 0; s < problem.Stocks.Length; s++)
        {
            for (var set = 1; set < 1 << _pieces.Count; set++)
            {
                _fits[s, set] = Allowed(s, set) && Cut(s, 0, 0, problem.Stocks[s].SizeX, problem.Stocks[s].SizeY, set, 0, -1);
            }
        }
    }

    /// <summary>The optimum; null: no plan.</summary>
    public static long? Optimum(PlateProblem problem)
    {
        var brute = new PlateBruteForce(problem);
        var best = brute.Cheapest((1 << brute._pieces.Count) - 1, new int[problem.Stocks.Length]);
        return best == long.MaxValue ? null : best;
    }

    private bool Allowed(int stock, int set) =>
        _problem.PieceCost is null || !_pieces.Where((item, n) => (set >> n & 1) == 1 && _problem.PieceCost[stock, item] == PlateProblem.Forbidden).Any();

    private long Cheapest(int set, int[] used)
    {
        if (set == 0)
        {
            return 0;
        }

        var best = long.MaxValue;
        var lowest = set & -set;
        for (var s = 0; s < _problem.Stocks.Length; s++)
        {
            if (used[s] >= (_problem.Stocks[s].Limit ?? int.MaxValue))
            {
                continue;
            }

            used[s]++;
            for (var part = set; part > 0; part = (part - 1) & set)
            {
                if ((part & lowest) == 0 || !_fits[s, part])
                {
                    continue;
                }

                var rest = Cheapest(set & ~part, used);
                if (rest != long.MaxValue)
                {
                    best = Math.Min(best, rest + _problem.Stocks[s].Cost + Extra(s, part));
                }
            }

            used[s]--;
        }

        return best;
    }

    private long Extra(int stock, int set) =>
        _problem.PieceCost is null ? 0 : _pieces.Select((item, n) => (set >> n & 1) == 1 ? _problem.PieceCost[stock, item] : 0).Sum();

    /// <summary>Whether the node can be cut into these pieces; stage: sets of cuts made so far, last: direction of the last.</summary>
    private bool Cut(int stock, long x, long y, long sizeX, long sizeY, int set, int stage, int last)
    {
        if (set == 0)
        {
            return true;
        }

        if (_areas[set] > sizeX * sizeY)
        {
            return false; // more than there is
        }

        // Position and stock matter only where there are keep-outs, the number of stages only where it is limited.
        var keeps = !_problem.Stocks[stock].KeepOuts.IsEmpty;
        var key = (keeps ? stock : -1, keeps ? x : 0, keeps ? y : 0, sizeX, sizeY, set, _problem.Cutting.Stages is null ? Math.Min(stage, 1) : stage, last);
        if (_known.TryGetValue(key, out var known))
        {
            return known;
        }

        var can = IsPiece(stock, x, y, sizeX, sizeY, set);
        for (var direction = 0; direction < 2 && !can; direction++)
        {
            var cuts = _problem.Cutting;
            var trimming = false;
            if (cuts.Stages is { } most && stage + 1 > most)
            {
                trimming = cuts.TrimmingCut && stage + 1 == most + 1 && (set & (set - 1)) == 0;
                if (!trimming)
                {
                    continue;
                }
            }

            var across = direction == 0;
            if (direction == last
                || (stage == 0 && cuts.FirstCut is { } first && first != (across ? CutDirection.Crosscut : CutDirection.Rip))
                || (cuts.LargestCut is { } largest && (across ? sizeY : sizeX) > largest))
            {
                continue;
            }

            can = Children(stock, x, y, sizeX, sizeY, set, stage + 1, direction, 0, false, true, trimming);
        }

        _known[key] = can;
        return can;
    }

    /// <summary>Whether children from <paramref name="x"/>, <paramref name="y"/> on can hold the set.</summary>
    private bool Children(
        int stock, long x, long y, long sizeX, long sizeY, int set, int stage, int direction, long held, bool afterRest, bool firstChild, bool trimming)
    {
        var across = direction == 0;
        var left = across ? sizeX : sizeY;
        var other = across ? sizeY : sizeX;
        if (set == 0)
        {
            // What is left (after the kerf of the last cut) is dust or one rest.
            return Math.Max(held, left) >= _problem.Cutting.ShortestHeld;
        }

        var keeps = !_problem.Stocks[stock].KeepOuts.IsEmpty;
        for (long size = 1; size <= left; size++)
        {
            if (firstChild && size == left)
            {
                continue; // no cut at all
            }

            for (var part = set; part >= 0; part = part == 0 ? -1 : (part - 1) & set)
            {
                if (part == 0 && (!keeps || afterRest))
                {
                    continue; // without keep-outs rests lie last
                }

                if (part != 0 && !keeps && (part & (set & -set)) == 0)
                {
                    continue; // order of children does not matter
                }

                var fits = part == 0 || (across ? Inside(x, y, size, other) : Inside(x, y, other, size));
                if (!fits)
                {
                    continue;
                }

                var behind = left - size - _problem.Kerf;
                var next = across
                    ? Children(stock, x + size + _problem.Kerf, y, Math.Max(0, behind), sizeY, set & ~part, stage, direction, Math.Max(held, size), part == 0, false, trimming)
                    : Children(stock, x, y + size + _problem.Kerf, sizeX, Math.Max(0, behind), set & ~part, stage, direction, Math.Max(held, size), part == 0, false, trimming);
                if (next)
                {
                    return true;
                }

                bool Inside(long cx, long cy, long width, long height) => trimming
                    ? IsPiece(stock, cx, cy, width, height, part)
                    : Cut(stock, cx, cy, width, height, part, stage, direction);
            }
        }

        return false;
    }

    private bool IsPiece(int stock, long x, long y, long sizeX, long sizeY, int set)
    {
        if ((set & (set - 1)) != 0)
        {
            return false;
        }

        var item = _problem.Items[_pieces[int.TrailingZeroCount(set)]];
        var fits = (item.SizeX == sizeX && item.SizeY == sizeY) || (item.MayTurn && item.SizeY == sizeX && item.SizeX == sizeY);
        return fits && !_problem.Stocks[stock].KeepOuts.Any(k =>
            k.X < x + sizeX && x < k.X + k.SizeX && k.Y < y + sizeY && y < k.Y + k.SizeY);
    }
}
