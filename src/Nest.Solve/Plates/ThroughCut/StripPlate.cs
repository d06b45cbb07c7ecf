namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Fills one plate with dense strips.</summary>
/// <remarks>Problem: max Σ value of strips whose breadths sum to at most the plate's size, all within the copies left. Method: a pool
/// with the best strip of every breadth; knapsack over the breadths; the densest of the chosen strips are taken as long as copies are
/// left, strips that this makes impossible are made anew, and the rest of the plate is chosen again. Strips that stay possible are kept
/// from plate to plate. Heuristic.</remarks>
internal sealed class StripPlate(ThroughModel model, int stock, byte direction)
{
    private const int MostPoints = 2048;

    private readonly StripMaker _maker = new(model, stock, direction);
    private readonly Dictionary<long, Strip?> _pool = [];
    private double[] _values = [];
    private long _chosen;

    /// <summary>Work done so far in units of roughly a microsecond.</summary>
    public long Work => _maker.Work + _chosen;

    /// <summary>New values: all strips are made anew.</summary>
    public void Value(double[] values)
    {
        _values = values;
        _pool.Clear();
    }

    /// <summary>Fills a plate; null where nothing fits or the saw's rules forbid it.</summary>
    public (CutSheet Sheet, double Value)? Fill(ReadOnlySpan<int> left)
    {
        var copies = left.ToArray();
        var unit = Math.Max(1, (_maker.Room + MostPoints - 1) / MostPoints);
        var room = (int)(_maker.Room / unit);
        var strips = new List<Strip>();
        while (room > 0)
        {
            var chosen = Choose(copies, room, unit);
            if (chosen.Count == 0)
            {
                break;
            }

            foreach (var strip in chosen)
            {
                if (!strip.Within(copies))
                {
                    break;
                }

                strip.Take(copies);
                strips.Add(strip);
                room -= (int)((strip.Breadth + unit - 1) / unit);
            }
        }

        if (strips.Count == 0)
        {
            return null;
        }

        var sheet = model.Blank[stock][0].Clone();
        return sheet.Build(model, Pattern(strips)) ? (sheet, strips.Sum(s => s.Value)) : null;
    }

    /// <summary>The best strips for the room left, each breadth once, the densest first.</summary>
    private List<Strip> Choose(int[] copies, int room, long unit)
    {
        var strips = new List<Strip>();
        foreach (var breadth in _maker.Breadths)
        {
            if ((breadth + unit - 1) / unit > room)
            {
                break;
            }

            if (!_pool.TryGetValue(breadth, out var strip) || (strip is not null && !strip.Within(copies)))
            {
                strip = _maker.Make(breadth, _values, copies);
                _pool[breadth] = strip;
            }

            if (strip is not null)
            {
                strips.Add(strip);
            }
        }

        var best = new double[room + 1];
        var taken = new bool[strips.Count, room + 1];
        _chosen += 1 + ((long)strips.Count * room / 500);
        for (var s = 0; s < strips.Count; s++)
        {
            var size = (int)((strips[s].Breadth + unit - 1) / unit);
            for (var c = room; c >= size; c--)
            {
                var with = best[c - size] + strips[s].Value;
                if (with > best[c])
                {
                    best[c] = with;
                    taken[s, c] = true;
                }
            }
        }

        var chosen = new List<Strip>();
        var at = room;
        for (var s = strips.Count - 1; s >= 0; s--)
        {
            if (taken[s, at])
            {
                chosen.Add(strips[s]);
                at -= (int)((strips[s].Breadth + unit - 1) / unit);
            }
        }

        return [.. chosen.OrderByDescending(s => s.Value / s.Breadth).ThenBy(s => s.Breadth)];
    }

    /// <summary>Strips, in them columns, in them stacks, as binary cuts. A rest after the last part is cut off like a part, in the
    /// stage of its brothers: trimmed the other way first it would take a stage more.</summary>
    private GuillotineCut Pattern(List<Strip> strips)
    {
        var across = direction == CutSheet.Along ? CutSheet.Across : CutSheet.Along;
        return Joined(direction, direction == CutSheet.Along ? model.StockWidth[stock] : model.StockHeight[stock], strips.Select(strip =>
        {
            var columns = strip.Columns.SelectMany(entry => Enumerable.Repeat(Stack(entry.Column), entry.Count)).ToList();
            return Joined(across, columns.Max(column => direction == CutSheet.Along ? column.Height : column.Width), columns);
        }));
    }

    private GuillotineCut Stack(StripColumn column)
    {
        var pieces = Enumerable.Repeat(GuillotineCut.Piece(model, column.Item, column.Turned), column.Stack);
        return Joined(direction, column.Length, column.Other < 0 ? pieces : pieces.Append(GuillotineCut.Piece(model, column.Other, column.OtherTurned)));
    }

    /// <param name="size">Size of the whole along the cuts.</param>
    private static GuillotineCut Joined(byte direction, long size, IEnumerable<GuillotineCut> parts)
    {
        var joined = GuillotineCut.Nothing;
        foreach (var part in parts.Reverse())
        {
            joined = direction == CutSheet.Across
                ? new GuillotineCut(-1, false, direction, part.Width, part.Width + joined.Width, size, part, joined)
                : new GuillotineCut(-1, false, direction, part.Height, size, part.Height + joined.Height, part, joined);
        }

        return joined;
    }
}
