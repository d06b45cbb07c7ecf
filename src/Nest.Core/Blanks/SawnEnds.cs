using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>Which parts' angled ends the saw makes, and what they need along the bar.</summary>
/// <remarks>
/// The saw makes them where a part is cut from a bar in the shop and its ends stay as sawn: no end clean-up, no grip for a chuck. From
/// plate, cut to size by a supplier, or with ends that are milled afterwards, the blank is the rectangle long point to long point.
/// <para>A blank with angled ends is parted square and then cut at the angle at both ends, within its own length: long point to long point
/// and kerf ÷ cos for each angled cut (<see cref="Angle.Taken"/>). Neighbours never share the slope of a cut, though matching ones could; so the length is
/// always enough, and every plan and bound is exact for this way of working.</para>
/// </remarks>
internal static class SawnEnds
{
    /// <summary>The angles that are sawn; null: square.</summary>
    public static EndAngles? Of(Part part, Allowances allowances, Stock stock, Saw saw) =>
        part.Ends is { Cuts: > 0 } ends && stock.Form.IsBar() && saw.Id != Saw.SupplierId && AsSawn(part, allowances) ? ends : null;

    /// <summary>Whether the part's ends stay as the saw leaves them.</summary>
    public static bool AsSawn(Part part, Allowances allowances) => allowances.EndCleanUp == Length.Zero
        && !(part.Round && part.Holding == Holding.Chuck && allowances.Grip > Length.Zero);

    /// <summary>The ways along the bar, each with its angled cuts.</summary>
    public static ImmutableArray<PartWay> Ways(ImmutableArray<PartWay> ways, EndAngles ends, Saw saw, LengthUnit unit) =>
        [.. ways.Where(way => !way.Turned).Select(way => way with { Along = way.Along + ends.Beyond(saw.Kerf, unit) })];

    /// <summary>Cost of the angled cuts of one piece.</summary>
    public static Money Cost(Job job, Stock stock, Saw saw, EndAngles? ends) =>
        ends is null ? Money.Zero : CostModel.AngledCuts(job, stock, saw, ends);
}
