using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>A line of an order as the supplier reads it: pieces cut to size that are the same to him are one line, whatever parts they become.</summary>
/// <param name="Stock">One of the stocks of the line.</param>
/// <param name="Amount">In the order's currency, to the cent.</param>
/// <param name="For">Parts that pieces cut to size are for, and how many of each; empty: stock.</param>
/// <param name="Along">The side that must lie along the rolling direction; null: it does not matter.</param>
internal sealed record OrderItem(Stock Stock, int Count, decimal Amount, ImmutableArray<(string Part, int Count)> For, Length? Along)
{
    /// <summary>The items of an order, in its order.</summary>
    public static ImmutableArray<OrderItem> Of(SheetContext context, Core.Plans.Order order, OwnAmounts own)
    {
        var items = order.Lines.Select((line, at) =>
        {
            var stock = context.StockOf(line);
            ImmutableArray<(string, int)> parts = stock.CutFor is { } part ? [(part, line.Count)] : [];
            return new OrderItem(stock, line.Count, own.Lines[at], parts, AlongOf(context, stock));
        });
        return
        [
            .. items.GroupBy(item => item.Stock.CutFor is null
                    ? (object)item.Stock.Id
                    : (item.Stock.Form, item.Stock.MaterialId, item.Stock.Length, item.Stock.Width, item.Stock.Thickness, item.Stock.PiecePrice, item.Along))
                .Select(same => same.First() with
                {
                    Count = same.Sum(item => item.Count), Amount = same.Sum(item => item.Amount), For = [.. same.SelectMany(item => item.For)],
                }),
        ];
    }

    /// <summary>What the pieces are for: <c>dropout left</c>, or <c>6 × dropout left, 11 × dropout right</c>.</summary>
    public string Parts(SheetContext context) => For is [var one]
        ? one.Part
        : string.Join(", ", For.Select(part => $"{SheetContext.Fill(context.Texts.Times, part.Count)} {part.Part}"));

    /// <summary>Cost of one piece to the cent, in the order's currency.</summary>
    public decimal Each => decimal.Round(Amount / Count, 2, MidpointRounding.AwayFromZero);

    // A part that may not be turned lies with its length along the rolling direction, and so does its blank.
    private static Length? AlongOf(SheetContext context, Stock stock) =>
        stock is { CutFor: { } part, Form: Form.Plate } && stock.Length != stock.Width && !context.Part(part).MayTurn ? stock.Length : null;
}
