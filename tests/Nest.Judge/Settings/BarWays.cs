using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge.Enumeration;

namespace Nest.Judge.Settings;

/// <summary>All orders in which the blanks of a load can be cut from one bar, and what is set in each.</summary>
/// <remarks>From the clean end, blank after blank to the stop, the rest last; where both ends are raw one is first cut off at a mark; a blank behind which less remains than the vise holds is
/// cut at a mark. Then the angled ends, by angle and within it the longest measure first. Exact; O(pieces!).</remarks>
internal static class BarWays
{
    /// <param name="cost">Of the load, whatever the order.</param>
    public static IEnumerable<CutWay> Of(Job job, Stock stock, Saw saw, SawnBlank?[] blanks, LoadSpace loads, int load, long cost)
    {
        var trims = CostRules.Trims(saw, stock);
        var trimmed = CostRules.TrimsBar(trims, stock);
        var left = Enumerable.Range(0, blanks.Length).Select(kind => loads.Of(load, kind)).ToArray();
        var ends = Enumerable.Range(0, blanks.Length).Where(kind => left[kind] > 0 && blanks[kind]!.Ends is not null)
            .SelectMany(kind => Ends(job, saw, blanks[kind]!)).Distinct()
            .OrderBy(stop => stop.Angle).ThenByDescending(stop => stop.Measure).ToList();
        var ways = new List<CutWay>();
        var stops = new List<StopAt>();
        Next(loads.Totals[load], stock.MinLength - (trimmed ? trims.Left : Length.Zero), trimmed ? 1 : 0);
        return ways;

        void Next(int pieces, Length metal, int marks)
        {
            if (pieces == 0)
            {
                ways.Add(CutWay.Of(cost, marks, [.. stops, .. ends]));
                return;
            }

            for (var kind = 0; kind < left.Length; kind++)
            {
                if (left[kind] == 0)
                {
                    continue;
                }

                var size = blanks[kind]!.X;
                var rest = Length.Max(Length.Zero, metal - size - saw.Kerf);
                if (Length.Max(size, rest) < saw.ShortestHeld)
                {
                    continue;
                }

                var marked = rest < saw.ShortestHeld;
                left[kind]--;
                stops.AddRange(marked ? [] : [new StopAt(CutDirection.Crosscut, size, 0)]);
                Next(pieces - 1, rest, marks + (marked ? 1 : 0));
                stops.RemoveRange(stops.Count - (marked ? 0 : 1), marked ? 0 : 1);
                left[kind]++;
            }
        }
    }

    /// <summary>The flatter end first, measured from the square one; then the other.</summary>
    private static IEnumerable<StopAt> Ends(Job job, Saw saw, SawnBlank blank)
    {
        var measure = blank.X;
        foreach (var angle in new[] { blank.Ends!.Start, blank.Ends.End }.OrderBy(angle => Math.Abs(angle.Thousandths)))
        {
            if (angle.Thousandths != 0)
            {
                measure -= AngledEnds.Taken(angle, saw, job);
                yield return new(CutDirection.Crosscut, measure, Math.Abs(angle.Thousandths));
            }
        }
    }
}
