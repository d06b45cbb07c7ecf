using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>The one cost model: what a stock piece cut by a layout costs.</summary>
/// <remarks>
/// cost = metal + saw + facing − value of kept offcuts − scrap value, each line rounded once (see <see cref="Money"/>).
/// <list type="bullet">
/// <item>Metal: price of the stock piece.</item>
/// <item>Saw: (minutes × hourly rate ÷ 60 + cuts × charge per cut), minutes = cuts × handling + cut section ÷ cut rate. Cut section =
/// length of the cut × nominal thickness (bar: the section's area). Cuts of a saw: one for each trimmed edge (left and right across
/// the whole sheet's Y, then bottom and top across the X that remains), and in the tree one between any two children of a Split and
/// one more behind the last child where it does not end flush. A cutter makes one cut per piece, as long as the piece's outline.</item>
/// <item>Facing: Σ of the pieces' extra cost (<see cref="FacingCost"/>).</item>
/// <item>Kept offcut: <see cref="OffcutValue"/>, by the job's rule.</item>
/// <item>Scrap: mass of the trims (less their kerf) and of the offcuts not kept, of a cutter: of all that is neither piece nor kept
/// offcut, × scrap price; thickness nominal, plan view of the smallest usable size; rounded down. On round bars the section's area.</item>
/// </list>
/// Pure; exact up to the one rounding per line.
/// </remarks>
public static class CostModel
{
    /// <summary>Cost of one stock piece cut by this layout.</summary>
    /// <param name="facing">Σ of the pieces' extra cost.</param>
    public static LayoutCost Cost(Job job, Stock stock, Saw saw, Layout layout, Money facing)
    {
        var work = SawWork.Of(saw, stock, layout);
        var credit = Money.Zero;
        foreach (var offcut in layout.Offcuts)
        {
            credit += offcut.Value;
        }

        return new(stock.PiecePrice, SawCost(job, stock, saw, work), facing, credit, ScrapCredit(job, stock, saw, layout));
    }

    /// <summary>Cost of this many cuts through this much section.</summary>
    public static Money SawCost(Job job, Stock stock, Saw saw, SawWork work) =>
        Money.FromAmount(
            (work.Minutes(saw, job.MaterialOf(stock.MaterialId).Family) * saw.HourlyRate / 60m) + (work.Cuts * saw.ChargePerCut));

    /// <summary>Value of an offcut of this size; not kept when zero.</summary>
    /// <param name="area">Offcut in plan view (bar: length × section width).</param>
    /// <param name="sheet">The stock piece's smallest usable size.</param>
    public static Offcut Judge(Job job, Stock stock, Rect area, Rect sheet)
    {
        var rule = job.OffcutRuleFor(stock);
        if (rule is null)
        {
            return new(area, false, Money.Zero);
        }

        var keep = stock.Form.IsBar()
            ? area.SizeX >= rule.KeepLength
            : Length.Max(area.SizeX, area.SizeY) >= rule.KeepLength && Length.Min(area.SizeX, area.SizeY) >= rule.KeepWidth;
        return new(area, keep, keep ? OffcutValue(stock, rule, area, sheet) : Money.Zero);
    }

    /// <summary>price × share of the sheet × fraction, rounded down.</summary>
    public static Money OffcutValue(Stock stock, OffcutRule rule, Rect area, Rect sheet) =>
        Money.FromAmountDown(
            stock.PiecePrice.Amount * (stock.IsLeftover ? rule.LeftoverFraction : rule.Fraction) * area.Area.ShareOf(sheet.Area));

    /// <summary>Cost of milling away, per piece, what the stock gives beyond the blank.</summary>
    /// <param name="excess">Plan area (or length) of the blank × excess, in cubic centimetres.</param>
    public static Money FacingCost(Job job, Material material, decimal excess) =>
        Money.FromAmount(excess / job.Mill.RateFor(material.Family) * job.Mill.HourlyRate / 60m);

    private static Money ScrapCredit(Job job, Stock stock, Saw saw, Layout layout)
    {
        var material = job.MaterialOf(stock.MaterialId);
        if (material.ScrapPricePerKilogram == 0m)
        {
            return Money.Zero;
        }

        return Money.FromAmountDown(ScrapMass(stock, material, saw, layout).Kilograms * material.ScrapPricePerKilogram);
    }

    /// <summary>Mass of the solid scrap of one stock piece.</summary>
    public static Mass ScrapMass(Stock stock, Material material, Saw saw, Layout layout)
    {
        var scrap = Area.Zero;
        if (saw.Kind == SawKind.Cutter)
        {
            scrap = layout.Sheet.Area;
            foreach (var piece in layout.Pieces)
            {
                scrap -= piece.Area.Area;
            }

            foreach (var offcut in layout.Offcuts)
            {
                scrap -= offcut.Keep ? offcut.Area.Area : Area.Zero;
            }
        }
        else
        {
            scrap += SolidTrims(saw, layout);
            foreach (var offcut in layout.Offcuts)
            {
                scrap += offcut.Keep ? Area.Zero : offcut.Area.Area;
            }
        }

        return MassOf(stock, material, scrap);
    }

    /// <summary>Mass of an area in plan view of this stock, nominal thickness; on bars by the section's area.</summary>
    public static Mass MassOf(Stock stock, Material material, Area plan)
    {
        if (!stock.Form.IsBar())
        {
            return Mass.Of(plan, stock.Thickness, material.Density);
        }

        // Plan view of a bar is length × smallest section width.
        var length = Length.FromNanometres((long)(plan.SquareNanometres / stock.MinWidth.Nanometres));
        return Mass.Of(stock.Section, length, material.Density);
    }

    private static Area SolidTrims(Saw saw, Layout layout)
    {
        var trims = layout.Trims;
        var solidX = Solid(trims.Left) + Solid(trims.Right);
        var solidY = Solid(trims.Bottom) + Solid(trims.Top);
        return (solidX * layout.Sheet.SizeY) + (solidY * layout.Usable.SizeX);

        Length Solid(Length trim) => Length.Max(Length.Zero, trim - saw.Kerf);
    }
}
