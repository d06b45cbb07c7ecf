using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>One way in which a part lies in a stock, with all allowances.</summary>
/// <param name="Along">Needed along the stock's length.</param>
/// <param name="Across">Needed across (bar: of the section's width).</param>
/// <param name="Up">Needed of the stock's thickness.</param>
/// <param name="AcrossStays">Both surfaces across stay as the mill made them and nothing is added there.</param>
/// <param name="UpStays">The same of the thickness.</param>
/// <param name="Turned">The part's length (round: axis) does not lie along the stock's length.</param>
/// <param name="MayTurn">On plates: may also lie turned by a quarter.</param>
internal sealed record PartWay(
    Length Along, Length Across, Length Up, bool AcrossStays, bool UpStays, bool Turned, bool MayTurn)
{
    /// <summary>Of a round part whose axis lies along a bar: the section is a circle.</summary>
    public bool RoundSection { get; init; }

    /// <summary>The part is a length of a section, which must be this very one.</summary>
    public bool IsLength { get; init; }

    /// <summary>Of a round part: needed diameter.</summary>
    public Length Diameter { get; init; }

    /// <summary>Of a round part: needed length along its axis.</summary>
    public Length AxisNeed { get; init; }

    /// <summary>Plan area.</summary>
    public Area Plan => Along * Across;
}

/// <summary>The ways in which a part may lie in a stock, most natural first.</summary>
/// <remarks>
/// Plate: sawn sides carry side clean-up, faces their facing, and the grip is added to the thickness.
/// Bar: the two sawn ends carry end clean-up (a face that is sawn: the larger of facing and end clean-up); of the other two
/// dimensions, length and width carry side clean-up unless mill sides may stay, the thickness its facing unless good faces may stay.
/// A length of a section carries end clean-up alone. Of a hex bar only round parts are turned, with their axis along it.
/// A round bar gives no flat sides, so a flat part from it always carries all allowances.
/// The part's length lies along the stock unless it may turn. A part that may lie any way on plate (<see cref="Lie"/>) is also tried on its
/// edge and on its end: what is up then carries side clean-up for the plate's faces, the thickness is sawn.
/// </remarks>
internal static class PartWays
{
    /// <param name="facesStay">The part accepts the plate's faces as they are.</param>
    public static ImmutableArray<PartWay> OnPlate(Part part, Allowances allowances, bool facesStay)
    {
        var side = allowances.SideCleanUp * 2;
        var faces = facesStay ? Length.Zero : allowances.FaceTop + allowances.FaceBottom;
        if (!part.Round)
        {
            var flat = new PartWay(
                part.Length + side, part.Width + side, part.Thickness + faces + allowances.Grip, false,
                facesStay && allowances.Grip == Length.Zero, false, part.MayTurn);
            if (part.Lie != Lie.Any)
            {
                return [flat];
            }

            var sawn = part.Thickness + allowances.Grip + Length.Max(allowances.FaceTop, allowances.SideCleanUp)
                + Length.Max(allowances.FaceBottom, allowances.SideCleanUp);
            var onEdge = new PartWay(part.Length + side, sawn, part.Width + side, false, false, false, part.MayTurn);
            return part.MayTurn ? [flat, onEdge, new(part.Width + side, sawn, part.Length + side, false, false, false, true)] : [flat, onEdge];
        }

        var grip = part.Holding == Holding.Chuck ? allowances.Grip : Length.Zero;
        var diameter = part.Width + side;
        var length = part.Length + (allowances.EndCleanUp * 2) + grip;
        var lying = new PartWay(length, diameter, diameter, false, false, false, part.MayTurn)
        {
            Diameter = diameter,
            AxisNeed = length,
        };
        if (!part.MayTurn)
        {
            return [lying];
        }

        // A disc: the axis stands upright, and the plate's faces are its ends.
        var height = part.Length + faces + grip;
        return
        [
            lying,
            new(diameter, diameter, height, false, facesStay && grip == Length.Zero, true, true)
            {
                Diameter = diameter,
                AxisNeed = height,
            },
        ];
    }

    public static ImmutableArray<PartWay> OnBar(Part part, Allowances allowances, Stock stock) =>
        part.Detail is not null ? [AsLength(part, allowances)] : part.Round ? RoundOnBar(part, allowances, stock) : FlatOnBar(part, allowances, stock);

    /// <summary>A length of a section: only its ends are worked.</summary>
    public static PartWay AsLength(Part part, Allowances allowances) =>
        new(part.Length + (allowances.EndCleanUp * 2) + (part.Holding == Holding.Chuck ? allowances.Grip : Length.Zero), part.Width, part.Thickness, true, true, false, false)
        {
            IsLength = true,
        };

    private static ImmutableArray<PartWay> FlatOnBar(Part part, Allowances allowances, Stock stock)
    {
        var flats = stock.Form != Form.RoundBar;
        var sidesStay = part.MillSides && flats;
        var facesStay = part.MillFaces && stock.GoodFaces && flats;
        var side = sidesStay ? Length.Zero : allowances.SideCleanUp * 2;
        var ends = allowances.EndCleanUp * 2;
        var length = part.Length + side;
        var width = part.Width + side;
        var thickness = part.Thickness + allowances.Grip
            + (facesStay ? Length.Zero : allowances.FaceTop + allowances.FaceBottom);
        var thicknessStays = facesStay && allowances.Grip == Length.Zero;

        var ways = ImmutableArray.CreateBuilder<PartWay>();
        Add(part.Length + ends, width, sidesStay, thickness, thicknessStays, false);
        if (part.MayTurn && part.Lie != Lie.AsGiven)
        {
            Add(part.Width + ends, length, sidesStay, thickness, thicknessStays, true);
        }

        if (part.MayTurn && (part.Lie ?? Lie.Any) == Lie.Any)
        {
            var sawnFaces = Length.Max(allowances.FaceTop, allowances.EndCleanUp)
                + Length.Max(allowances.FaceBottom, allowances.EndCleanUp);
            Add(part.Thickness + allowances.Grip + sawnFaces, length, sidesStay, width, sidesStay, true);
        }

        return ways.ToImmutable();

        // The section may lie either way round in the bar.
        void Add(Length along, Length one, bool oneStays, Length other, bool otherStays, bool turned)
        {
            ways.Add(new(along, one, other, oneStays, otherStays, turned, false));
            ways.Add(new(along, other, one, otherStays, oneStays, turned, false));
        }
    }

    private static ImmutableArray<PartWay> RoundOnBar(Part part, Allowances allowances, Stock stock)
    {
        var round = stock.Form == Form.RoundBar;
        var stays = round && part.MillSides;
        var grip = part.Holding == Holding.Chuck ? allowances.Grip : Length.Zero;
        var diameter = part.Width + (stays ? Length.Zero : allowances.SideCleanUp * 2);
        var length = part.Length + (allowances.EndCleanUp * 2) + grip;
        var along = new PartWay(length, diameter, diameter, stays, stays, false, false)
        {
            RoundSection = round,
            Diameter = diameter,
            AxisNeed = length,
        };
        if (!part.MayTurn || round || stock.Form == Form.HexBar)
        {
            return [along];
        }

        // The axis stands across a flat or square bar: the bar's faces are the part's ends.
        var facesStay = part.MillFaces && stock.GoodFaces;
        var height = part.Length + grip + (facesStay ? Length.Zero : allowances.FaceTop + allowances.FaceBottom);
        var heightStays = facesStay && grip == Length.Zero;
        var sawn = part.Width + (allowances.EndCleanUp * 2);
        var across = new PartWay(sawn, diameter, height, false, heightStays, true, false)
        {
            Diameter = diameter,
            AxisNeed = height,
        };
        return [along, across, across with { Across = height, Up = diameter, AcrossStays = heightStays, UpStays = false }];
    }
}
