using Nest.Core.Plans;
using Nest.Solve.Exact;
using Nest.Solve.Plates;

namespace Nest.Tests.Exact;

/// <summary>One plate with damage and a limit on stages: the best layout of a load, by trying every cut at every unit. Written without any code of the solver.</summary>
/// <remarks>Regions are known by their place. A cut in another direction than the one that made the region is a stage more; a trimming cut may free a
/// single piece beyond the last. A raw right or top edge that stays reaches as far as the region does.</remarks>
internal sealed class StrictOracle(PlateShape shape, PlateRect[] damage, int? stages, bool trimming)
{
    private readonly Dictionary<(int X, int Y, int W, int H, int Stage, CutDirection? Before, int Load), double> _known = [];
    private readonly List<(int[] Counts, int Pieces, int Area, List<(int Share, int Other)> Ways)> _loads = [];

    public double Plate(int[] load)
    {
        var all = PlateOracle.Shares(load).ToList();
        var number = all.Select((counts, at) => (Key: string.Join(',', counts), at)).ToDictionary(one => one.Key, one => one.at, StringComparer.Ordinal);
        _loads.Clear();
        _loads.AddRange(all.Select(counts => (counts, counts.Sum(), counts.Select((n, k) => n * shape.Pieces[k].SizeX * shape.Pieces[k].SizeY).Sum(), PlateOracle.Shares(counts)
            .Select(share => (number[string.Join(',', share)], number[string.Join(',', counts.Zip(share, (whole, some) => whole - some))])).ToList())));
        var best = double.NegativeInfinity;
        for (var stays = 0; stays < 4; stays++)
        {
            if ((stays & ~shape.Raw.Mask) == 0)
            {
                _known.Clear();
                best = Math.Max(best, Worth(0, 0, shape.SizeX, shape.SizeY, number[string.Join(',', load)], stays, 0, null) - shape.Raw.Trims[stays]);
            }
        }

        return best;
    }

    private double Worth(int x, int y, int w, int h, int load, int stays, int stage, CutDirection? before)
    {
        var (counts, pieces, area, ways) = _loads[load];
        if (area > w * h)
        {
            return double.NegativeInfinity; // more than there is
        }

        if (pieces == 0)
        {
            return (Math.Max(w, h) >= shape.KeepLong && Math.Min(w, h) >= shape.KeepShort ? shape.Prices.Keep : shape.Prices.Scrap) * w * h;
        }

        var key = (x, y, w, h, stage, before, load);
        if (_known.TryGetValue(key, out var known))
        {
            return known;
        }

        var best = double.NegativeInfinity;
        var (right, top) = ((stays & 1) != 0 && x + w == shape.SizeX, (stays & 2) != 0 && y + h == shape.SizeY);
        var free = !damage.Any(spot => spot.X < x + w && x < spot.X + spot.SizeX && spot.Y < y + h && y < spot.Y + spot.SizeY);
        for (var k = 0; pieces == 1 && free && !right && !top && k < counts.Length; k++)
        {
            var piece = shape.Pieces[k];
            if (counts[k] == 1 && ((w, h) == (piece.SizeX, piece.SizeY) || (piece.MayTurn && (w, h) == (piece.SizeY, piece.SizeX))))
            {
                best = -piece.Facing;
            }
        }

        foreach (var crosscut in new[] { true, false })
        {
            var direction = crosscut ? CutDirection.Crosscut : CutDirection.Rip;
            var (size, across) = crosscut ? (w, h) : (h, w);
            // Where stages are not limited nothing depends on their number.
            var (own, last) = stages is null ? (0, (CutDirection?)null) : (stage + (direction == before ? 0 : 1), direction);
            var isRoot = w == shape.SizeX && h == shape.SizeY;
            if (across > shape.Longest || (isRoot && shape.FirstCut is { } first && first != direction)
                || (stages is { } most && own > most && !(trimming && own == most + 1 && pieces == 1)))
            {
                continue;
            }

            var length = across + (crosscut ? top ? shape.Raw.Top : 0 : right ? shape.Raw.Right : 0);
            var cost = shape.Prices.PerCut + (shape.Prices.PerUnit * length);
            for (var extent = 1; extent < size; extent++)
            {
                var rest = size - shape.Kerf - extent;
                if (Math.Max(extent, rest) < shape.Held)
                {
                    continue;
                }

                if (rest <= 0)
                {
                    best = Math.Max(best, (crosscut ? Worth(x, y, extent, h, load, stays, own, last) : Worth(x, y, w, extent, load, stays, own, last)) - cost);
                    continue;
                }

                foreach (var (share, other) in ways)
                {
                    var one = crosscut ? Worth(x, y, extent, h, share, stays, own, last) : Worth(x, y, w, extent, share, stays, own, last);
                    if (one > double.NegativeInfinity)
                    {
                        best = Math.Max(best, one - cost + (crosscut
                            ? Worth(x + extent + shape.Kerf, y, rest, h, other, stays, own, last)
                            : Worth(x, y + extent + shape.Kerf, w, rest, other, stays, own, last)));
                    }
                }
            }
        }

        return _known[key] = best;
    }
}
