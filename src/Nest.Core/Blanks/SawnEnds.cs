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
/// <para>The bar is cut to the angles before its sides are milled. Where it is wider than the part, milling away one long side takes the long
/// points with it: the blank is longer by what that can cost at most (<see cref="Beyond"/>), wherever in the bar the part is milled from.</para>
/// </remarks>
internal static class SawnEnds
{
    /// <summary>The angles that are sawn; null: square.</summary>
    public static EndAngles? Of(Part part, Allowances allowances, Stock stock, Saw saw) =>
        part.Ends is { Cuts: > 0 } ends && stock.Form.IsBar() && saw.Id != Saw.SupplierId && AsSawn(part, allowances) ? ends : null;

    /// <summary>Whether the part's ends stay as the saw leaves them.</summary>
    public static bool AsSawn(Part part, Allowances allowances) => allowances.EndCleanUp == Length.Zero
        && !((part.Round || part.Detail is not null) && part.Holding == Holding.Chuck && allowances.Grip > Length.Zero);

    /// <summary>The ways along the bar, each with its angled cuts.</summary>
    public static ImmutableArray<PartWay> Ways(ImmutableArray<PartWay> ways, EndAngles ends, Part part, Stock stock, Saw saw, LengthUnit unit)
    {
        var beyond = Beyond(ends, part, stock, saw, unit);
        return [.. ways.Where(way => !way.Turned).Select(way => way with { Along = way.Along + beyond })];
    }

    /// <summary>What the blank is longer than the part: the angled cuts' kerf, and what milling the sides takes off the long points.</summary>
    /// <remarks>With both long points on one edge d milled away there costs d · (tan α + tan β); on opposite edges, of a wider bar's excess d,
    /// at most d · max(tan α, tan β). Rounded up to hundredths of a millimetre or thousandths of an inch (see <see cref="Angle.Taken"/>).</remarks>
    public static Length Beyond(EndAngles ends, Part part, Stock stock, Saw saw, LengthUnit unit)
    {
        var wider = Wider(ends, part, stock);
        var (start, end) = (ends.Start.Slope(wider), ends.End.Slope(wider));
        var sameEdge = ends.Start > Angle.Square == ends.End > Angle.Square;
        return ends.Beyond(saw.Kerf, unit) + Angle.RoundUp(sameEdge ? start + end : Length.Max(start, end), unit);
    }

    /// <summary>By how much the bar may be wider than the part, in the direction that the cuts run across, before its sides are milled.</summary>
    private static Length Wider(EndAngles ends, Part part, Stock stock)
    {
        if (part.Detail is not null)
        {
            return Length.Zero;
        }

        var (own, other) = ends.AcrossThickness ? (part.Thickness, part.Width) : (part.Width, part.Thickness);
        var (natural, swapped) = ends.AcrossThickness ? (stock.Thickness, stock.Width) : (stock.Width, stock.Thickness);
        var stays = ends.AcrossThickness && !part.Round ? part.MillFaces && stock.GoodFaces : part.MillSides;
        if (stays && (natural == own || swapped == own))
        {
            return Length.Zero;
        }

        // Lying either way in the section, where both can be.
        var asIs = natural >= own && swapped >= other ? natural - own : Length.Zero;
        return swapped >= own && natural >= other ? Length.Max(asIs, swapped - own) : asIs;
    }

    /// <summary>Cost of the angled cuts of one piece.</summary>
    public static Money Cost(Job job, Stock stock, Saw saw, EndAngles? ends) =>
        ends is null ? Money.Zero : CostModel.AngledCuts(job, stock, saw, ends);
}
