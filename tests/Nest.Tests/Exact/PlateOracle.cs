using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Solve.Exact;

namespace Nest.Tests.Exact;

/// <summary>What through-cuts can make of a plate, by trying a cut at every whole unit with every share of the pieces: no positions left out,
/// no values, no bounds. Money in grains, real (not rounded), as the cost model states it.</summary>
/// <remarks>Written anew from the rules: a split leaves something long enough to hold, no cut is longer than the saw's longest, the first cut
/// goes the saw's way; a rest narrower than a kerf is dust. Exponential; for plates of some tens of units.</remarks>
internal sealed class PlateOracle(PlateShape shape)
{
    private readonly Dictionary<(int W, int H, int Load, bool Right, bool Top), double> _known = [];
    private readonly Dictionary<int, List<(int[] Share, int[] Other)>> _ways = [];

    /// <summary>Most that the plate is worth with this load: its raw right and top edge are cut off or stay, whichever is best.</summary>
    public double Plate(int[] load)
    {
        var best = double.NegativeInfinity;
        foreach (var right in shape.Raw.Right > 0 ? new[] { false, true } : [false])
        {
            foreach (var top in shape.Raw.Top > 0 ? new[] { false, true } : [false])
            {
                best = Math.Max(best, Worth(shape.SizeX, shape.SizeY, load, shape.FirstCut, right, top) - shape.Raw.Trims[(right ? 1 : 0) + (top ? 2 : 0)]);
            }
        }

        return best;
    }

    /// <summary>Most that a rectangle is worth from which exactly these pieces are cut; minus infinity: they cannot be.</summary>
    /// <param name="right">It reaches a raw right edge that stays: no blank may lie there, and cuts run on through it.</param>
    /// <param name="top">The same above.</param>
    public double Worth(int w, int h, int[] load, CutDirection? only = null, bool right = false, bool top = false)
    {
        var code = 0;
        var (pieces, area) = (0, 0);
        for (var k = 0; k < load.Length; k++)
        {
            code = (code * 64) + load[k];
            pieces += load[k];
            area += load[k] * shape.Pieces[k].SizeX * shape.Pieces[k].SizeY;
        }

        if (area > w * h)
        {
            return double.NegativeInfinity; // more than there is
        }

        if (only is null && _known.TryGetValue((w, h, code, right, top), out var known))
        {
            return known;
        }

        var best = double.NegativeInfinity;
        if (pieces == 0)
        {
            var kept = Math.Max(w, h) >= shape.KeepLong && Math.Min(w, h) >= shape.KeepShort;
            best = (kept ? shape.Prices.Keep : shape.Prices.Scrap) * w * h;
        }

        for (var k = 0; k < load.Length; k++)
        {
            var piece = shape.Pieces[k];
            if (!right && !top && pieces == 1 && load[k] == 1 && ((piece.SizeX, piece.SizeY) == (w, h) || (piece.MayTurn && (piece.SizeY, piece.SizeX) == (w, h))))
            {
                best = Math.Max(best, -piece.Facing);
            }
        }

        if (only != CutDirection.Rip && h <= shape.Longest)
        {
            for (var x = 1; x < w; x++)
            {
                Cut(x, h, w - shape.Kerf - x, h, Math.Max(x, w - shape.Kerf - x), h + (top ? shape.Raw.Top : 0), (false, top));
            }
        }

        if (only != CutDirection.Crosscut && w <= shape.Longest)
        {
            for (var y = 1; y < h; y++)
            {
                Cut(w, y, w, h - shape.Kerf - y, Math.Max(y, h - shape.Kerf - y), w + (right ? shape.Raw.Right : 0), (right, false));
            }
        }

        if (only is null)
        {
            _known[(w, h, code, right, top)] = best;
        }

        return best;

        void Cut(int aw, int ah, int bw, int bh, int longest, double length, (bool Right, bool Top) first)
        {
            if (longest < shape.Held)
            {
                return;
            }

            var cost = shape.Prices.PerCut + (shape.Prices.PerUnit * length);
            if (bw <= 0 || bh <= 0)
            {
                best = Math.Max(best, Worth(aw, ah, load, null, first.Right, first.Top) - cost);
                return;
            }

            if (!_ways.TryGetValue(code, out var ways))
            {
                _ways[code] = ways = [.. Shares(load).Select(share => (share, load.Zip(share, (all, part) => all - part).ToArray()))];
            }

            foreach (var (share, other) in ways)
            {
                var worth = Worth(aw, ah, share, null, first.Right, first.Top);
                if (worth > double.NegativeInfinity)
                {
                    best = Math.Max(best, worth + Worth(bw, bh, other, null, right, top) - cost);
                }
            }
        }
    }

    /// <summary>All loads up to this one.</summary>
    public static IEnumerable<int[]> Shares(int[] load)
    {
        var share = new int[load.Length];
        while (true)
        {
            yield return (int[])share.Clone();
            var at = 0;
            while (at < load.Length && share[at] == load[at])
            {
                share[at++] = 0;
            }

            if (at == load.Length)
            {
                yield break;
            }

            share[at]++;
        }
    }
}
