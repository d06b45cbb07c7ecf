using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output;

namespace Nest.Desk.Model;

/// <summary>An order in words.</summary>
internal static class OrderView
{
    public static string What(Plan plan, OrderLine line)
    {
        var stock = plan.Job.Stocks.First(one => one.Id == line.StockId);
        var size = StockSize.Text(stock, LengthFormat.For(plan.Job.Unit, plan.Job.InchFraction));
        return $"{stock.MaterialId} {size}{(stock.CutFor is { } part ? $", cut to size for {part}" : "")} ({stock.Id})";
    }

    public static IEnumerable<(string Name, string Amount)> Sums(Order order)
    {
        yield return ("Goods", Amount(order.Goods));
        if (order.TopUp > Money.Zero)
        {
            yield return ("Up to the smallest order", Amount(order.TopUp));
        }

        if (order.Delivery > Money.Zero)
        {
            yield return ("Delivery", Amount(order.Delivery));
        }

        yield return ("To pay", Amount(order.Total));
    }

    public static string Amount(Money money) => money.Amount.ToString("0.00", CultureInfo.InvariantCulture);
}
