using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>The one cost model: what a stock piece cut by a layout costs.</summary>
/// <remarks>
/// cost = metal + saw + facing − value of kept offcuts − scrap value.
/// <list type="bullet">
/// <item>Metal: price of the stock piece.</item>
/// <item>Saw, bars: cuts × cost of one cut (rounded once per cut). Cuts = one per piece (each is cut to the stop; at a clean end too,
/// where the cut takes off what the bar is longer), and one more where both ends are raw. An angled end is one more cut, through
/// section ÷ cos (rounded up to whole nm²).</item>
/// <item>Saw, plates: minutes × hourly rate ÷ 60 + cuts × charge per cut, rounded once per layout; minutes = cuts × handling + cut
/// section ÷ cut rate; cut section = length of the cut × nominal thickness. Cuts: one for each edge that is cut off
/// (<see cref="TrimmedEdges"/>; left and right across the whole sheet's Y, then bottom and top across the X that remains), and in the tree
/// one between any two children of a Split and one more behind the last child where it does not end flush, each as long as the metal
/// is there. A cutter makes one cut per piece, as long as the piece's outline.</item>
/// <item>Fetching, loading and labelling a piece of stock that is cut: <see cref="Saw.LoadMinutes"/> × hourly rate ÷ 60, rounded once; part of
/// the saw cost.</item>
/// <item>Settings of fence and stop are paid once per layout, whatever its count: <see cref="SettingCosts"/>.</item>
/// <item>Lines and suppliers of orders, and further sizes of blanks: <see cref="FussCosts"/>.</item>
/// <item>Facing: Σ of the pieces' extra cost (<see cref="FacingCost"/>, rounded per piece).</item>
/// <item>Kept offcut: its share of <see cref="StockWorth.Keep"/>, by plan area of the sheet (smallest usable size), rounded down.</item>
/// <item>Scrap: each trim's zone (less a kerf, saws only), whether it is cut off or stays on the rest, and each offcut not kept: its share
/// of <see cref="StockWorth.Scrap"/>, each rounded down. A cutter: one piece of scrap, all that is neither blank nor kept offcut.</item>
/// </list>
/// Pure and exact up to the roundings named.
/// </remarks>
public static class CostModel
{
    /// <summary>Cost of one stock piece cut by this layout.</summary>
    /// <param name="facing">Σ of the pieces' extra cost.</param>
    public static LayoutCost Cost(Job job, Stock stock, Saw saw, Layout layout, Money facing)
    {
        var credit = Money.Zero;
        foreach (var offcut in layout.Offcuts)
        {
            credit += offcut.Value;
        }

        var worth = StockWorth.Of(job, stock);
        return new(stock.PiecePrice, SawCost(job, stock, saw, layout), facing, credit, ScrapCredit(worth, saw, layout));
    }

    /// <summary>Cost of one cut through a bar.</summary>
    public static Money BarCut(Job job, Stock stock, Saw saw) => Cut(job, stock, saw, stock.Section);

    /// <summary>Cost of the angled cuts of one piece.</summary>
    public static Money AngledCuts(Job job, Stock stock, Saw saw, EndAngles ends)
    {
        return One(ends.Start) + One(ends.End);

        Money One(Angle angle) => angle.IsSquare ? Money.Zero : Cut(job, stock, saw, SawWork.Angled(stock, angle));
    }

    private static Money Cut(Job job, Stock stock, Saw saw, Area section)
    {
        var minutes = saw.HandlingMinutes
            + (section.ToSquareCentimetres() / saw.RateFor(job.MaterialOf(stock.MaterialId).Family));
        return Money.FromAmount((minutes * saw.HourlyRate / 60m) + saw.ChargePerCut);
    }

    /// <summary>Cost of fetching, loading and labelling one piece of stock.</summary>
    public static Money Loading(Saw saw) => Money.FromAmount(saw.LoadMinutes * saw.HourlyRate / 60m);

    /// <summary>Cost of sawing one stock piece by this layout, loading it included.</summary>
    public static Money SawCost(Job job, Stock stock, Saw saw, Layout layout) =>
        Cutting(job, stock, saw, layout) + (layout.Pieces.IsEmpty ? Money.Zero : Loading(saw));

    private static Money Cutting(Job job, Stock stock, Saw saw, Layout layout)
    {
        var work = SawWork.Of(saw, stock, layout);
        if (!stock.Form.IsBar())
        {
            return Money.FromAmount(
                (work.Minutes(saw, job.MaterialOf(stock.MaterialId).Family) * saw.HourlyRate / 60m)
                + (work.Cuts * saw.ChargePerCut));
        }

        var angled = Money.Zero;
        var square = work.Cuts;
        foreach (var ends in layout.Pieces.Select(piece => piece.Ends).OfType<EndAngles>())
        {
            square -= ends.Cuts;
            angled += AngledCuts(job, stock, saw, ends);
        }

        return (BarCut(job, stock, saw) * square) + angled;
    }

    /// <summary>Whether an offcut of this size is kept, and its value.</summary>
    /// <param name="area">Offcut in plan view (bar: length × section width).</param>
    /// <param name="sheet">The stock piece's smallest usable size.</param>
    public static Offcut Judge(Job job, Stock stock, Rect area, Rect sheet)
    {
        var rule = job.OffcutRuleFor(stock);
        var keep = rule is not null && (stock.Form.IsBar()
            ? area.SizeX >= rule.KeepLength
            : Length.Max(area.SizeX, area.SizeY) >= rule.KeepLength && Length.Min(area.SizeX, area.SizeY) >= rule.KeepWidth);
        return new(area, keep, keep ? StockWorth.Share(StockWorth.Of(job, stock).Keep, area.Area, sheet.Area) : Money.Zero);
    }

    /// <summary>Cost of milling away, per piece, what the stock gives beyond the blank.</summary>
    /// <param name="excess">In cubic centimetres.</param>
    public static Money FacingCost(Job job, Material material, decimal excess) =>
        Money.FromAmount(excess / job.Mill.RateFor(material.Family) * job.Mill.HourlyRate / 60m);

    /// <summary>Scrap value of the solid rest of one stock piece.</summary>
    public static Money ScrapCredit(StockWorth worth, Saw saw, Layout layout)
    {
        var credit = Money.Zero;
        foreach (var scrap in ScrapAreas(saw, layout))
        {
            credit += StockWorth.Share(worth.Scrap, scrap, layout.Sheet.Area);
        }

        return credit;
    }

    /// <summary>Plan areas that are credited as scrap; where the metal really goes says <see cref="SawnMetal"/>.</summary>
    public static IEnumerable<Area> ScrapAreas(Saw saw, Layout layout)
    {
        if (saw.Kind == SawKind.Cutter)
        {
            var rest = layout.Sheet.Area;
            foreach (var piece in layout.Pieces)
            {
                rest -= piece.Area.Area;
            }

            foreach (var offcut in layout.Offcuts)
            {
                rest -= offcut.Keep ? offcut.Area.Area : Area.Zero;
            }

            yield return rest;
            yield break;
        }

        var trims = layout.Trims;
        yield return Solid(trims.Left) * layout.Sheet.SizeY;
        yield return Solid(trims.Right) * layout.Sheet.SizeY;
        yield return Solid(trims.Bottom) * layout.Usable.SizeX;
        yield return Solid(trims.Top) * layout.Usable.SizeX;
        foreach (var offcut in layout.Offcuts)
        {
            if (!offcut.Keep)
            {
                yield return offcut.Area.Area;
            }
        }

        Length Solid(Length trim) => Length.Max(Length.Zero, trim - saw.Kerf);
    }
}
