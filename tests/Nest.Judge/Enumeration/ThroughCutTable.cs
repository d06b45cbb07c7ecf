using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>Every way to divide one plate by through-cuts: for each load the least saw cost less credits.</summary>
/// <remarks>
/// <para>Problem: of all trees of through-cuts whose leaves are the pieces of a load and offcuts, the cheapest. Method: a rectangle is a
/// piece of just its size, an offcut, or is cut in two at any whole unit; the two parts share the load in any way. A tree with many
/// children in a row is a chain of such cuts, and costs the same.</para>
/// <para>Why whole units are enough. Take any cheapest layout: its tree, what each leaf is, which offcuts count as kept, which part of each
/// cut is the long one that is held, on which side of each damaged area each piece lies. What remains are the places of the cuts. All that
/// is asked of them is that differences of two places, or a place and a constant, are at least, at most or just so much: a size, kerf,
/// smallest size to keep, held length, longest cut, an edge of damage. Places along and across occur in no condition together. With the
/// places across fixed, the worth of kept offcuts is linear in those along, and that of scrap is too, but for max(0, rest), which is
/// convex; so the worth is greatest at a corner of the set of possible places. The corners of a set described by differences are
/// differences of its constants: whole multiples of their greatest common divisor. Then the same across. Rounding each offcut's worth down
/// can move the answer by less than one unit of money for each offcut: <see cref="Optimum.Rounding"/>.</para>
/// <para>Raw edges at the right and top: each of the two either stays (no blank lies against it, and the cuts that reach it are longer) or
/// is cut off because a blank lies there; all four cases are tried, and a rectangle knows which of the two edges it lies at.</para>
/// <para>With stages: the state has the cuts that are still allowed and the direction of the last one. With damage: rectangles that meet
/// damage are told apart by their place, all others by their size. O(X · Y · (X + Y) · splits) without damage.</para>
/// </remarks>
internal sealed class ThroughCutTable
{
    /// <summary>"Not possible".</summary>
    public const long Never = long.MaxValue / 8;

    private const int MostCells = 20_000;
    private const int MostDamagedCells = 60_000;

    private readonly PlateSheet _sheet;
    private readonly LoadSpace _loads;
    private readonly (Edge Right, Edge Top) _edges;
    private readonly CutPlane[] _planes;
    private readonly long[]?[] _bySize;
    private readonly Dictionary<(int Plane, int At, int X, int Y, int SizeX, int SizeY), long[]> _byPlace = [];
    private readonly long[][] _cut;
    private readonly Int128[] _area;

    private ThroughCutTable(PlateSheet sheet, LoadSpace loads, (Edge Right, Edge Top) edges)
    {
        (_sheet, _loads, _edges) = (sheet, loads, edges);
        _planes = CutPlane.Of(sheet.Saw);
        _bySize = new long[]?[_planes.Length * 4 * (sheet.X + 1) * (sheet.Y + 1)];
        var lengths = Enumerable.Range(0, Math.Max(sheet.X, sheet.Y) + 1).ToArray();

        // By direction of the cut, then the same where it runs on through a raw edge that stays.
        _cut =
        [
            [.. lengths.Select(length => sheet.Cut(length, Length.Zero))],
            [.. lengths.Select(length => sheet.Cut(length, sheet.Trims.Top))],
            [.. lengths.Select(length => sheet.Cut(length, sheet.Trims.Right))],
        ];
        _area = [.. Enumerable.Range(0, loads.Count).Select(LeastArea)];
    }

    /// <summary>What becomes of a raw edge at the right or top.</summary>
    private enum Edge
    {
        /// <summary>It is clean, or cut off whatever lies there.</summary>
        Plain,

        /// <summary>It stays: no blank lies against it, and cuts run on through it.</summary>
        Stays,

        /// <summary>It is cut off, because a blank lies against it.</summary>
        Needed,
    }

    /// <summary>Of each load, the plate's price left out: saw cost and trims less credits in units; <see cref="Never"/> where it does not
    /// fit, and for the empty load. The plate can be trimmed.</summary>
    public static long[] Solve(PlateSheet sheet, LoadSpace loads)
    {
        if ((long)sheet.X * sheet.Y > MostCells)
        {
            throw new TooLargeException($"{sheet.Stock.Id} is {sheet.X} by {sheet.Y} units.");
        }

        var answer = new long[loads.Count];
        Array.Fill(answer, Never);
        foreach (var right in Ways(sheet.Trims.Right, sheet.Stock.MinLength))
        {
            foreach (var top in Ways(sheet.Trims.Top, sheet.Stock.MinWidth))
            {
                new ThroughCutTable(sheet, loads, (right, top)).Lower(answer);
            }
        }

        return answer;

        Edge[] Ways(Length trim, Length side) =>
            trim == Length.Zero || CostRules.TrimsAlways(sheet.Saw, side) ? [Edge.Plain] : [Edge.Stays, Edge.Needed];
    }

    private void Lower(long[] answer)
    {
        var right = _sheet.Trims.Right > Length.Zero && _edges.Right != Edge.Stays;
        var top = _sheet.Trims.Top > Length.Zero && _edges.Top != Edge.Stays;
        var trims = _sheet.TrimCost(right, top);
        var at = (_edges.Right == Edge.Plain ? 0 : 1) | (_edges.Top == Edge.Plain ? 0 : 2);
        var best = Of(0, at, 0, 0, _sheet.X, _sheet.Y);
        var most = CostRules.LimitsPieces(_sheet.Saw) ? _sheet.Saw.MostPieces ?? int.MaxValue : int.MaxValue;
        for (var load = 1; load < answer.Length; load++)
        {
            if (best[load] < Never && _loads.Totals[load] <= most)
            {
                answer[load] = Math.Min(answer[load], CostRules.Rounded(best[load] + trims) + Facing(load));
            }
        }
    }

    private long Facing(int load) =>
        Enumerable.Range(0, _loads.Demand.Length).Sum(kind => (_sheet.Blanks[kind]?.Facing ?? 0) * _loads.Of(load, kind));

    /// <param name="at">Whether it lies at an edge of the plate that is not plain: 1 the right one, 2 the top one.</param>
    private long[] Of(int plane, int at, int x, int y, int sizeX, int sizeY)
    {
        if (!Meets(x, y, sizeX, sizeY))
        {
            var slot = (((((plane * 4) + at) * (_sheet.X + 1)) + sizeX) * (_sheet.Y + 1)) + sizeY;
            return _bySize[slot] ??= Cell(_planes[plane], at, x, y, sizeX, sizeY, false);
        }

        var key = (plane, at, x, y, sizeX, sizeY);
        if (!_byPlace.TryGetValue(key, out var known))
        {
            known = Cell(_planes[plane], at, x, y, sizeX, sizeY, true);
            _byPlace[key] = known;
            if (_byPlace.Count > MostDamagedCells)
            {
                throw new TooLargeException($"{_sheet.Stock.Id} is too large for its damage.");
            }
        }

        return known;
    }

    private long[] Cell(CutPlane plane, int at, int x, int y, int sizeX, int sizeY, bool damaged)
    {
        var best = new long[_loads.Count];
        Array.Fill(best, Never);
        if (!Is(at, Edge.Needed))
        {
            best[0] = -Offcut(sizeX, sizeY, damaged);
        }

        for (var kind = 0; kind < _loads.Demand.Length; kind++)
        {
            if (!damaged && !Is(at, Edge.Stays) && Is(kind, sizeX, sizeY))
            {
                best[_loads.One(kind)] = 0;
            }
        }

        for (var way = 0; way < 2; way++)
        {
            var along = way == 0;
            var (size, across) = along ? (sizeX, sizeY) : (sizeY, sizeX);
            if (across > _sheet.LargestCut)
            {
                continue;
            }

            if (plane.Next[way] >= 0)
            {
                Divide(best, plane.Next[way], at, along, size, across, x, y, _sheet.Area(sizeX, sizeY), damaged);
            }
            else if (plane.Trimming == way)
            {
                TrimOff(best, at, along, size, across, x, y);
            }
        }

        // "Never" less a credit or plus a cut is never all the same.
        for (var load = 0; load < best.Length; load++)
        {
            best[load] = best[load] > Never / 2 ? Never : best[load];
        }

        return best;
    }

    private void Divide(long[] best, int plane, int at, bool along, int size, int across, int x, int y, Int128 room, bool damaged)
    {
        var kerf = _sheet.Kerf;
        var (end, side) = along ? (1, 2) : (2, 1);
        var cut = Cut(at, along, across);
        for (var first = 1; first < size; first++)
        {
            var rest = size - first - kerf;
            if (Math.Max(first, rest) < _sheet.Held || (!damaged && (at & end) == 0 && rest > 0 && first > rest))
            {
                continue;
            }

            if (rest <= 0)
            {
                if (!Is(at & end, Edge.Needed))
                {
                    Join(best, Part(at & ~end, 0, first), null, cut, room);
                }
            }
            else if (Is(at & side, Edge.Needed))
            {
                // The blank at the side lies in one of the two.
                Join(best, Part(at & ~end, 0, first), Part(at & ~side, first + kerf, rest), cut, room);
                Join(best, Part(at & ~end & ~side, 0, first), Part(at, first + kerf, rest), cut, room);
            }
            else
            {
                Join(best, Part(at & ~end, 0, first), Part(at, first + kerf, rest), cut, room);
            }
        }

        long[] Part(int there, int from, int extent) => along
            ? Of(plane, there, x + from, y, extent, across)
            : Of(plane, there, x, y + from, across, extent);
    }

    private void Join(long[] best, long[] one, long[]? other, long cut, Int128 room)
    {
        for (var load = 1; load < best.Length; load++)
        {
            if (_area[load] > room)
            {
                continue;
            }

            var least = best[load] - cut;
            if (other is null)
            {
                least = Math.Min(least, one[load]);
            }
            else
            {
                foreach (var (a, b) in _loads.Splits[load])
                {
                    least = Math.Min(least, one[a] + other[b]);
                }
            }

            best[load] = Math.Min(best[load], least + cut);
        }
    }

    /// <summary>The one cut more that only separates a piece from waste.</summary>
    private void TrimOff(long[] best, int at, bool along, int size, int across, int x, int y)
    {
        var (end, side) = along ? (1, 2) : (2, 1);
        if (Is(at & side, Edge.Stays))
        {
            return;
        }

        for (var kind = 0; kind < _loads.Demand.Length; kind++)
        {
            for (var piece = 1; piece < size; piece++)
            {
                var rest = size - piece - _sheet.Kerf;
                if (!(along ? Is(kind, piece, across) : Is(kind, across, piece)) || Math.Max(piece, rest) < _sheet.Held)
                {
                    continue;
                }

                // The piece lies first or last; the waste is the other part.
                foreach (var start in rest > 0 ? new[] { 0, rest + _sheet.Kerf } : [0])
                {
                    var (px, py) = along ? (x + start, y) : (x, y + start);
                    var (sx, sy) = along ? (piece, across) : (across, piece);
                    if (Meets(px, py, sx, sy) || Is(at & end, start == 0 ? Edge.Needed : Edge.Stays))
                    {
                        continue;
                    }

                    var waste = rest <= 0 ? 0 : along ? Offcut(rest, across, false) : Offcut(across, rest, false);
                    var one = _loads.One(kind);
                    best[one] = Math.Min(best[one], Cut(at, along, across) - waste);
                }
            }
        }
    }

    /// <summary>A cut through the rectangle, longer where it runs on through a raw edge that stays.</summary>
    private long Cut(int at, bool along, int across) => _cut[!Is(at & (along ? 2 : 1), Edge.Stays) ? 0 : along ? 1 : 2][across];

    /// <summary>Whether one of the edges that it lies at is such.</summary>
    private bool Is(int at, Edge edge) => ((at & 1) != 0 && _edges.Right == edge) || ((at & 2) != 0 && _edges.Top == edge);

    private bool Meets(int x, int y, int sizeX, int sizeY)
    {
        foreach (var damage in _sheet.Damage)
        {
            if (damage.Meets(x, y, sizeX, sizeY))
            {
                return true;
            }
        }

        return false;
    }

    // On a saw damage does not change what an offcut is worth; should it ever, the trimming cut above must ask for it too.
    private long Offcut(int sizeX, int sizeY, bool damaged) =>
        _sheet.Credit(sizeX, sizeY, !damaged || CostRules.KeptWithDamage(_sheet.Saw)) * CostRules.Fine;

    private bool Is(int kind, int sizeX, int sizeY)
    {
        if (_sheet.Blanks[kind] is not { } blank)
        {
            return false;
        }

        var (x, y) = (_sheet.Units(blank.X), _sheet.Units(blank.Y));
        return (x == sizeX && y == sizeY) || (blank.Turns && x == sizeY && y == sizeX);
    }

    private Int128 LeastArea(int load)
    {
        Int128 sum = 0;
        for (var kind = 0; kind < _loads.Demand.Length; kind++)
        {
            if (_loads.Of(load, kind) > 0 && _sheet.Blanks[kind] is { } blank)
            {
                sum += _sheet.Area(_sheet.Units(blank.X), _sheet.Units(blank.Y)) * _loads.Of(load, kind);
            }
        }

        return sum;
    }
}
