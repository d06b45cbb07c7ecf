using Nest.Core.Plans;
using Nest.Judge.Enumeration;

namespace Nest.Judge.Settings;

/// <summary>A large family of the trees of through-cuts of one plate: not all, as the places of the cuts are chosen from a few.</summary>
/// <remarks>Rows of parallel cuts, in each all ordered ways to part the load, every extent that is a side of one of the group's blanks or a sum of some, waste behind or in front, or the last
/// group to the end; below, the same across. Each is a layout that a plan may have, so its cost is one that no bound may exceed. Exponential in the pieces: for up to four.</remarks>
internal sealed class PlateTrees
{
    private const int MostTrees = 400_000;

    private readonly PlateSheet _sheet;
    private readonly LoadSpace _loads;
    private readonly CutPlane[] _planes;
    private readonly int[][][] _extents;
    private int _made;

    public PlateTrees(PlateSheet sheet, LoadSpace loads)
    {
        (_sheet, _loads, _planes) = (sheet, loads, CutPlane.Of(sheet.Saw));
        _extents = [.. Enumerable.Range(0, 2).Select(way => Enumerable.Range(0, loads.Count).Select(load => Extents(load, way == 0)).ToArray())];
    }

    /// <summary>Trees for a load; none where it does not come from the plate.</summary>
    /// <exception cref="TooLargeException">There are too many.</exception>
    public IEnumerable<PlateTree> Of(int load)
    {
        for (var kind = 0; kind < _loads.Demand.Length; kind++)
        {
            if (_loads.Of(load, kind) > 0 && _sheet.Blanks[kind] is null)
            {
                return [];
            }
        }

        _made = 0;
        return Trees(0, null, 0, 0, _sheet.X, _sheet.Y, load, 0);
    }

    /// <param name="last">Direction of the cuts beside it, in which it is not divided again.</param>
    /// <param name="trimmed">How often waste alone was cut from this load; once in each direction is enough.</param>
    private IEnumerable<PlateTree> Trees(int plane, CutDirection? last, int x, int y, int sizeX, int sizeY, int load, int trimmed)
    {
        _made++;
        if (_made > MostTrees)
        {
            throw new TooLargeException($"{_sheet.Stock.Id} has too many trees.");
        }

        if (load == 0)
        {
            yield return new(x, y, sizeX, sizeY, -1, default, []);
            yield break;
        }

        for (var kind = 0; kind < _loads.Demand.Length; kind++)
        {
            if (load == _loads.One(kind) && Is(kind, sizeX, sizeY))
            {
                if (!Meets(x, y, sizeX, sizeY))
                {
                    yield return new(x, y, sizeX, sizeY, kind, default, []);
                }

                yield break;
            }
        }

        foreach (var direction in new[] { CutDirection.Crosscut, CutDirection.Rip })
        {
            var way = direction == CutDirection.Crosscut ? 0 : 1;
            var (size, across) = way == 0 ? (sizeX, sizeY) : (sizeY, sizeX);
            if (last == direction || across > _sheet.LargestCut)
            {
                continue;
            }

            var next = _planes[plane].Next[way];
            var trims = next < 0 && _planes[plane].Trimming == way && _loads.Totals[load] == 1;
            if (next < 0 && !trims)
            {
                continue;
            }

            foreach (var row in Rows([], 0, load, trims))
            {
                if (row.Max(child => child.Size(direction)) >= _sheet.Held)
                {
                    yield return new(x, y, sizeX, sizeY, -1, direction, row);
                }
            }

            // Children from this place on; before a trimming cut the piece is a leaf, else any tree across.
            IEnumerable<PlateTree[]> Rows(PlateTree[] before, int from, int left, bool leaves)
            {
                if (left == 0)
                {
                    var rest = size - from;
                    if (rest <= _sheet.Kerf)
                    {
                        // The cut behind the last child turns what is there into chips.
                        yield return before;
                    }
                    else if (!before.Any(child => child.IsWaste) || !leaves)
                    {
                        yield return [.. before, Child(from + _sheet.Kerf, rest - _sheet.Kerf, 0).Single()];
                    }

                    yield break;
                }

                foreach (var (group, others) in _loads.Splits[left])
                {
                    if (group == 0 || (group == load && trimmed > 1))
                    {
                        continue;
                    }

                    var start = before.Length == 0 ? 0 : from + _sheet.Kerf;
                    foreach (var extent in _extents[way][group].Concat(others == 0 ? [size - start] : []).Distinct().Where(extent => extent > 0 && start + extent <= size && extent < size))
                    {
                        foreach (var row in With(before, start, extent, group, others))
                        {
                            yield return row;
                        }

                        // Waste in front, so that the last group lies at the far end, or behind damage.
                        var places = (others == 0 ? [size - extent] : Array.Empty<int>()).Concat(_sheet.Damage.Select(block => way == 0 ? block.X + block.SizeX - x : block.Y + block.SizeY - y));
                        foreach (var place in places.Distinct().Where(place => place > start + _sheet.Kerf && place + extent <= size && !before.Any(child => child.IsWaste)))
                        {
                            foreach (var row in With([.. before, Child(start, place - _sheet.Kerf - start, 0).Single()], place, extent, group, others))
                            {
                                yield return row;
                            }
                        }
                    }
                }

                IEnumerable<PlateTree[]> With(PlateTree[] front, int start, int extent, int group, int others) =>
                    Child(start, extent, group).Where(child => !leaves || child.Kind >= 0).SelectMany(child => Rows([.. front, child], start + extent, others, leaves));
            }

            IEnumerable<PlateTree> Child(int from, int extent, int group) => way == 0
                ? Trees(Math.Max(0, next), direction, x + from, y, extent, across, group, group == load ? trimmed + 1 : 0)
                : Trees(Math.Max(0, next), direction, x, y + from, across, extent, group, group == load ? trimmed + 1 : 0);
        }
    }

    /// <summary>The sides of a load's blanks in one direction, and the sums of some of them with kerfs.</summary>
    private int[] Extents(int load, bool along)
    {
        var sums = new HashSet<int> { 0 };
        for (var kind = 0; kind < _loads.Demand.Length; kind++)
        {
            for (var piece = 0; piece < _loads.Of(load, kind) && _sheet.Blanks[kind] is not null; piece++)
            {
                var blank = _sheet.Blanks[kind]!;
                var (x, y) = (_sheet.Units(blank.X), _sheet.Units(blank.Y));
                int[] sides = blank.Turns ? [x, y] : along ? [x] : [y];
                sums.UnionWith([.. sums.SelectMany(sum => sides.Select(side => sum == 0 ? side : sum + _sheet.Kerf + side))]);
            }
        }

        return [.. sums.Where(sum => sum > 0).Order()];
    }

    private bool Is(int kind, int sizeX, int sizeY)
    {
        var blank = _sheet.Blanks[kind]!;
        var (x, y) = (_sheet.Units(blank.X), _sheet.Units(blank.Y));
        return (x == sizeX && y == sizeY) || (blank.Turns && x == sizeY && y == sizeX);
    }

    private bool Meets(int x, int y, int sizeX, int sizeY) => _sheet.Damage.Any(block => block.Meets(x, y, sizeX, sizeY));
}
