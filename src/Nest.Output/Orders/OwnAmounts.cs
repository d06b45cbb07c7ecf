using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>An order's amounts in the supplier's own currency, at the rate that the job states.</summary>
/// <remarks>Each line, the top-up and the delivery are divided by the rate and rounded to the cent, half away from zero; goods and total
/// are the sums of the rounded amounts, so that the sheet adds up. It may differ from the order in the job's currency by half a cent
/// for each amount.</remarks>
internal sealed class OwnAmounts
{
    private readonly SheetContext _context;

    private OwnAmounts(SheetContext context, Core.Plans.Order order, string currency, decimal rate)
    {
        _context = context;
        Currency = currency;
        Rate = rate;
        Lines = [.. order.Lines.Select(line => In(line.Cost))];
        TopUp = In(order.TopUp);
        Delivery = In(order.Delivery);
    }

    public string Currency { get; }

    public decimal Rate { get; }

    public IReadOnlyList<decimal> Lines { get; }

    public decimal Goods => Lines.Sum();

    public decimal TopUp { get; }

    public decimal Delivery { get; }

    public decimal Total => Goods + TopUp + Delivery;

    /// <summary>As <c>1 GBP = 1.16 EUR</c>.</summary>
    public string RateText =>
        $"1 {Currency} = {_context.Options.Numbers.Localize(Rate.ToString(System.Globalization.CultureInfo.InvariantCulture))} {_context.Job.Currency}";

    /// <summary>Null where the supplier's currency is the job's.</summary>
    public static OwnAmounts? Of(SheetContext context, Core.Plans.Order order) =>
        context.Job.SupplierOf(order.Supplier) is { Currency: { } currency, Rate: { } rate } && rate > 0m
            ? new(context, order, currency, rate)
            : null;

    public decimal In(Money money) => decimal.Round(money.Amount / Rate, 2, MidpointRounding.AwayFromZero);

    public string Text(decimal amount) => $"{Currency} {_context.Options.Numbers.Number(amount, 2)}";
}
