namespace Nest.Judge.Enumeration;

/// <summary>Every way to lay a load free on one plate: for each load the least cost.</summary>
/// <remarks>On a cutter the cost of cutting depends on the pieces alone; where they lie only decides whether they fit and which offcuts
/// can be kept. So all sets of offcuts worth keeping are tried, the best first, until the pieces fit beside one. Whole units are enough
/// for the reason given at <see cref="ThroughCutTable"/>: for each two rectangles, which of the four sides of one the other lies on.
/// A rectangle grown by the gap to the right and to the top is a set of cells (bits); two are a gap apart when they share none.
/// O(sets of offcuts · places^pieces) at worst: for plates of about a hundred cells.</remarks>
internal sealed class CutterTable
{
    private const int MostCells = 128;
    private const int MostSets = 20_000;

    private readonly PlateSheet _sheet;
    private readonly LoadSpace _loads;
    private readonly int _columns;
    private readonly UInt128[][] _places;

    public CutterTable(PlateSheet sheet, LoadSpace loads)
    {
        (_sheet, _loads) = (sheet, loads);
        _columns = sheet.X + sheet.Kerf;
        if (_columns * (sheet.Y + sheet.Kerf) > MostCells)
        {
            throw new TooLargeException($"{sheet.Stock.Id} is {sheet.X} by {sheet.Y} units, too many for free layouts.");
        }

        _places = [.. sheet.Blanks.Select(Places)];
    }

    /// <summary>As <see cref="ThroughCutTable.Solve"/>.</summary>
    public long[] Solve()
    {
        var answer = new long[_loads.Count];
        Array.Fill(answer, ThroughCutTable.Never);
        var sets = Sets();
        for (var load = 1; load < answer.Length; load++)
        {
            var (outline, area, facing, cuts) = (0m, (Int128)0, 0L, 0);
            for (var kind = 0; kind < _loads.Demand.Length; kind++)
            {
                var count = _loads.Of(load, kind);
                if (count > 0 && _sheet.Blanks[kind] is { } blank)
                {
                    outline += (blank.X + blank.Y).ToMillimetres() * 2 * count;
                    area += (Int128)blank.X.Nanometres * blank.Y.Nanometres * count;
                    facing += blank.Facing * count;
                    cuts += count;
                }
            }

            var saw = CostRules.Rounded(CostRules.Sawing(
                _sheet.Saw, _sheet.Material, cuts, outline * _sheet.Stock.Thickness.ToMillimetres()));
            foreach (var set in sets.OrderByDescending(set => Credit(set, area)))
            {
                if (Fits(load, 0, set.Cells))
                {
                    answer[load] = saw + facing - Credit(set, area);
                    break;
                }
            }
        }

        return answer;
    }

    /// <summary>Kept offcuts at their value; the rest, chips and border too, is one piece of scrap.</summary>
    private long Credit(Kept set, Int128 pieces) =>
        set.Value + CostRules.Share(_sheet.ScrapWorth, _sheet.Whole - pieces - set.Area, _sheet.Whole);

    private bool Fits(int load, int from, UInt128 taken)
    {
        if (load == 0)
        {
            return true;
        }

        // The kinds one after the other, equal pieces in rising order of place.
        var kind = 0;
        while (_loads.Of(load, kind) == 0)
        {
            kind++;
        }

        var rest = load - _loads.One(kind);
        for (var place = from; place < _places[kind].Length; place++)
        {
            var cells = _places[kind][place];
            if ((cells & taken) == 0 && Fits(rest, _loads.Of(rest, kind) > 0 ? place + 1 : 0, taken | cells))
            {
                return true;
            }
        }

        return false;
    }

    private UInt128[] Places(SawnBlank? blank)
    {
        if (blank is null)
        {
            return [];
        }

        var places = new List<UInt128>();
        var (x, y) = (_sheet.Units(blank.X), _sheet.Units(blank.Y));
        Add(x, y);
        if (blank.Turns && x != y)
        {
            Add(y, x);
        }

        return [.. places];

        void Add(int sizeX, int sizeY)
        {
            for (var top = 0; top + sizeY <= _sheet.Y; top++)
            {
                for (var left = 0; left + sizeX <= _sheet.X; left++)
                {
                    // A gap to damage on every side.
                    var gap = _sheet.Kerf;
                    if (!_sheet.Damage.Any(damage => damage.Meets(left - gap, top - gap, sizeX + (2 * gap), sizeY + (2 * gap))))
                    {
                        places.Add(Cells(left, top, sizeX + gap, sizeY + gap));
                    }
                }
            }
        }
    }

    private List<Kept> Sets()
    {
        var single = new List<Kept>();
        for (var sizeX = 1; sizeX <= _sheet.X; sizeX++)
        {
            for (var sizeY = 1; sizeY <= _sheet.Y; sizeY++)
            {
                if (!CostRules.Keeps(_sheet.Rule, _sheet.Stock, _sheet.Long(sizeX), _sheet.Long(sizeY)))
                {
                    continue;
                }

                for (var x = 0; x + sizeX <= _sheet.X; x++)
                {
                    for (var y = 0; y + sizeY <= _sheet.Y; y++)
                    {
                        if (CostRules.KeptWithDamage(_sheet.Saw) || !_sheet.Damage.Any(damage => damage.Meets(x, y, sizeX, sizeY)))
                        {
                            single.Add(new(
                                Cells(x, y, sizeX + _sheet.Kerf, sizeY + _sheet.Kerf), _sheet.Credit(sizeX, sizeY), _sheet.Area(sizeX, sizeY)));
                        }
                    }
                }
            }
        }

        var sets = new List<Kept> { new(0, 0, 0) };
        Extend(sets[0], 0);
        return sets;

        void Extend(Kept set, int from)
        {
            for (var next = from; next < single.Count; next++)
            {
                if ((single[next].Cells & set.Cells) == 0)
                {
                    var more = new Kept(set.Cells | single[next].Cells, set.Value + single[next].Value, set.Area + single[next].Area);
                    sets.Add(more);
                    if (sets.Count > MostSets)
                    {
                        throw new TooLargeException($"{_sheet.Stock.Id} has too many sets of offcuts worth keeping.");
                    }

                    Extend(more, next + 1);
                }
            }
        }
    }

    private UInt128 Cells(int x, int y, int sizeX, int sizeY)
    {
        UInt128 cells = 0;
        for (var row = y; row < y + sizeY; row++)
        {
            for (var column = x; column < x + sizeX; column++)
            {
                cells |= UInt128.One << ((row * _columns) + column);
            }
        }

        return cells;
    }

    private readonly record struct Kept(UInt128 Cells, long Value, Int128 Area);
}
