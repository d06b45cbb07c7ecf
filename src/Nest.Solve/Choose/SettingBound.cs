using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>What setting fence and stop costs at least, in every plan that cuts all blanks.</summary>
/// <remarks>
/// On one saw, settings less those carried over are no fewer than the different positions of the stop that are needed at all.
/// Bars: every blank is cut to the stop, or at a mark, at its own length; a blank that comes from nothing but bars on one saw, always at one
/// length, needs that position there, and one for each angled end (blanks that also come cut to size, from plates or at other lengths are not counted). Beside them each
/// bar without a clean end takes a mark of its own, which is never carried over: one for each set of stocks that some such blank must come
/// from, sets that have no stock in common.
/// Plates: a blank that comes from nothing but plates on one saw, each larger than it in a direction, takes at least one position there for
/// that direction. At most its first stop is carried over to a layout, so one in which blanks are smaller both ways has a setting of its own: with d
/// sets of stocks that some such blank must come from, sets that have no stock in common, there are d layouts with two settings each, and the first layout of
/// all is carried over nothing: d + 1.
/// Nothing is counted on cutters. O(blanks · stocks).
/// </remarks>
internal static class SettingBound
{
    /// <summary>What it adds to the source of a bound.</summary>
    public const string Name = "settings that cannot be avoided";

    public static Money Of(Job job, ImmutableArray<Blank> blanks)
    {
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var positions = new HashSet<(string Saw, int Kind, StopPosition Position)>();
        var marks = new List<(string Saw, HashSet<string> Stocks)>();
        var plates = new List<(string Saw, HashSet<string> Stocks)>();
        foreach (var blank in blanks.Where(blank => blank.Demand > 0 && blank.Fits.Length > 0).OrderBy(blank => blank.Fits.Length))
        {
            var fits = blank.Fits.Select(fit => (Fit: fit, Stock: stocks[fit.StockId], Saw: job.SawFor(stocks[fit.StockId]))).ToList();
            if (fits.Any(one => one.Saw is null || one.Stock.CutFor is not null || one.Saw.Id != fits[0].Saw!.Id)
                || fits[0].Saw!.Kind == SawKind.Cutter || fits.Any(one => one.Stock.Form.IsBar() != fits[0].Stock.Form.IsBar()))
            {
                continue;
            }

            var saw = fits[0].Saw!;
            if (!fits[0].Stock.Form.IsBar())
            {
                var inX = fits.All(one => Length.Max(one.Fit.SizeX, one.Fit.MayTurn ? one.Fit.SizeY : Length.Zero) < one.Stock.MinLength);
                var inY = fits.All(one => Length.Max(one.Fit.SizeY, one.Fit.MayTurn ? one.Fit.SizeX : Length.Zero) < one.Stock.MinWidth);
                if (inX)
                {
                    positions.Add((saw.Id, 0, default));
                }

                if (inY)
                {
                    positions.Add((saw.Id, 1, default));
                }

                if (inX && inY)
                {
                    AddApart(plates, saw.Id, fits.Select(one => one.Stock.Id));
                }

                continue;
            }

            if (fits.All(one => one.Fit.SizeX == fits[0].Fit.SizeX))
            {
                var (size, ends) = (fits[0].Fit.SizeX, fits[0].Fit.Ends);
                positions.Add((saw.Id, 2, new(CutDirection.Crosscut, size, Angle.Square)));
                if (ends is not null && fits.All(one => one.Fit.Ends == ends))
                {
                    positions.UnionWith(LayoutSettings.OfEnds(size, ends, saw, job.Unit).Select(position => (saw.Id, 2, position)));
                }
            }

            if (fits.All(one => saw.TrimsOn(one.Stock) is var trims && trims.Left > Length.Zero && !one.Stock.CleanEdges.Right))
            {
                AddApart(marks, saw.Id, fits.Select(one => one.Stock.Id));
            }
        }

        // Of d plates apart one setting is among the two positions already.
        var further = plates.GroupBy(set => set.Saw, StringComparer.Ordinal).SelectMany(sets => sets.Skip(1)).Select(set => set.Saw);
        var prices = job.Saws.ToDictionary(saw => saw.Id, SettingCosts.One, StringComparer.Ordinal);
        return positions.Select(position => position.Saw).Concat(marks.Select(mark => mark.Saw)).Concat(further)
            .Aggregate(Money.Zero, (sum, saw) => sum + prices[saw]);
    }

    /// <summary>Adds stocks of which at least one is cut, unless some of them are in a set already.</summary>
    private static void AddApart(List<(string Saw, HashSet<string> Stocks)> sets, string saw, IEnumerable<string> stocks)
    {
        var own = stocks.ToHashSet(StringComparer.Ordinal);
        if (sets.All(set => !set.Stocks.Overlaps(own)))
        {
            sets.Add((saw, own));
        }
    }
}
