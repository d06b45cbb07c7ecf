using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Plates;

namespace Nest.Solve.Choose;

/// <summary>Lays given pieces on one plate anew, in blocks of equal pieces, at the least cost found: few cuts, large offcuts.</summary>
/// <remarks>
/// The kernels look for plates that hold much; what the cuts cost and what the rest is worth they know only roughly. Here: best(w, h, a) is
/// the least cost of through-cuts that yield exactly the pieces a from a rectangle. A block of c × r equal pieces goes into the corner; the
/// first cut runs above it or right of it; what is still wanted is shared between the two rests. With several kinds a share is none or all of
/// a kind, but for one kind, of which it is any number. Depth first with a table, cut off by the number of rectangles looked at. Splits obey
/// the holding rule. Plates with stages, a direction of the first cut or damage are left alone. Deterministic. Guarantee: heuristic.
/// </remarks>
internal sealed class BlockLayouts
{
    private const int MostVisits = 6000;
    private const double Never = double.PositiveInfinity;

    /// <summary>Beyond the rounding of areas in floating point: what is ruled out by them is ruled out exactly too.</summary>
    private const double Slack = 1 + 1e-9;

    private readonly Component _component;
    private readonly int _stock;
    private readonly int[] _items;
    private readonly (long X, long Y, bool MayTurn)[] _sizes;
    private readonly long _kerf;
    private readonly long _held;
    private readonly long _longest;
    private readonly long _keepLong;
    private readonly long _keepShort;
    private readonly double _perCut;
    private readonly double _perUnit;
    private readonly double _keep;
    private readonly double _scrap;
    private readonly Dictionary<(long W, long H, long Counts), (double Cost, BlockChoice? Choice)> _known = [];
    private readonly BlockShares _shares;
    private int _visits;

    private BlockLayouts(Component component, Column column)
    {
        _component = component;
        _stock = column.Stock;
        var frame = component.Stocks[_stock];
        _items = [.. Enumerable.Range(0, component.Items).Where(i => column.Counts[i] > 0)];
        _sizes = [.. _items.Select(i => (component.SizeX(_stock, i), component.SizeY(_stock, i), component.Fits[_stock, i]!.MayTurn))];
        _kerf = component.Units(frame.Saw.Kerf);
        _shares = new(_sizes, _kerf);
        _held = component.Units(frame.Saw.ShortestHeld);
        _longest = frame.Saw.LargestCut is { } cut ? component.Units(cut) : long.MaxValue;
        _keepLong = frame.Rule is { } rule ? component.Units(rule.KeepLength) : long.MaxValue;
        _keepShort = frame.Rule is { } same ? component.Units(same.KeepWidth) : long.MaxValue;
        _perCut = (double)frame.SawRate.PerCut;
        _perUnit = (double)frame.SawRate.PerNanometre * component.Unit;

        // The sheet with its trims need not be whole units: nothing is cut at its outer edges.
        var sheet = (double)frame.Sheet.SizeX.Nanometres / component.Unit * frame.Sheet.SizeY.Nanometres / component.Unit;
        _keep = frame.Worth.Keep.Units / sheet;
        _scrap = frame.Worth.Scrap.Units / sheet;
    }

    /// <summary>The same pieces from the same stock for less; null when none was found. Remembered by the component.</summary>
    public static Column? Cheaper(Component component, Column column)
    {
        var frame = component.Stocks[column.Stock];
        if (frame.IsBar || frame.IsFree || frame.Stock.CutFor is not null || frame.Saw.Stages is not null || frame.Saw.FirstCut is not null
            || !frame.Stock.KeepOuts.IsEmpty || column.Counts.Count(n => n > 0) > 4 || column.Counts.Max() > 250)
        {
            return null;
        }

        var other = component.Blocks.GetOrAdd(column.Key, _ => new BlockLayouts(component, column).Solve(column));
        return other is { } found && found.Cost < column.Cost ? found : null;
    }

    private Column? Solve(Column column)
    {
        var frame = _component.Stocks[_stock];
        var (w, h) = (_component.Units(frame.Usable.SizeX), _component.Units(frame.Usable.SizeY));
        var counts = BlockShares.Pack([.. _items.Select(i => column.Counts[i])]);
        if (double.IsPositiveInfinity(Best(w, h, counts)))
        {
            return null;
        }

        var builder = new BlockTree(_sizes, _kerf, (w, h, counts) => _known[(w, h, counts)].Choice!.Value);
        var tree = builder.Build(new(0, 0, w, h), counts);
        return LayoutBuilder.Plate(_component, _stock, _items, new(_stock, 1, builder.Pieces, tree));
    }

    private double Cut(long length) => length > _longest ? Never : _perCut + (_perUnit * length);

    private double Worth(long w, long h) =>
        (Math.Max(w, h) >= _keepLong && Math.Min(w, h) >= _keepShort ? _keep : _scrap) * ((double)w * h);

    private double Best(long w, long h, long counts)
    {
        if (counts == 0)
        {
            return w <= 0 || h <= 0 ? 0 : -Worth(w, h);
        }

        if (w <= 0 || h <= 0 || !MayHold(w, h, counts))
        {
            return Never;
        }

        if (_known.TryGetValue((w, h, counts), out var known))
        {
            return known.Cost;
        }

        if (++_visits > MostVisits)
        {
            return Never;
        }

        var (best, choice) = (Never, (BlockChoice?)null);
        var most = _keep * (((double)w * h) - _shares.AreaOf(counts, 0));
        for (var kind = 0; kind < _sizes.Length; kind++)
        {
            var n = BlockShares.Count(counts, kind);
            for (var turned = 0; n > 0 && turned < (_sizes[kind].MayTurn && _sizes[kind].X != _sizes[kind].Y ? 2 : 1); turned++)
            {
                var (x, y) = turned == 0 ? (_sizes[kind].X, _sizes[kind].Y) : (_sizes[kind].Y, _sizes[kind].X);
                var mostColumns = Math.Min(n, (w + _kerf) / (x + _kerf));
                for (var columns = 1; columns <= mostColumns; columns++)
                {
                    var mostRows = Math.Min(n / columns, (h + _kerf) / (y + _kerf));
                    for (var rows = 1; rows <= mostRows; rows++)
                    {
                        var rest = counts - ((long)(columns * rows) << (8 * kind));
                        Try(new(kind, turned == 1, columns, rows, true, 0, 0), x, y, rest);
                        Try(new(kind, turned == 1, columns, rows, false, 0, 0), x, y, rest);
                    }
                }
            }
        }

        _known[(w, h, counts)] = (best, choice);
        return best;

        void Try(BlockChoice block, long x, long y, long rest)
        {
            // As if the first cut ran above the block; else with both directions exchanged.
            var (along, across, size, height) = block.Above ? (w, h, x, y) : (h, w, y, x);
            var (number, layers) = block.Above ? (block.Columns, block.Rows) : (block.Rows, block.Columns);
            var wide = Grown(size, number, _kerf);
            var high = Grown(height, layers, _kerf);
            var (beside, behind) = (along - wide, across - high);
            if ((layers > 1 && height < _held) || ((number > 1 || beside > 0) && Math.Max(size, beside - _kerf) < _held)
                || (behind > 0 && Math.Max(high, behind - _kerf) < _held))
            {
                return;
            }

            var cuts = ((number - 1) * Cut(high)) + (number * (layers - 1) * Cut(size))
                + (beside > 0 ? Cut(high) : 0) + (behind > 0 ? Cut(along) : 0);
            // What is no cheaper even if all that is not pieces were kept is not looked at.
            if (cuts - most >= best)
            {
                return;
            }

            var (room, behindRoom) = ((double)beside * (high + _kerf) * Slack, (double)(along + _kerf) * behind * Slack);
            var all = _shares.AreaOf(rest, _kerf);
            foreach (var (share, area) in _shares.Of(rest))
            {
                if (area > room || all - area > behindRoom)
                {
                    continue;
                }

                var first = block.Above ? Best(beside - _kerf, high, share) : Best(high, beside - _kerf, share);
                if (double.IsPositiveInfinity(first))
                {
                    continue;
                }

                var cost = cuts + first + (block.Above ? Best(along, behind - _kerf, rest - share) : Best(behind - _kerf, along, rest - share));
                if (cost < best)
                {
                    (best, choice) = (cost, block with { Beside = share, Behind = rest - share });
                }
            }
        }
    }

    /// <summary>So many pieces side by side with a kerf between them.</summary>
    public static long Grown(long size, int number, long kerf) => (number * (size + kerf)) - kerf;

    private bool MayHold(long w, long h, long counts)
    {
        Int128 area = 0;
        for (var k = 0; k < _sizes.Length; k++)
        {
            area += (Int128)BlockShares.Count(counts, k) * (_sizes[k].X + _kerf) * (_sizes[k].Y + _kerf);
        }

        return area <= (Int128)(w + _kerf) * (h + _kerf);
    }
}
