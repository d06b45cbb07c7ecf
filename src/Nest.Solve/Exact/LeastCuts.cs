using Nest.Core.Plans;

namespace Nest.Solve.Exact;

/// <summary>What the cuts of each load of a plate cost at least in a rectangle, without a table of rectangles; and the cuts that a rectangle may have, load by load.</summary>
/// <remarks>
/// Statement. Call a side of a rectangle matched by a load where a row of its pieces is just so long (<see cref="LoadExtents"/>). In a crosscut both parts have the rectangle's height; where the load does not match that, neither part does, and
/// where both parts match it, rows of both are of one length. Where the load does not match the width, not both parts match theirs: else both rows, one behind the other, would. The same holds for rips.
/// A rectangle is a piece without a cut only where it is one. So least costs by load and by which sides are matched follow from those of its parts, and a cut through a rectangle with a piece in it is as long as the piece is at least.
/// O(loads²) once.
/// </remarks>
/// <param name="rules">Where each cut costs something.</param>
internal sealed class LeastCuts
{
    private readonly CutRules _rules;
    private readonly (int A, int B)[][] _shares;
    private readonly LoadExtents _x;
    private readonly LoadExtents _y;
    private readonly int[] _pieces;

    /// <summary>No cut costs less.</summary>
    private readonly int _cheap;

    /// <summary>By load, four each: 1: the height is not matched, 2: the width is not.</summary>
    private readonly int[] _costs;

    /// <summary>The same with a crosscut first, and with a rip: what comes after it.</summary>
    private readonly (int Crosscut, int Rip)[] _after;

    /// <summary>By load: its cheapest cut.</summary>
    private readonly int[] _cheapest;

    public LeastCuts(CutRules rules, int[][] loads, (int A, int B)[][] shares)
    {
        (_rules, _shares) = (rules, shares);
        var shape = rules.Shape;
        (_x, _y) = (new(shape, true, loads), new(shape, false, loads));
        _cheap = CostOf(Math.Min(rules.LeastX, rules.LeastY));
        _pieces = [.. loads.Select(load => load.Sum())];
        _costs = new int[4 * loads.Length];
        _after = new (int, int)[4 * loads.Length];
        _cheapest = new int[loads.Length];
        for (var load = 1; load < loads.Length; load++)
        {
            // Through the load's region a crosscut is as long as its highest piece at least, a rip as its widest.
            var (high, wide, least) = (0, 0, int.MaxValue);
            for (var k = 0; k < shape.Pieces.Length; k++)
            {
                if (loads[load][k] > 0)
                {
                    var piece = shape.Pieces[k];
                    least = Math.Min(least, Math.Min(piece.SizeX, piece.SizeY));
                    wide = Math.Max(wide, piece.MayTurn ? Math.Min(piece.SizeX, piece.SizeY) : piece.SizeX);
                    high = Math.Max(high, piece.MayTurn ? Math.Min(piece.SizeX, piece.SizeY) : piece.SizeY);
                }
            }

            // Cuts further in may have only its smallest piece in them.
            _cheapest[load] = CostOf(least);
            Fill(load, CostOf(Math.Min(high, rules.Costs.Length - 1)), CostOf(Math.Min(wide, rules.Costs.Length - 1)));
        }
    }

    /// <summary>Cost of the cuts in a rectangle with this load, and of what they turn to chips, in grains, at least.</summary>
    /// <param name="rate">Worth of a square unit.</param>
    /// <param name="terms">Terms that are no piece, in a row that fixes one of its sides.</param>
    public int Of(int w, int h, int load, double rate, int terms = 0)
    {
        var sides = (4 * load) + (_x.IsRow(load, w) ? 0 : 2) + (_y.IsRow(load, h) ? 0 : 1);
        if (_costs[sides] == 0)
        {
            return 0;
        }

        // The first cut goes through the whole rectangle. Where no row is a little shorter, all of it turns to chips, or a further cut is needed.
        var (kerf, (crosscut, rip)) = (_rules.Shape.Kerf, _after[sides]);
        var cross = crosscut + CostOf(h) + (_x.IsNearRow(load, w) ? 0 : Math.Min(_cheap, rate * kerf * h));
        var along = rip + CostOf(w) + (_y.IsNearRow(load, h) ? 0 : Math.Min(_cheap, rate * kerf * w));
        return Math.Max((int)Math.Min(cross, along), terms == 0 ? 0 : (_pieces[load] - 1 + terms) * _cheapest[load]);
    }

    /// <summary>The cuts of a rectangle that leave a load's part on a side which that part fixes (<see cref="LoadExtents"/>), along the axes where positions are not given.</summary>
    /// <param name="turns">Whether a cut may serve to make the next one the other way: then it may part no more than dust.</param>
    /// <param name="free">Grains that the cuts and their chips may cost all together.</param>
    /// <param name="rate">Worth of a square unit.</param>
    /// <param name="parts">What is known of the parts in coarser units: only rectangles are looked at in which they may be worth what is needed; null: all.</param>
    /// <param name="need">Worth that is needed.</param>
    /// <returns>The part that fixes the cut with its load, and the terms of its row; the other one, without a width where it is dust.</returns>
    public IEnumerable<(Cell One, int A, int Terms, Cell Other, int B, int Cost)> Cuts(Cell cell, int load, bool crosscuts, bool rips, bool turns, double free, double rate, CoarseParts? parts, int need)
    {
        var (kerf, held) = (_rules.Shape.Kerf, _rules.Shape.Held);
        var whole = parts is null ? 0 : _rules.Shape.Worth(cell.W, cell.H);
        for (var direction = 0; direction < 2; direction++)
        {
            var (across, size, shared) = direction == 0 ? (1, cell.W, cell.H) : (2, cell.H, cell.W);
            var cost = direction == 0 ? _rules.Crosscut(cell.H, cell.Raw) : _rules.Rip(cell.W, cell.Raw);
            if (cost < 0 || !(direction == 0 ? crosscuts : rips))
            {
                continue;
            }

            var (along, other, alongBit) = direction == 0 ? (_x, _y, 2) : (_y, _x, 1);
            var (raw, inner) = ((cell.Raw & across) != 0, cell.Raw & ~across);
            foreach (var (a, b) in _shares[load])
            {
                // What both parts cost at least after this cut: the side that they share is what it is.
                var (atA, atB) = ((4 * a) + (other.IsRow(a, shared) ? 0 : 3 - alongBit), (4 * b) + (other.IsRow(b, shared) ? 0 : 3 - alongBit));
                var left = free + 1 - cost - (b > 0 ? rate * kerf * shared : 0) - _costs[atB];
                if (_costs[atA] > left)
                {
                    continue;
                }

                var (ofA, ofB) = (parts?.Along(a, direction == 0, shared), b > 0 ? parts?.Along(b, direction == 0, shared) : null);
                if (ofA is not null && ofB is not null && ofA.Best + ofB.Best - cost < need)
                {
                    continue;
                }

                foreach (var (at, terms) in along.Positions[a])
                {
                    if (ofA is not null && ofA.Most(at) + (ofB?.Most(size - kerf - at) ?? whole) - cost < need)
                    {
                        continue;
                    }

                    // With more terms the side takes more cuts than may be paid for.
                    var least = terms == 0 ? _costs[atA] : Math.Max(_costs[atA + alongBit], (_pieces[a] - 1 + terms) * _cheapest[a]);
                    if (least > left)
                    {
                        break;
                    }

                    var rest = size - kerf - at;
                    if (at >= size || Math.Max(at, rest) < held || (rest > 0 && b > 0 && least + _costs[atB + alongBit] - _costs[atB] > left && !along.IsRow(b, rest)))
                    {
                        continue;
                    }

                    if (rest <= 0)
                    {
                        if (b == 0)
                        {
                            yield return (Part(at, inner), a, terms, default, 0, cost);
                        }

                        continue;
                    }

                    yield return (Part(at, inner), a, terms, Part(rest, cell.Raw), b, cost);
                    if (raw)
                    {
                        yield return (Part(at, cell.Raw), a, terms, Part(rest, inner), b, cost);
                    }
                }
            }

            // Where only dust falls off and the part's own pieces do not fix the cut, the less the better.
            if ((raw || turns) && size > 1 && size - 1 >= held && free + 1 - cost >= 0)
            {
                yield return (Part(size - 1, inner), load, 0, default, 0, cost);
            }

            Cell Part(int extent, int edges) => across == 1 ? new(extent, cell.H, edges) : new(cell.W, extent, edges);
        }
    }

    /// <summary>Cost of a cut less a grain: the worth of each rest is rounded up by less, and there are no more rests than cuts.</summary>
    private int CostOf(int length) => _rules.Costs[length] - 1;

    private void Fill(int load, int crosscut, int rip)
    {
        for (var sides = 0; sides < 4; sides++)
        {
            var (cross, along) = (int.MaxValue, int.MaxValue);
            foreach (var (a, b) in _shares[load])
            {
                if (a > 0 && b > 0)
                {
                    cross = Math.Min(cross, Parts(a, b, (sides & 2) != 0, (sides & 1) != 0, 2, 1, _y));
                    along = Math.Min(along, Parts(a, b, (sides & 1) != 0, (sides & 2) != 0, 1, 2, _x));
                }
            }

            // A part without a piece, or dust, leaves one side as it is.
            cross = (sides & 2) == 0 ? cross : Math.Min(cross, _costs[(4 * load) + (sides & 1)]);
            along = (sides & 1) == 0 ? along : Math.Min(along, _costs[(4 * load) + (sides & 2)]);
            var least = _costs[(4 * load) + sides] = sides == 0 && _pieces[load] == 1 ? 0
                : Math.Min(cross == int.MaxValue ? cross : crosscut + cross, along == int.MaxValue ? along : rip + along);

            // What a rest is cut from may be matched as before.
            _after[(4 * load) + sides] = (Math.Min(cross, least), Math.Min(along, least));
        }
    }

    /// <summary>Least costs of two parts that a cut leaves.</summary>
    /// <param name="along">Whether the load does not match the side along which the parts lie, of bit <paramref name="alongBit"/>.</param>
    /// <param name="shared">Whether it does not match the side that both have.</param>
    private int Parts(int a, int b, bool along, bool shared, int alongBit, int sharedBit, LoadExtents extents)
    {
        var least = int.MaxValue;
        for (var choice = 0; choice < 4; choice++)
        {
            // Which of the two matches the shared side: both only with rows of one length.
            var (one, other) = ((choice & 1) == 0 && !shared, (choice & 2) == 0 && !shared);
            if (one && other && !extents.MayMatch(a, b))
            {
                continue;
            }

            var (costA, costB) = (one ? 0 : sharedBit, other ? 0 : sharedBit);
            var both = _costs[(4 * a) + costA] + _costs[(4 * b) + costB];
            least = Math.Min(least, !along ? both : Math.Min(
                _costs[(4 * a) + costA + alongBit] + _costs[(4 * b) + costB], _costs[(4 * a) + costA] + _costs[(4 * b) + costB + alongBit]));
        }

        return least;
    }
}
