using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>What one blank costs on one stock, before there is a plan.</summary>
public static class BlankCost
{
    /// <summary>Metal and milling of one blank: its share of the stock's area (of a bar: length) at the stock's price, what is milled away beyond the blank, and
    /// angled cuts. Kerf, trims, leftovers, settings and orders belong to a plan. Pure, O(1).</summary>
    public static Money Of(BlankFit fit, Stock stock)
    {
        var share = stock.Form.IsBar()
            ? (decimal)fit.SizeX.Nanometres / stock.Length.Nanometres
            : (decimal)(fit.SizeX * fit.SizeY).SquareNanometres / (decimal)(stock.Length * stock.Width).SquareNanometres;
        return Money.FromAmount(stock.PiecePrice.Amount * share) + fit.ExtraCost + fit.AngledCuts;
    }
}
