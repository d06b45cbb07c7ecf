using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>One bar: the cost of each load.</summary>
/// <remarks>The order of the pieces changes nothing. What is left behind the last piece is one offcut: two would lose a kerf between
/// them, are worth no more together and hold no better. O(loads).</remarks>
internal static class BarTable
{
    /// <summary>As <see cref="ThroughCutTable.Solve"/>.</summary>
    public static long[] Solve(Job job, Stock stock, Saw saw, Material material, IReadOnlyList<SawnBlank?> blanks, LoadSpace loads)
    {
        var answer = new long[loads.Count];
        var trims = CostRules.Trims(saw, stock);
        var usable = stock.MinLength - trims.Left - trims.Right;
        var rule = CostRules.KeepRule(job, stock);
        var (keep, scrap) = (CostRules.KeepWorth(job, stock, material), CostRules.ScrapWorth(stock, material));
        var trimmed = CostRules.TrimsBar(trims, stock);
        var metal = stock.MinLength - (trimmed ? trims.Left : Length.Zero);
        var cut = CostRules.Rounded(CostRules.Sawing(saw, material, 1, CostRules.Section(stock)));
        var ofTrims = Scrap(trims.Left - saw.Kerf) + Scrap(trims.Right - saw.Kerf);
        for (var load = 0; load < answer.Length; load++)
        {
            answer[load] = Of(load);
        }

        return answer;

        long Of(int load)
        {
            var pieces = loads.Totals[load];
            if (pieces == 0 || (CostRules.LimitsPieces(saw) && pieces > (saw.MostPieces ?? pieces)) || usable <= Length.Zero)
            {
                return ThroughCutTable.Never;
            }

            var rest = usable + saw.Kerf;
            var longest = Length.Zero;
            var cost = cut * (pieces + (trimmed ? 1 : 0));
            var behind = metal;
            var isShort = false;
            for (var kind = 0; kind < blanks.Count; kind++)
            {
                var count = loads.Of(load, kind);
                if (count == 0)
                {
                    continue;
                }

                if (blanks[kind] is not { } blank)
                {
                    return ThroughCutTable.Never;
                }

                rest -= (blank.X + saw.Kerf) * count;
                longest = Length.Max(longest, blank.X);
                if (blank.X < saw.ShortestHeld)
                {
                    isShort = true;
                    behind -= (blank.X + saw.Kerf) * count;
                }

                cost += (blank.Facing + blank.Angled) * count;
            }

            // Of what lies behind the last piece a cut takes a kerf.
            if (rest < Length.Zero)
            {
                return ThroughCutTable.Never;
            }

            var offcut = Length.Max(Length.Zero, rest - saw.Kerf);
            // At each cut the blank or all that is still behind it is held; so the short blanks come first.
            if (Length.Max(longest, offcut) < saw.ShortestHeld || (isShort && behind < saw.ShortestHeld))
            {
                return ThroughCutTable.Never;
            }

            return cost - ofTrims - (CostRules.Keeps(rule, stock, offcut, stock.MinWidth)
                ? CostRules.Share(keep, offcut.Nanometres, stock.MinLength.Nanometres)
                : Scrap(offcut));
        }

        long Scrap(Length length) => length <= Length.Zero ? 0 : CostRules.Share(scrap, length.Nanometres, stock.MinLength.Nanometres);
    }
}
