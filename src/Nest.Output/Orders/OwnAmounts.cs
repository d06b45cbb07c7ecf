using Nest.Core.Quantities;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>An order's amounts to the cent, in the supplier's own currency at the rate that the job states.</summary>
/// <remarks>Each line, the top-up and the delivery are (divided by the rate and) rounded to the cent, half away from zero; goods and
/// total are the sums of the rounded amounts, so that the sheet adds up. They may differ from the order's exact amounts, which have
/// four decimals, by half a cent for each amount.</remarks>
internal sealed class OwnAmounts
{
    private readonly SheetContext _context;

    /// <param name="home">In the job's currency, whatever the supplier's is.</param>
    public OwnAmounts(SheetContext context, Core.Plans.Order order, bool home = false)
    {
        _context = context;
        Currency = context.Job.Currency;
        if (!home && context.Job.SupplierOf(order.Supplier) is { Currency: { } currency, Rate: { } rate } && rate > 0m)
        {
            (Currency, Rate) = (currency, rate);
        }

        Lines = [.. order.Lines.Select(line => In(line.Cost))];
        TopUp = In(order.TopUp);
        Delivery = In(order.Delivery);
        Goods = Lines.Sum();
        Total = Goods + TopUp + Delivery;
        Tax = context.Job.Tax?.On(Total);
    }

    public string Currency { get; }

    /// <summary>What one unit is in the job's currency; null: it is the job's.</summary>
    public decimal? Rate { get; }

    public IReadOnlyList<decimal> Lines { get; }

    public decimal Goods { get; }

    public decimal TopUp { get; }

    public decimal Delivery { get; }

    public decimal Total { get; }

    /// <summary>On the total; null: the job names no tax.</summary>
    public decimal? Tax { get; }

    /// <summary>As <c>1 GBP = 1.16 EUR</c>.</summary>
    public string RateText =>
        $"1 {Currency} = {_context.Options.Numbers.Localize((Rate ?? 1m).ToString(System.Globalization.CultureInfo.InvariantCulture))} {_context.Job.Currency}";

    /// <summary>A price to a hundredth of a cent.</summary>
    public decimal Price(Money money) => Rate is { } rate ? decimal.Round(money.Amount / rate, 4) : money.Amount;

    public string Text(decimal amount) => $"{Currency} {_context.Options.Numbers.Number(amount, 2)}";

    private decimal In(Money money) => decimal.Round(money.Amount / (Rate ?? 1m), 2, MidpointRounding.AwayFromZero);
}
