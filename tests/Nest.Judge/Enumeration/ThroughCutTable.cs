using Nest.Core.Plans;

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
    private readonly Plane[] _planes;
    private readonly long[]?[] _bySize;
    private readonly Dictionary<(int Plane, int X, int Y, int SizeX, int SizeY), long[]> _byPlace = [];
    private readonly long[] _cut;
    private readonly Int128[] _area;

    public ThroughCutTable(PlateSheet sheet, LoadSpace loads)
    {
        (_sheet, _loads) = (sheet, loads);
        if ((long)sheet.X * sheet.Y > MostCells)
        {
            throw new TooLargeException($"{sheet.Stock.Id} is {sheet.X} by {sheet.Y} units.");
        }

        _planes = Planes();
        _bySize = new long[]?[_planes.Length * (sheet.X + 1) * (sheet.Y + 1)];
        _cut = [.. Enumerable.Range(0, Math.Max(sheet.X, sheet.Y) + 1).Select(sheet.Cut)];
        _area = [.. Enumerable.Range(0, loads.Count).Select(LeastArea)];
    }

    /// <summary>Of each load, the plate's price left out: saw cost and trims less credits in units; <see cref="Never"/> where it does not
    /// fit, and for the empty load. The plate can be trimmed.</summary>
    public long[] Solve()
    {
        var answer = new long[_loads.Count];
        Array.Fill(answer, Never);
        var trims = _sheet.TrimCost();
        var best = Of(0, 0, 0, _sheet.X, _sheet.Y);
        for (var load = 1; load < answer.Length; load++)
        {
            var most = CostRules.LimitsPieces(_sheet.Saw) ? _sheet.Saw.MostPieces ?? int.MaxValue : int.MaxValue;
            if (best[load] < Never && _loads.Totals[load] <= most)
            {
                answer[load] = CostRules.Rounded(best[load] + trims) + Facing(load);
            }
        }

        return answer;
    }

    private long Facing(int load) =>
        Enumerable.Range(0, _loads.Demand.Length).Sum(kind => (_sheet.Blanks[kind]?.Facing ?? 0) * _loads.Of(load, kind));

    private long[] Of(int plane, int x, int y, int sizeX, int sizeY)
    {
        if (!Meets(x, y, sizeX, sizeY))
        {
            var slot = (((plane * (_sheet.X + 1)) + sizeX) * (_sheet.Y + 1)) + sizeY;
            return _bySize[slot] ??= Cell(_planes[plane], x, y, sizeX, sizeY, false);
        }

        var key = (plane, x, y, sizeX, sizeY);
        if (!_byPlace.TryGetValue(key, out var known))
        {
            known = Cell(_planes[plane], x, y, sizeX, sizeY, true);
            _byPlace[key] = known;
            if (_byPlace.Count > MostDamagedCells)
            {
                throw new TooLargeException($"{_sheet.Stock.Id} is too large for its damage.");
            }
        }

        return known;
    }

    private long[] Cell(Plane plane, int x, int y, int sizeX, int sizeY, bool damaged)
    {
        var best = new long[_loads.Count];
        Array.Fill(best, Never);
        best[0] = -Offcut(sizeX, sizeY, damaged);
        var room = _sheet.Area(sizeX, sizeY);
        for (var kind = 0; kind < _loads.Demand.Length; kind++)
        {
            if (!damaged && Is(kind, sizeX, sizeY))
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
                Divide(best, plane.Next[way], along, size, across, x, y, room, damaged);
            }
            else if (plane.Trimming == way)
            {
                TrimOff(best, along, size, across, x, y);
            }
        }

        // "Never" less a credit or plus a cut is never all the same.
        for (var load = 1; load < best.Length; load++)
        {
            best[load] = best[load] > Never / 2 ? Never : best[load];
        }

        return best;
    }

    private void Divide(long[] best, int plane, bool along, int size, int across, int x, int y, Int128 room, bool damaged)
    {
        var kerf = _sheet.Kerf;
        for (var at = 1; at < size; at++)
        {
            var rest = size - at - kerf;
            if (Math.Max(at, rest) < _sheet.Held || (!damaged && rest > 0 && at > rest))
            {
                continue;
            }

            var one = along ? Of(plane, x, y, at, across) : Of(plane, x, y, across, at);
            var other = rest <= 0 ? null
                : along ? Of(plane, x + at + kerf, y, rest, across) : Of(plane, x, y + at + kerf, across, rest);
            for (var load = 1; load < best.Length; load++)
            {
                if (_area[load] > room)
                {
                    continue;
                }

                var least = best[load] - _cut[across];
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

                best[load] = Math.Min(best[load], least + _cut[across]);
            }
        }
    }

    /// <summary>The one cut more that only separates a piece from waste.</summary>
    private void TrimOff(long[] best, bool along, int size, int across, int x, int y)
    {
        for (var kind = 0; kind < _loads.Demand.Length; kind++)
        {
            for (var at = 1; at < size; at++)
            {
                var rest = size - at - _sheet.Kerf;
                if (!(along ? Is(kind, at, across) : Is(kind, across, at)) || Math.Max(at, rest) < _sheet.Held)
                {
                    continue;
                }

                // The piece lies first or last; the waste is the other part.
                foreach (var start in rest > 0 ? new[] { 0, rest + _sheet.Kerf } : [0])
                {
                    var (px, py) = along ? (x + start, y) : (x, y + start);
                    var (sx, sy) = along ? (at, across) : (across, at);
                    if (Meets(px, py, sx, sy))
                    {
                        continue;
                    }

                    var waste = rest <= 0 ? 0 : along ? Offcut(rest, across, false) : Offcut(across, rest, false);
                    var one = _loads.One(kind);
                    best[one] = Math.Min(best[one], _cut[across] - waste);
                }
            }
        }
    }

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

    /// <summary>Plane 0 is the whole sheet; behind it one plane, or one for each number of stages left and last direction.</summary>
    private Plane[] Planes()
    {
        var saw = _sheet.Saw;
        int[] first = saw.FirstCut is { } asked ? (asked == CutDirection.Crosscut ? [1, 0] : [0, 1]) : [1, 1];
        if (saw.Stages is not { } stages)
        {
            return saw.FirstCut is null
                ? [new([0, 0], -1)]
                : [new([first[0] == 1 ? 1 : -1, first[1] == 1 ? 1 : -1], -1), new([1, 1], -1)];
        }

        // Number of the plane with so many stages left, the last cut along (0) or across (1) the plate's length.
        int At(int left, int way) => 1 + (left * 2) + way;
        var planes = new Plane[1 + (stages * 2)];
        planes[0] = new([first[0] == 1 ? At(stages - 1, 0) : -1, first[1] == 1 ? At(stages - 1, 1) : -1], -1);
        for (var left = 0; left < stages; left++)
        {
            for (var way = 0; way < 2; way++)
            {
                var turn = left > 0 ? At(left - 1, 1 - way) : -1;
                planes[At(left, way)] = new(
                    way == 0 ? [At(left, 0), turn] : [turn, At(left, 1)], left == 0 && saw.TrimmingCut ? 1 - way : -1);
            }
        }

        return planes;
    }

    /// <param name="Next">Plane of the parts of a cut that divides X, and of one that divides Y; −1: not allowed.</param>
    /// <param name="Trimming">Direction in which one trimming cut is allowed; −1: none.</param>
    private sealed record Plane(int[] Next, int Trimming);
}
