using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>What a whole stock piece, at its smallest usable size, would be worth if it went back to the rack as a leftover, and as
/// scrap. Parts of it are worth their share of the plan area (on bars: length), each rounded down.</summary>
/// <param name="Keep">Piece price (with price breaks: the lowest, so that leaving metal is never a gain) × the rule's fraction, rounded down; never below <paramref name="Scrap"/>.</param>
/// <param name="Scrap">Nominal thickness (bar: section) × smallest usable size × density × scrap price, rounded down.</param>
public readonly record struct StockWorth(Money Keep, Money Scrap)
{
    public static StockWorth Of(Job job, Stock stock)
    {
        var material = job.MaterialOf(stock.MaterialId);
        var mass = stock.Form.IsBar()
            ? Mass.Of(stock.Section, stock.MinLength, material.Density)
            : Mass.Of(stock.MinLength * stock.MinWidth, stock.Thickness, material.Density);
        var scrap = Money.FromAmountDown(mass.Kilograms * material.ScrapPricePerKilogram);
        var rule = job.OffcutRuleFor(stock);
        var fraction = rule is null ? 0m : stock.IsLeftover ? rule.LeftoverFraction : rule.Fraction;
        var keep = Money.FromAmountDown(stock.Terms.LowestPrice(stock.PiecePrice).Amount * fraction);
        return new(keep > scrap ? keep : scrap, scrap);
    }

    /// <summary>worth × part ÷ whole, rounded down; exact integer arithmetic.</summary>
    public static Money Share(Money worth, Area part, Area whole) =>
        // Money units stay below 2^40 and areas below 2^70: the product fits 128 bits.
        Money.FromUnits((long)(worth.Units * part.SquareNanometres / whole.SquareNanometres));
}
