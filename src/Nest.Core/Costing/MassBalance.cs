using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>Where the metal of a plan goes. Taken = Bought + FromRack = Oversize + Blanks + Kept + Scrap + Chips, exactly.</summary>
/// <remarks>All at nominal thickness (bar: section). Each mass of a layout is rounded to a microgram, and the chips are what remains,
/// so that the balance is exact.</remarks>
/// <param name="Bought">Nominal mass of the stock to buy.</param>
/// <param name="FromRack">Nominal mass of the leftovers used.</param>
/// <param name="Oversize">What stock has nominally over its smallest usable size; it may be missing.</param>
/// <param name="Blanks">Blanks as sawn.</param>
/// <param name="Finished">Parts at finished size; <see cref="Blanks"/> less this is milled or turned away.</param>
/// <param name="Kept">Offcuts that go back to the rack, each with the raw edge that stays on it.</param>
/// <param name="Scrap">Trims that are cut off and offcuts not kept; of a cutter everything else, its chips included.</param>
/// <param name="Chips">What the saw turns into chips.</param>
public sealed record MassBalance(Mass Bought, Mass FromRack, Mass Oversize, Mass Blanks, Mass Finished, Mass Kept, Mass Scrap, Mass Chips)
{
    /// <summary>Nominal mass of all stock used.</summary>
    public Mass Taken => Bought + FromRack;

    public static MassBalance Of(Plan plan)
    {
        var sum = new MassBalance(default, default, default, default, default, default, default, default);
        var parts = plan.Job.Parts.DistinctBy(part => part.Id).ToDictionary(part => part.Id, StringComparer.Ordinal);
        foreach (var layout in plan.Layouts)
        {
            sum = Add(sum, One(plan, layout, parts), layout.Count);
        }

        return sum;
    }

    /// <summary>Where the metal of one stock piece goes.</summary>
    public static MassBalance Of(Plan plan, Layout layout) =>
        One(plan, layout, plan.Job.Parts.DistinctBy(part => part.Id).ToDictionary(part => part.Id, StringComparer.Ordinal));

    private static MassBalance One(Plan plan, Layout layout, Dictionary<string, Part> parts)
    {
        var stock = plan.StockOf(layout);
        var saw = plan.SawOf(layout);
        var material = plan.Job.MaterialOf(stock.MaterialId);
        var nominal = Rounded(stock.PieceMass(material));
        var usable = OfPlan(layout.Sheet.Area);
        var blanks = layout.Pieces.Aggregate(Mass.Zero, (mass, piece) => mass + OfPlan(piece.Area.Area));
        var trimmed = TrimmedEdges.Of(saw, stock, layout);
        var kept = layout.Offcuts.Aggregate(
            Mass.Zero, (mass, offcut) => offcut.Keep ? mass + OfPlan(trimmed.Metal(layout, offcut.Area).Area) : mass);
        var finished = layout.Pieces.Aggregate(Mass.Zero, (mass, piece) => mass + Finish(parts[piece.PartId], stock, material));
        var scrap = saw.Kind == SawKind.Cutter
            ? usable - blanks - kept
            : OfPlan(SawnMetal.Of(saw, stock, layout).Scrap);
        return new(
            stock.IsLeftover ? Mass.Zero : nominal,
            stock.IsLeftover ? nominal : Mass.Zero,
            nominal - usable,
            blanks,
            finished,
            kept,
            scrap,
            usable - blanks - kept - scrap);

        // Plan view of a bar is length × smallest section width.
        Mass OfPlan(Area area) => Rounded(stock.Form.IsBar()
            ? Mass.Of(stock.Section, Length.FromNanometres((long)(area.SquareNanometres / stock.MinWidth.Nanometres)), material.Density)
            : Mass.Of(area, stock.Thickness, material.Density));
    }

    private static Mass Finish(Part part, Stock stock, Material material)
    {
        var section = part.Detail is not null
            ? stock.Section
            : part.Round
            ? Area.FromSquareNanometres((Int128)((decimal)(part.Width * part.Width).SquareNanometres * 3.14159265358979323846m / 4m))
            : part.Width * part.Thickness;
        return Rounded(Mass.Of(section, part.Length * (part.Gang?.Parts ?? 1), material.Density));
    }

    private static Mass Rounded(Mass mass) => new(decimal.Round(mass.Kilograms, 9));

    private static MassBalance Add(MassBalance a, MassBalance b, int times) => new(
        a.Bought + (b.Bought * times),
        a.FromRack + (b.FromRack * times),
        a.Oversize + (b.Oversize * times),
        a.Blanks + (b.Blanks * times),
        a.Finished + (b.Finished * times),
        a.Kept + (b.Kept * times),
        a.Scrap + (b.Scrap * times),
        a.Chips + (b.Chips * times));
}
