using System.Runtime.InteropServices;

namespace Nest.Solve.Exact;

/// <summary>Whether a plate can hold a load with no more than so much waste, whatever that costs.</summary>
/// <remarks>
/// Every part of such a layout has no more waste than the whole. Loads of no more than half a plate: from single pieces up each pair is laid side by side and one above the other, and of each load the smallest rectangles are kept
/// (<see cref="HoldingRectangles"/>). Larger ones from the plate down: of the two parts of a cut the smaller one is such a load and takes a strip as narrow as can be, which must be nearly full too; the rest holds what is left.
/// Held ends are seen, and the longest cut in the first half; damage, stages and the direction of the first cut are not. Areas are grown by a kerf each way, so that the parts of a cut fill what they came from. A load that is
/// said not to fit does not (relaxation). O(pairs of loads · rectangles), cut off; 32 pieces of five kinds with a waste of 3 % take two million pairs.
/// </remarks>
internal sealed class FullLoads
{
    /// <summary>Pairs between two looks at the clock; a power of two.</summary>
    private const long PairsBetween = 1 << 12;

    private readonly PlateShape _shape;
    private readonly PackedLoads _packed;
    private readonly long _waste;
    private readonly long _plate;
    private readonly Func<bool> _ends;
    private readonly List<Entry> _entries = [];
    private readonly Dictionary<ulong, Entry> _known = [];
    private readonly Dictionary<(int Across, bool AlongX), List<Strip>> _strips = [];
    private readonly Dictionary<(ulong Load, int W, int H), bool> _holds = [];

    /// <param name="waste">Most waste, grown by a kerf, in square units of the plate.</param>
    /// <param name="pairs">Pairs of loads that may be looked at.</param>
    /// <param name="ends">Asked now and then whether to stop.</param>
    public FullLoads(PlateShape shape, PackedLoads packed, long waste, long pairs, Func<bool> ends)
    {
        (_shape, _packed, _waste, Left, _ends) = (shape, packed, waste, pairs, ends);
        _plate = Grown(shape.SizeX, shape.SizeY);
        Fill();
    }

    /// <summary>Pairs of loads that may still be looked at.</summary>
    public long Left { get; private set; }

    /// <summary>Whether it was stopped before it had looked at everything: then it may hold anything.</summary>
    public bool IsBrokenOff => Left < 0;

    /// <summary>Counts a pair; false where it was one too many.</summary>
    private bool Goes()
    {
        if ((--Left & (PairsBetween - 1)) == 0 && _ends())
        {
            Left = -1;
        }

        return !IsBrokenOff;
    }

    /// <param name="Area">Of its pieces, grown by a kerf.</param>
    /// <param name="Waste">Least of its rectangles.</param>
    /// <param name="Rectangles">The narrowest first, each lower than the one before it.</param>
    private sealed record Entry(ulong Load, long Area, long Waste, (int W, int H)[] Rectangles);

    /// <summary>A load that takes a strip of some width right across a rectangle.</summary>
    private readonly record struct Strip(ulong Load, long Area, int Width, long Waste);

    /// <summary>Whether the plate may hold all of a load, which leaves no more than the waste.</summary>
    public bool MayHold(ulong load) => MayHold(load, AreaOf(load), _shape.SizeX, _shape.SizeY);

    /// <summary>Area of a load's pieces, grown by a kerf.</summary>
    private long AreaOf(ulong load)
    {
        var area = 0L;
        for (var k = 0; k < _shape.Pieces.Length; k++)
        {
            area += _packed.Has(k) ? _packed.CountOf(load, k) * Grown(_shape.Pieces[k].SizeX, _shape.Pieces[k].SizeY) : 0;
        }

        return area;
    }

    private bool MayHold(ulong load, long area, int w, int h)
    {
        var waste = Grown(w, h) - area;
        if (load == 0 || IsBrokenOff)
        {
            return true;
        }

        if (waste < 0 || w <= 0 || h <= 0)
        {
            return false;
        }

        if (_known.TryGetValue(load, out var known) || 2 * area <= _plate)
        {
            return known is not null && Array.Exists(known.Rectangles, sides => sides.W <= w && sides.H <= h);
        }

        if (!_holds.TryGetValue((load, w, h), out var holds))
        {
            holds = Parts(load, area, w, h, waste, alongX: true) || Parts(load, area, w, h, waste, alongX: false);
            _holds[(load, w, h)] = holds;
        }

        return holds;
    }

    /// <summary>Whether a strip taken off leaves room for the others.</summary>
    private bool Parts(ulong load, long area, int w, int h, long waste, bool alongX)
    {
        var length = alongX ? w : h;
        foreach (var strip in StripsOf(alongX ? h : w, alongX))
        {
            if (!Goes())
            {
                return true;
            }

            if (strip.Waste > waste)
            {
                return false;
            }

            if (2 * strip.Area <= area && _packed.IsPart(strip.Load, load))
            {
                // Of the two parts one is held.
                var rest = length - _shape.Kerf - strip.Width;
                rest = Math.Max(rest, strip.Width) >= _shape.Held ? rest : length - _shape.Kerf - _shape.Held;
                if (MayHold(load - strip.Load, area - strip.Area, alongX ? rest : w, alongX ? h : rest))
                {
                    return true;
                }
            }
        }

        return false;
    }

    /// <summary>The loads as strips across a rectangle, those with the least waste first.</summary>
    private List<Strip> StripsOf(int across, bool alongX)
    {
        if (!_strips.TryGetValue((across, alongX), out var strips))
        {
            strips = [];
            foreach (var entry in _entries)
            {
                Left--;
                var width = WidthOf(entry.Rectangles, across, alongX);
                if (width > 0 && Grown(width, across) - entry.Area is var waste && waste <= _waste)
                {
                    strips.Add(new(entry.Load, entry.Area, width, waste));
                }
            }

            strips.Sort((a, b) => a.Waste != b.Waste ? a.Waste.CompareTo(b.Waste) : a.Load.CompareTo(b.Load));
            _strips[(across, alongX)] = strips;
        }

        return strips;
    }

    /// <summary>Along X that of the narrowest that are no higher; along Y of the lowest that are no wider; 0: there is none.</summary>
    private static int WidthOf((int W, int H)[] rectangles, int across, bool alongX)
    {
        var least = 0;
        foreach (var (w, h) in rectangles)
        {
            if (alongX && h <= across)
            {
                return w;
            }

            least = !alongX && w <= across ? h : least;
        }

        return least;
    }

    /// <summary>Single pieces, and all loads of no more than half a plate, by their number of pieces.</summary>
    private void Fill()
    {
        var levels = new List<Entry[]> { Array.Empty<Entry>(), Singles() };
        var all = new List<(int W, int H)>();
        for (var n = 2; levels.Skip(n / 2).Any(level => level.Length > 0); n++)
        {
            var found = new Dictionary<ulong, (long Area, List<(int W, int H)> Rectangles)>();
            for (var few = 1; 2 * few <= n; few++)
            {
                foreach (var a in levels[few])
                {
                    foreach (var b in levels[n - few])
                    {
                        if (!Goes())
                        {
                            return;
                        }

                        var (load, area) = (a.Load + b.Load, a.Area + b.Area);
                        if (2 * area > _plate)
                        {
                            break;
                        }

                        if (!_packed.IsWithin(load) || a.Waste + b.Waste > _waste || (2 * few == n && a.Load > b.Load))
                        {
                            continue;
                        }

                        all.Clear();
                        HoldingRectangles.Join(_shape, a.Rectangles, b.Rectangles, area + _waste, all);
                        if (all.Count > 0)
                        {
                            ref var known = ref CollectionsMarshal.GetValueRefOrAddDefault(found, load, out var exists);
                            known = (area, exists ? known.Rectangles : []);
                            known.Rectangles.AddRange(all);
                        }
                    }
                }
            }

            levels.Add(Entries(found));
        }
    }

    private Entry[] Singles()
    {
        var found = new Dictionary<ulong, (long, List<(int, int)>)>();
        for (var k = 0; k < _shape.Pieces.Length; k++)
        {
            var piece = _shape.Pieces[k];
            var rectangles = piece.Rectangles().Where(sides => sides.X <= _shape.SizeX && sides.Y <= _shape.SizeY).Select(sides => (sides.X, sides.Y)).ToList();
            if (_packed.Has(k) && rectangles.Count > 0)
            {
                found[_packed.One(k)] = (Grown(piece.SizeX, piece.SizeY), rectangles);
            }
        }

        return Entries(found);
    }

    /// <summary>Loads of one number of pieces, the smallest first.</summary>
    private Entry[] Entries(Dictionary<ulong, (long Area, List<(int W, int H)> Rectangles)> found)
    {
        Entry[] entries = [.. found.Select(entry => new Entry(entry.Key, entry.Value.Area, entry.Value.Rectangles.Min(sides => Grown(sides.W, sides.H)) - entry.Value.Area, HoldingRectangles.Smallest(entry.Value.Rectangles)))
            .OrderBy(entry => entry.Area).ThenBy(entry => entry.Load)];
        foreach (var entry in entries)
        {
            _known[entry.Load] = entry;
        }

        _entries.AddRange(entries);
        return entries;
    }

    private long Grown(int w, int h) => ((long)w + _shape.Kerf) * ((long)h + _shape.Kerf);
}
