using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>Makes leftovers that are to be used up first nearly free: then every plan that saves anything by them uses them, and the bound
/// knows it.</summary>
/// <remarks>Price: a tenth of the value, but never less than its scrap, or to saw it up would be a gain. What is cut off it again and kept is
/// worth as little, so nothing of it is kept for its own sake. A leftover that would cost more at the saw than it saves stays. Pure; twice is as
/// once. O(stocks · names).</remarks>
public static class LeftoversFirst
{
    private const long Part = 10;

    /// <param name="today">For the age of leftovers; null: only those that are named.</param>
    public static Job Apply(Job job, DateOnly? today) => job.UseFirst is not { } first ? job : job with
    {
        Stocks = [.. job.Stocks.Select(stock => !stock.UseFirst && first.Means(stock, today) ? Priced(job, stock) : stock)],
    };

    private static Stock Priced(Job job, Stock stock)
    {
        var price = Money.Min(stock.PiecePrice, Money.Max(Money.FromUnits(stock.PiecePrice.Units / Part), StockWorth.Of(job, stock).Scrap));
        return stock with { UseFirst = true, PiecePrice = price, UnitPrice = price.Amount, PriceBasis = PriceBasis.Piece };
    }
}
