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

    public double Plate(int[] load)
    {
        var best = double.NegativeInfinity;
        for (var stays = 0; stays < 4; stays++)
        {
            if ((stays & ~shape.Raw.Mask) == 0)
            {
                _known.Clear();
                best = Math.Max(best, Worth(0, 0, shape.SizeX, shape.SizeY, load, stays, 0, null) - shape.Raw.Trims[stays]);
            }
        }

        return best;
    }

    private double Worth(int x, int y, int w, int h, int[] load, int stays, int stage, CutDirection? before)
    {
        if (load.Sum() == 0)
        {
            return (Math.Max(w, h) >= shape.KeepLong && Math.Min(w, h) >= shape.KeepShort ? shape.Prices.Keep : shape.Prices.Scrap) * w * h;
        }

        var key = (x, y, w, h, stage, before, load.Aggregate(0, (code, n) => (10 * code) + n));
        if (_known.TryGetValue(key, out var known))
        {
            return known;
        }

        var best = double.NegativeInfinity;
        var (right, top) = ((stays & 1) != 0 && x + w == shape.SizeX, (stays & 2) != 0 && y + h == shape.SizeY);
        var free = !damage.Any(spot => spot.X < x + w && x < spot.X + spot.SizeX && spot.Y < y + h && y < spot.Y + spot.SizeY);
        for (var k = 0; load.Sum() == 1 && free && !right && !top && k < load.Length; k++)
        {
            var piece = shape.Pieces[k];
            if (load[k] == 1 && ((w, h) == (piece.SizeX, piece.SizeY) || (piece.MayTurn && (w, h) == (piece.SizeY, piece.SizeX))))
            {
                best = -piece.Facing;
            }
        }

        foreach (var crosscut in new[] { true, false })
        {
            var direction = crosscut ? CutDirection.Crosscut : CutDirection.Rip;
            var (size, across) = crosscut ? (w, h) : (h, w);
            var own = stage + (direction == before ? 0 : 1);
            var isRoot = w == shape.SizeX && h == shape.SizeY;
            if (across > shape.Longest || (isRoot && shape.FirstCut is { } first && first != direction)
                || (stages is { } most && own > most && !(trimming && own == most + 1 && load.Sum() == 1)))
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
                    best = Math.Max(best, (crosscut ? Worth(x, y, extent, h, load, stays, own, direction) : Worth(x, y, w, extent, load, stays, own, direction)) - cost);
                    continue;
                }

                foreach (var share in PlateOracle.Shares(load))
                {
                    int[] other = [.. load.Zip(share, (all, some) => all - some)];
                    var one = crosscut ? Worth(x, y, extent, h, share, stays, own, direction) : Worth(x, y, w, extent, share, stays, own, direction);
                    if (one > double.NegativeInfinity)
                    {
                        best = Math.Max(best, one - cost + (crosscut
                            ? Worth(x + extent + shape.Kerf, y, rest, h, other, stays, own, direction)
                            : Worth(x, y + extent + shape.Kerf, w, rest, other, stays, own, direction)));
                    }
                }
            }
        }

        return _known[key] = best;
    }
}
