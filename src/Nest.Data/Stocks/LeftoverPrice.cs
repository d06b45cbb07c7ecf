using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Data.Stocks;

/// <summary>The value at which a leftover is carried when the rack gives none.</summary>
/// <remarks>A leftover that the job's rule for offcuts would keep is worth what the same piece would be credited at when cut from new
/// stock: the cheapest catalogue price (with price breaks the lowest, as for an offcut) per area (bars: per length) of stock of the same form, material and section, × its size × the
/// rule's fraction, rounded down. One that the rule would not keep, or that no catalogue stock is like, is worth its scrap. Never
/// below scrap. A plate is like another of the same nominal thickness; a leftover whose measured thickness is up to a millimetre
/// below a catalogue thickness is like that one.</remarks>
internal static class LeftoverPrice
{
    private static readonly Length Worn = Length.FromMillimetres(1m);

    public static Money Of(Stock leftover, Material material, IEnumerable<Stock> catalogue, IEnumerable<OffcutRule> rules)
    {
        var scrap = Money.FromAmountDown(leftover.PieceMass(material).Kilograms * material.ScrapPricePerKilogram);
        var rule = rules.FirstOrDefault(rule => rule.Matches(leftover));
        if (rule is null || !Keeps(rule, leftover))
        {
            return scrap;
        }

        decimal? rate = null;
        foreach (var stock in catalogue.Where(stock => !stock.IsLeftover && IsLike(leftover, stock)))
        {
            var size = stock.Form.IsBar() ? stock.MinLength.ToMetres() : (stock.MinLength * stock.MinWidth).ToSquareMetres();
            var per = stock.Terms.LowestPrice(stock.PiecePrice).Amount / size;
            rate = rate is { } least && least <= per ? rate : per;
        }

        if (rate is not { } cheapest)
        {
            return scrap;
        }

        var amount = leftover.Form.IsBar() ? leftover.MinLength.ToMetres() : (leftover.MinLength * leftover.MinWidth).ToSquareMetres();
        var value = Money.FromAmountDown(cheapest * amount * rule.Fraction);
        return value > scrap ? value : scrap;
    }

    private static bool Keeps(OffcutRule rule, Stock leftover) => leftover.Form.IsBar()
        ? leftover.Length >= rule.KeepLength
        : Length.Max(leftover.Length, leftover.Width) >= rule.KeepLength && Length.Min(leftover.Length, leftover.Width) >= rule.KeepWidth;

    private static bool IsLike(Stock leftover, Stock stock) =>
        stock.Form == leftover.Form
        && stock.Detail?.Key == leftover.Detail?.Key
        && string.Equals(stock.MaterialId, leftover.MaterialId, StringComparison.OrdinalIgnoreCase)
        && Near(leftover.Thickness, stock.Thickness)
        && (!stock.Form.IsBar() || Near(leftover.Width, stock.Width));

    private static bool Near(Length measured, Length nominal) => measured <= nominal && nominal - measured < Worn;
}
