using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>What milling a blank costs because its stock is more than the blank needs, or, of several parts in one blank, all that the mill takes off.</summary>
internal static class MilledAway
{
    // As many digits as Stock.Section uses.
    private const decimal Pi = 3.14159265358979323846m;

    /// <summary>Metal of the finished parts in one blank, in cubic centimetres, where all that the mill takes off counts; null: only what the stock has over the blank does.</summary>
    public static decimal? Finished(Part part) => part.PerBlank is null ? null : Volume(part.Length * part.Width, part.Thickness) * (part.Gang?.Parts ?? 1);

    /// <summary>The cost, and for several parts in one blank the minutes to clamp it.</summary>
    /// <param name="way">How the part lies, without what angled cuts take.</param>
    /// <param name="finished">Of <see cref="Finished"/>.</param>
    public static Money Cost(Job job, Part part, Material material, Stock stock, PartWay way, decimal? finished)
    {
        var bar = stock.Form.IsBar();
        return finished is { } parts
            ? CostModel.FacingCost(job, material, Math.Max(0m, Volume(bar ? stock.Section : way.Across * stock.Thickness, way.Along) - parts)) + Handling(job, part)
            : CostModel.FacingCost(job, material, Excess(part, stock, way, bar));
    }

    // In cubic centimetres: what the stock nominally has over the blank.
    private static decimal Excess(Part part, Stock stock, PartWay way, bool bar)
    {
        if (way.IsLength)
        {
            return 0m;
        }

        var across = bar ? stock.Section : way.Across * stock.Thickness;
        if (part.Round)
        {
            // The axis lies along X, or upright or across: then the round shows in another view.
            var round = CircleArea(way.Diameter);
            var volume = way.Turned
                ? Volume(across, way.Along) - Volume(round, way.AxisNeed)
                : Volume(across - round, way.Along);
            return Math.Max(0m, volume);
        }

        return Math.Max(0m, Volume(across - (way.Across * way.Up), way.Along));
    }

    /// <summary>Clamping each blank, and setting the mill up for one of another size.</summary>
    private static Money Handling(Job job, Part part) =>
        Money.FromAmount(job.Mill.BlankMinutes * job.Mill.HourlyRate / 60m) + (part.Gang is { Rest: true } ? FussCosts.OfSize(job) : Money.Zero);

    private static decimal Volume(Area section, Length length) =>
        section.ToSquareCentimetres() * (length.Nanometres / 10_000_000m);

    private static Area CircleArea(Length diameter) =>
        Area.FromSquareNanometres((Int128)((decimal)(diameter * diameter).SquareNanometres * Pi / 4m));
}
