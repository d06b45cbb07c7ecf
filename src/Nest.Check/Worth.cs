using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The checker's own arithmetic of what metal and cuts are worth.</summary>
internal static class Worth
{
    /// <summary>The whole piece as a leftover: price × fraction, at least its scrap value.</summary>
    public static Money Keep(Job job, Stock stock, Material material)
    {
        var rule = RulesOffcuts.RuleFor(job, stock);
        var fraction = rule is null ? 0m : stock.RackMark is null ? rule.Fraction : rule.LeftoverFraction;
        var lowest = stock.Terms.Breaks.Select(step => step.PiecePrice.Units).Append(stock.PiecePrice.Units).Min();
        var keep = Amounts.Down(Money.FromUnits(lowest).Amount * fraction);
        var scrap = Scrap(stock, material);
        return keep.Units >= scrap.Units ? keep : scrap;
    }

    /// <summary>The whole piece as scrap, at its smallest usable size and nominal thickness or section.</summary>
    public static Money Scrap(Stock stock, Material material)
    {
        var (area, length) = stock.Form == Form.Plate
            ? (stock.MinLength * stock.MinWidth, stock.Thickness)
            : (ExpectedBlanks.Whole(stock), stock.MinLength);
        var kilograms = area.ToSquareMetres() * length.ToMetres() * material.Density;
        return Amounts.Down(kilograms * material.ScrapPricePerKilogram);
    }

    /// <summary>Share of a whole piece's worth by area, rounded down.</summary>
    public static Money Share(Money worth, Area part, LayoutFacts one)
    {
        var sheet = (Int128)one.Layout.Sheet.SizeX.Nanometres * one.Layout.Sheet.SizeY.Nanometres;
        return Money.FromUnits((long)(worth.Units * part.SquareNanometres / sheet));
    }

    /// <summary>Square centimetres that the saw cuts per minute in this material.</summary>
    public static decimal CutRate(Saw saw, Material material)
    {
        foreach (var rate in saw.CutRates)
        {
            if (rate.Family.Equals(material.Family, StringComparison.OrdinalIgnoreCase))
            {
                return rate.SquareCentimetresPerMinute;
            }
        }

        return saw.DefaultCutRate;
    }

    /// <summary>Cost of some cuts through some section in all.</summary>
    public static Money Sawing(Saw saw, Material material, int cuts, Area section)
    {
        var minutes = (cuts * saw.HandlingMinutes) + (section.ToSquareCentimetres() / CutRate(saw, material));
        return Amounts.Nearest((minutes * saw.HourlyRate / 60m) + (cuts * saw.ChargePerCut));
    }
}
