using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The checker's own view of angled ends: who makes them, what they take and what they cost.</summary>
internal static class ExpectedEnds
{
    /// <summary>Whether the shop's saw makes the ends as they stay.</summary>
    public static bool AreSawn(Part part, Allowances given, Saw saw) =>
        !Machined(part, given) && saw.Id != Saw.SupplierId && Of(part.Ends).Any();

    private static bool Machined(Part part, Allowances given) =>
        given.EndCleanUp > Length.Zero || ((part.Round || part.Detail is not null) && part.Holding == Holding.Chuck && given.Grip > Length.Zero);

    /// <summary>What the cuts take along the bar.</summary>
    public static Length Room(EndAngles ends, Saw saw, LengthUnit unit) =>
        Of(ends).Aggregate(Length.Zero, (sum, angle) => sum + AngledCuts.Taken(angle, saw.Kerf, unit));

    /// <summary>What milling the bar's sides down to the part takes off the long points at most, in whole steps of the unit.</summary>
    /// <remarks>Worked out from the corners: the part may be milled from anywhere across the bar, so each long point may move by all
    /// that the bar is wider; the two move together where they are on one edge, one or the other where they are not.</remarks>
    public static Length Milled(EndAngles ends, Part part, Stock stock, LengthUnit unit)
    {
        var across = ends.AcrossThickness ? part.Thickness : part.Width;
        var rest = ends.AcrossThickness ? part.Width : part.Thickness;
        var kept = ends.AcrossThickness && !part.Round ? part.MillFaces && stock.GoodFaces : part.MillSides;
        if (part.Detail is not null)
        {
            return Length.Zero; // nothing is milled off a length of a section
        }

        Length[] sides = [stock.Width, stock.Thickness];
        var wider = Length.Zero;
        for (var side = 0; side < 2; side++)
        {
            if (kept && sides[side] == across)
            {
                return Length.Zero;
            }

            if (sides[side] >= across && sides[1 - side] >= rest && sides[side] - across > wider)
            {
                wider = sides[side] - across;
            }
        }

        var below = Corner(ends.Start, 1) + Corner(ends.End, 1);
        var above = Corner(ends.Start, -1) + Corner(ends.End, -1);
        return AngledCuts.UpToStep(below > above ? below : above, unit);

        Length Corner(Angle angle, int edge) => angle.Thousandths * edge > 0 ? AngledCuts.Slope(angle, wider) : Length.Zero;
    }

    /// <summary>The angles that are not square.</summary>
    public static IEnumerable<Angle> Of(EndAngles? ends) =>
        ends is null ? [] : new[] { ends.Start, ends.End }.Where(angle => angle != Angle.Square);

    /// <summary>The finished piece can be held while its ends are sawn: its shorter edge is long enough.</summary>
    public static void Held(PlanFacts facts, LayoutFacts one)
    {
        for (var index = 0; index < one.Layout.Pieces.Length; index++)
        {
            var part = facts.Parts[one.Layout.Pieces[index].PartId];
            if (one.Layout.Pieces[index].Ends is { } ends && AngledCuts.ShortEdge(ends, part) is var edge && edge < one.Saw.ShortestHeld)
            {
                facts.Add("held-too-short", one.Piece(index),
                    $"its shorter edge between the angled ends is {edge}; {one.Saw.Id} needs {one.Saw.ShortestHeld}");
            }
        }
    }
}
