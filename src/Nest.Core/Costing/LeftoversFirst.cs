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

    /// <summary>A note where a rule by age finds no leftover with a day: a rack that is a list has none, so the rule does nothing.</summary>
    public static IEnumerable<Finding> Notes(Job job)
    {
        if (job.UseFirst?.OlderThanDays is not null && job.Stocks.Where(stock => stock.IsLeftover).ToList() is { Count: > 0 } leftovers && leftovers.TrueForAll(stock => stock.Entered is null))
        {
            yield return new(
                Severity.Note, "leftovers-without-day", new("use_first_older_than_days"), "no leftover has a day on which it was entered, so none goes first by its age",
                "those of a list have none, those of the rack have: name them with use_first");
        }
    }

    private static Stock Priced(Job job, Stock stock)
    {
        var price = Money.Min(stock.PiecePrice, Money.Max(Money.FromUnits(stock.PiecePrice.Units / Part), StockWorth.Of(job, stock).Scrap));
        return stock with { UseFirst = true, PiecePrice = price, UnitPrice = price.Amount, PriceBasis = PriceBasis.Piece };
    }
}
