using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>Joins the partial loads of smaller rectangles to those of a larger one; each thread has its own.</summary>
/// <remarks>
/// Parallel strips can be cut off one by one in any order, at the same cost. So of all orders only one is looked at: the narrowest strip first, which keeps the most to hold. A partial load
/// therefore knows the narrowest strip of the cuts that it begins with, and takes only strips no wider; what begins with a cut in the same direction is no strip. That no cut needs another
/// order: each leaves what is held at least as large as the widest strip, and one of any two strips that are parted last is held. All strips but one end where their own pieces do
/// (<see cref="CutPositions"/>), so every cut of every order has a side that does.
/// </remarks>
/// <param name="labels">By staying edges, X and Y.</param>
/// <param name="ends">Asked now and then whether to stop.</param>
internal sealed class LoadJoiner(WorthTable table, PackedLoads packed, LoadLabel[]?[]?[][] labels, Func<bool> ends)
{
    /// <summary>Pairs between two looks at the clock.</summary>
    private const long PairsBetween = 2_000_000;

    private readonly PlateShape _shape = table.Shape;
    private readonly CutRules _rules = table.Rules;

    /// <summary>The partial loads of the last rectangle.</summary>
    public LoadSums Sums { get; } = new();

    /// <summary>Pairs that were looked at so far.</summary>
    public long Joins { get; private set; }

    /// <summary>Pairs beyond which it stops at once.</summary>
    public long Most { get; set; }

    private long _asked;

    private bool IsOver
    {
        get
        {
            if (Joins - _asked > PairsBetween)
            {
                _asked = Joins;
                Most = ends() ? -1 : Most;
            }

            return Joins > Most;
        }
    }

    /// <summary>Finds the partial loads of one rectangle that are worth at least this much, in grains.</summary>
    public void Join(Cell cell, int least)
    {
        Sums.Clear();
        var (w, h, raw) = (cell.W, cell.H, cell.Raw);
        Offer(0, _shape.Worth(w, h), least, w, h);
        for (var i = 0; raw == 0 && i < table.Net.Length; i++)
        {
            if (_rules.IsPiece(i, w, h, out _) && packed.Has(i))
            {
                Offer(packed.One(i), table.Net[i], least, w, h);
            }
        }

        if (_rules.MayHold(w, h))
        {
            var only = w == _shape.SizeX && h == _shape.SizeY ? _shape.FirstCut : null;
            if (only != CutDirection.Rip && _rules.Crosscut(h, raw) is >= 0 and var crosscut)
            {
                Crosscuts(cell, crosscut, least);
            }

            if (only != CutDirection.Crosscut && _rules.Rip(w, raw) is >= 0 and var rip)
            {
                Rips(cell, rip, least);
            }
        }
    }

    private void Crosscuts(Cell cell, int cost, int least)
    {
        var (w, h, kerf, held) = (cell.W, cell.H, _shape.Kerf, _shape.Held);
        foreach (var (touching, touched) in CutRules.Touching(cell.Raw, 1))
        {
            var (first, second) = (labels[touching], labels[touched]);
            var (greater, smaller) = (table.Columns(touching)[h], table.Columns(touched)[h]);
            for (int x = 1, rest = w - kerf - 1; x <= rest && rest >= held && rest >= _rules.LeastX; x++, rest--)
            {
                if (greater[rest] + smaller[x] - cost >= least && (_rules.AtX[x] || _rules.AtX[rest]) && first[rest]?[h] is { } rests && second[x]?[h] is { } strips)
                {
                    Part(rests, strips, cost, least, x, crosscut: true, h);
                }
            }
        }

        for (var (x, end) = (Math.Max(1, Math.Max(w - kerf, held)), w - _rules.LeastDust((cell.Raw & 1) != 0)); x <= end; x++)
        {
            Dust(labels[cell.Raw & ~1][x]?[h], cost, least, cell);
        }
    }

    private void Rips(Cell cell, int cost, int least)
    {
        var (w, h, kerf, held) = (cell.W, cell.H, _shape.Kerf, _shape.Held);
        foreach (var (touching, touched) in CutRules.Touching(cell.Raw, 2))
        {
            if (labels[touching][w] is { } first && labels[touched][w] is { } second)
            {
                var (greater, smaller) = (table.Rows(touching)[w], table.Rows(touched)[w]);
                for (int y = 1, rest = h - kerf - 1; y <= rest && rest >= held && rest >= _rules.LeastY; y++, rest--)
                {
                    if (greater[rest] + smaller[y] - cost >= least && (_rules.AtY[y] || _rules.AtY[rest]) && first[rest] is { } rests && second[y] is { } strips)
                    {
                        Part(rests, strips, cost, least, y, crosscut: false, w);
                    }
                }
            }
        }

        for (var (y, end) = (Math.Max(1, Math.Max(h - kerf, held)), h - _rules.LeastDust((cell.Raw & 2) != 0)); y <= end; y++)
        {
            Dust(labels[cell.Raw & ~2][w]?[y], cost, least, cell);
        }
    }

    private void Offer(ulong load, int worth, int least, int stripX, int stripY)
    {
        if (worth >= least)
        {
            Sums.Offer(load, worth, stripX, stripY);
        }
    }

    /// <summary>A cut whose rest is dust: what it leaves counts as one strip.</summary>
    private void Dust(LoadLabel[]? own, int cost, int least, Cell cell)
    {
        foreach (var label in own ?? [])
        {
            if (label.Worth - cost < least)
            {
                break;
            }

            Offer(label.Load, label.Worth - cost, least, cell.W, cell.H);
        }
    }

    /// <summary>Cuts that take a strip off.</summary>
    /// <param name="crosscut">Whether they are crosscuts; else rips.</param>
    /// <param name="whole">Extent of the rectangle along the strip.</param>
    private void Part(LoadLabel[] rests, LoadLabel[] strips, int cost, int least, int strip, bool crosscut, int whole)
    {
        var (top, stripX, stripY) = (rests[0].Worth, crosscut ? strip : whole, crosscut ? whole : strip);
        foreach (var b in strips)
        {
            var needed = least - b.Worth + cost;
            if (top < needed || IsOver)
            {
                break;
            }

            if ((crosscut ? b.StripX : b.StripY) == strip)
            {
                foreach (var a in rests)
                {
                    if (a.Worth < needed)
                    {
                        break;
                    }

                    Joins++;
                    var load = a.Load + b.Load;
                    if ((crosscut ? a.StripX : a.StripY) >= strip && packed.IsWithin(load))
                    {
                        Sums.Offer(load, a.Worth + b.Worth - cost, stripX, stripY);
                    }
                }
            }
        }
    }
}
